//! Printed wraps: how long, in how many strips, where they join, and what is printed on them.
//!
//! In: the resolved cake. Out: one [`WrapPlan`] a wrap (length, repeat, strips, seams, resolution), its findings, and its
//! bodies with the printed face. In this order: `repeat` closes the pattern, `strips` cuts the length, `exposure` says how
//! visible a seam is, `mismatch` settles the art on the seams, `plan` joins them.
//!
//! ```text
//!   -L/2 (back)            0 (front)             +L/2 (back)
//!    |------ strip 3 --|---- strip 1 ----|-- strip 2 ------|
//!                    seam              seam             seam
//! ```

mod bodies;
mod exposure;
mod face;
mod mismatch;
mod plan;
mod repeat;
mod strips;

pub use bodies::bodies;
pub use exposure::{CourseSight, Onlookers, exposure_words};
pub use face::{Layout, layout, paint};
pub use plan::{Seam, Strip, WrapPlan, plan};
pub use repeat::Repeat;

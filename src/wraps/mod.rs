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
mod paint;
mod plan;
mod repeat;
mod strips;

pub use bodies::bodies;
pub use exposure::{CourseSight, Onlookers, exposure_words};
pub use face::{Face, Layout, layout};
pub use paint::{Window, paint, paint_window};
pub use plan::{Seam, Strip, WrapPlan, plan, resolution};
pub use repeat::Repeat;

//! Printed wraps: how long, in how many strips, where they join, and what is printed on them.
//!
//! In: the resolved cake. Out: one [`WrapPlan`] a wrap (length, repeat, strips, seams, resolution), its findings, and its
//! bodies with the printed face. In this order: `repeat` closes the pattern, `way` asks what a sheet yields, `exposure` says how
//! visible a seam is, `lay` lays the course out as places that may hold one, `planner` chooses among them by `weights`,
//! `mismatch` settles the art on the seams, `under` joins the paste beneath, `plan` holds it all, `judge` says what is wrong
//! and `impossible` what would have to give way.
//!
//! ```text
//!   -L/2 (back)            0 (front)             +L/2 (back)
//!    |------ strip 3 --|---- strip 1 ----|-- strip 2 ------|
//!                    seam              seam             seam
//! ```

mod bodies;
mod exposure;
mod face;
mod impossible;
mod in_sight;
mod joins;
mod judge;
mod lay;
mod mismatch;
mod paint;
mod plan;
mod planner;
mod repeat;
mod under;
mod way;
mod weights;

pub use bodies::{PrintKeep, bodies};
pub use exposure::{CourseSight, Onlookers, exposure_words};
pub use face::{Face, Layout, layout};
pub use in_sight::seams_in_sight;
pub use joins::{End, Join, Meets, ends, joins};
pub use judge::resolution;
pub use paint::{Window, paint, paint_window};
pub use plan::{Seam, Strip, WrapPlan, plan, plan_before};
pub use repeat::Repeat;
pub use under::UnderStrip;

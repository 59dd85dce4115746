//! The bench: a design being worked on, with everything that follows from it, at two speeds.
//!
//! ```text
//!   Edit ──▶ History ──▶ design ──resolve──▶ cake, clashes          at once, each frame of a drag
//!                          └──▶ Job ──run, on any thread──▶ Work    seams, sheets, checks, facts: after the gesture
//! ```
//!
//! [`Workbench`] is the one value that the editor's window keeps; panels read it, and everything that changes it goes through
//! its methods. Whoever follows it (the scene, the tape's drawing, the journal) compares [`Versions`] with those seen last. No clock,
//! no thread: the window gives the time, runs the [`Job`] where it likes, and hands the outcome to [`Workbench::take`].

mod follow;
mod job;
mod seams;
mod workbench;

pub use job::{Done, Job};
pub use seams::ShownSeam;
pub use workbench::{Versions, Workbench};

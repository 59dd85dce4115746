//! The resolved cake: every outline, course and piece with its place, in millimetres.
//!
//! In: a design and its art. Out: a [`Cake`], and from it its [`Body`]s. In this order: `tier` stands the tiers on one
//! another, `course` lays the courses up their sides, `pieces` gives every kind its size and
//! form (asking its `ground` where it must; `shortfall` says what doesn't fit), `place` finds where each sits (`seat` on tiers and board, `rest` on another piece,
//! `lean` for rods), `bodies` makes the solids (`keep` those alone that changed). Pure: the same design and art always give the same cake.
//!
//! ```text
//!        +Y up                frame: origin at the centre of the board's top face
//!         |    tier 2
//!      +--|--+   |            a tier's own frame: origin at the centre of its foot, turned with it
//!   +--|--|--|--+             a piece's own frame: origin at its seat point
//!   |   tier 1  |
//! ==+=====+=====+==  board    +X to the customer's right, +Z towards the customer
//! ```

#[cfg(test)]
mod agree;
mod art_notes;
mod bodies;
mod body;
mod course;
pub mod extent;
mod ground;
mod keep;
mod lean;
mod piece;
pub mod pieces;
mod place;
mod resolve;
mod rest;
mod seat;
pub mod shadow;
mod shortfall;
pub mod solids;
mod tier;

pub use bodies::bodies;
pub use body::{Body, Owner, Surface, corners};
pub use course::{CakeCourse, lines_out, pearl_count, volumes as course_volumes};
pub use keep::Keep;
pub use lean::Lean;
pub use piece::{CakePiece, Lie, SidePlace};
pub use resolve::{Cake, CakeBoard, CakeError, resolve, resolve_after};
pub use tier::CakeTier;

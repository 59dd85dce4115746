//! First sizes: what a new tier, course or piece is like on *this* cake, before anybody has changed it.
//!
//! Shares of the width and height of what it goes on, from `assets/tables/first_sizes.csv`, rounded to what a ruler shows. Only
//! these keys are set; all others have the defaults of the document.

mod holds;
mod piece;
mod room;
mod tier;

pub(super) use holds::{first_picks, first_stick};
pub(super) use piece::first_piece;
pub use piece::{NewKind, NewPiece};
pub use room::on_ruler;
pub use tier::NewCourse;
pub(super) use tier::{first_course, first_tier};

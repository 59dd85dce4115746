//! The editor without its window: what a person does to a design, as values.
//!
//! ```text
//!   pointer, keys ──▶ choose (what is under it) ──▶ drag (with snap, readout) ──▶ Edit ─┐
//!   cards, stack  ─────────────────────────────────────────────────────────────▶ Edit ─┤
//!                                                                                      ▼
//!            screen ◀── cake ◀── Arc<Design> ◀── History (undo, one step a gesture) ◀── apply
//!                                     └────────▶ Journal (saved by itself, recovered after a crash)
//! ```
//!
//! Nothing here reads a clock, opens a window or keeps a global: time is a parameter (since the program began), and the
//! state is a [`bench::Workbench`] (the [`History`] with all that follows from it) and a [`Journal`], which a window keeps side by
//! side.
//!
//! * A card shows a value of the document, changes a copy and gives `Edit::Piece(name, PieceEdit::Form(copy))` back. A
//!   refusal says a sentence and a mend; the text stays in the field, the cake keeps its last good value.
//! * While a field is typed in, or something is dragged, [`History::hold`] shows each state; [`History::drop_gesture`]
//!   makes one step of them, [`History::cancel_gesture`] (Escape) none.
//! * A pointer makes a [`choose::Ray`]; [`choose::choose`] says what it meets, [`drag::Drag`] turns its movement into edits,
//!   [`snap::readout`] says where the piece then is. The tape drawing does the same with [`choose::on_tape`].
//! * *Measured it?* tries [`TierEdit::Measured`] with [`apply`], resolves both designs, and shows [`measured::changes`].
//! * Pictures come in by [`bring_in`], which gives the path for [`PieceEdit::Art`], [`NewKind::Topper`] and the like;
//!   [`dropped`] says what dropping one on something does.
//! * [`consequences`] says what else an edit did: what went along with something deleted.

mod accept;
mod art;
pub mod bench;
pub mod choose;
mod course;
mod delete;
pub mod drag;
mod dropped;
mod edit;
mod first;
mod history;
pub mod journal;
mod labels;
pub mod measured;
pub mod mend;
mod named;
mod names;
mod piece;
mod refusal;
mod resize;
pub mod snap;
mod tier;
mod whole;

pub use art::bring_in;
pub use course::CourseEdit;
pub use delete::{consequences, seat_words};
pub use dropped::dropped;
pub use edit::{CourseName, Edit, apply};
pub use first::{NewCourse, NewKind, NewPiece, on_ruler};
pub use history::{History, MOST_BYTES, MOST_STEPS};
pub use journal::Journal;
pub use labels::label;
pub use named::NamedEdit;
pub use names::free_name;
pub use piece::{Copy, PieceEdit, middle};
pub use refusal::Refusal;
pub use resize::{Resize, has_free_sides, main_finish, resized, sizes};
pub use snap::{nudge_step, ruler_step};
pub use tier::TierEdit;
pub use whole::WholeEdit;

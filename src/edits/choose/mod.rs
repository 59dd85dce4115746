//! Choosing: what is under the pointer, on the cake or on the tape.
//!
//! ```text
//!   Ray (cake's frame) ──▶ Touch: the real bodies in a tree ──▶ Hit ──▶ Choice: what it is, the place on it as a seat
//!   place on the tape ───▶ on_tape: outlines of pieces, seams, courses ─┘
//! ```
//!
//! Everything is called by name ([`Thing`]), so that a selection outlives the cake it was made on. Distances on the tape are
//! given by the caller in mm, as only the window knows how large a millimetre is on the screen.

mod handles;
mod hit;
mod on_tape;
mod thing;
mod touch;

pub(super) use handles::Stance;
pub use handles::{Grip, Handle, handle_on_tape, handle_under, handles};
pub(super) use hit::place_of;
pub use hit::{Choice, Place, choose};
pub(super) use on_tape::{distance, to_side};
pub use on_tape::{on_tape, outline_on_seat};
pub use thing::Thing;
pub(super) use thing::placed;
pub use touch::{Hit, Ray, Touch};

//! The journal: a design saves itself, survives a crash or a cut of power, and never writes over what another wrote.
//!
//! ```text
//!   changed ──300 ms──▶ recovery copy beside the design ──after 700 ms of rest──▶ cake.toml ──▶ copy removed
//!                                                            │ changed by another meanwhile?
//!                                                            └──▶ Conflict: take theirs, or keep mine beside it
//! ```
//!
//! Both files are written whole or not at all and brought to the disk, so that a cut of power at any moment leaves the old
//! or the new. [`Journal::open`] looks for a copy that was left behind and says what it recovered. A lock on a side file tells
//! a second opening, which then only reads. What can't be written (the disk is full, the folder is gone or read-only) is said
//! in one sentence, kept in memory and in a refuge elsewhere, and tried again.
//!
//! Time is a parameter: the time since the program began. Writing waits for the disk, so a window keeps its journal in a
//! thread of its own; [`Journal::next`] says until when it may sleep.

mod copy;
mod opening;
mod saving;
mod store;
mod trouble;

pub use opening::{JournalError, Opened};
pub use saving::{Journal, State};
pub use store::{Disk, Store};
pub use trouble::Trouble;

//! The editor's window: the engine, the panels and the threads behind them, held together.
//!
//! ```text
//!   pointer ──▶ view (hand, marks) ───────┐                        ┌─▶ saver: journal, in a thread of its own
//!                                        ├─▶ Workbench ─ follow ──┼─▶ worker: seams, checks, facts
//!   panels ──▶ wishes (errands, folders) ┘                        ├─▶ scene: moving picture, darkroom for the still
//!                                                                 └─▶ maker: packs
//! ```
//!
//! [`open`] starts it. `app` gives the engine its systems; `room` is the one value that they share; `frame` draws panels and cake; `errands`
//! does what panels can't do themselves. Nothing here waits for a disk, a plan or a picture: each has a thread, which wakes the
//! window when it has something. At rest nothing is drawn and nothing runs.

mod app;
mod chords;
mod errands;
mod folders;
mod follow;
mod frame;
mod hand;
mod likes;
mod maker;
mod marks;
mod open;
mod pictures;
mod recent;
mod room;
mod saver;
mod view;
mod wake;
mod worker;

pub use app::{Setting, WindowError, open};
pub use follow::Followed;
pub use maker::{Make, Order};

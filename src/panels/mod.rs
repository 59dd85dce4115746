//! The editor's panels, without a window round them: plain functions from what there is to see to what the person wishes.
//!
//! ```text
//!   Workbench, file, packs ──▶ Look ──▶ panels: fn(&mut Ui, &Look, &mut Memo) ──▶ [Wish]
//!        ▲                                        │ Memo: what a field holds while typed,
//!        └── serve (edits, undo, choice) ◀── Wish │ which side the tape shows
//!            the window (files, packs, views) ◀───┘
//! ```
//!
//! ```text
//!   +--------------------------------------------------+
//!   | bar: the design, undo, views, packs              |
//!   +---------+-----------------------------+----------+
//!   | stack:  |                             | card:    |
//!   | topper  |          the cake           | what is  |
//!   | …       |      (left to the window)   | chosen   |
//!   | board   +-----------------------------+          |
//!   |         | tape: the chosen side       |          |
//!   +---------+-----------------------------+----------+
//!   | foot: overall, portions, findings, saved, revision|
//!   +--------------------------------------------------+
//! ```
//!
//! No panel changes a design, reads a file of one, or knows of the engine. [`theme`] has the only colours, [`words`] every label.

mod bar;
mod card;
mod dialogs;
mod foot;
mod frame;
mod keys;
mod look;
mod measured;
mod proportion;
mod serve;
mod signs;
mod stack;
mod start;
mod tape;
mod texture;
pub mod theme;
mod told;
mod typing;
mod wish;
pub mod words;

pub use card::card;
pub use foot::foot;
pub use frame::{Shown, editor, editor_over, start_over};
pub use look::{Desk, Entrance, Look, Making, Memo, Recent, Said};
pub use measured::measured;
pub use serve::serve;
pub use stack::stack;
pub use start::start;
pub use tape::tape;
pub use texture::texture;
pub use theme::{Motion, SCALES, Scheme, Settings};
pub use told::told;
pub use wish::{ForArt, Pack, Wish};

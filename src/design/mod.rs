//! The design document: `cake.toml` in, a [`Design`] out, and back again.
//!
//! `fields` describes the document once, as data; `read` checks a file against it, `write` puts a design back into its
//! file, `accept` holds a changed design to the same rules, `mentions` finds and renames what is named, `schema` and `guide` tell
//! others about it. `tree` is the form in which they hand it to one another.

mod accept;
mod art_paths;
mod compare;
mod complete;
mod fields;
mod guide;
mod hint;
mod known;
mod leaf;
mod mentions;
pub mod model;
mod problem;
mod read;
mod revision;
mod schema;
pub mod starters;
mod text;
mod tree;
mod write;

pub use accept::accept;
pub use art_paths::art_problems;
pub use compare::{Difference, compare};
pub(crate) use complete::{new_course, new_piece};
pub(crate) use fields::Names;
pub use guide::guide;
pub use known::{known_finishes, known_sheets};
pub(crate) use mentions::{differences, mentions, renamed};
pub use model::{Design, Look};
pub use problem::{Problem, Problems};
pub use read::{LARGEST_FILE, read_design};
pub use revision::{Revision, revision};
pub use schema::schema;
pub(crate) use tree::{Table, Value};
pub use write::write_design;

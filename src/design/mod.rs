//! The design document: `cake.toml` in, a [`Design`] out, and back again.
//!
//! `fields` describes the document once, as data; `read` checks a file against it, `write` puts a design back into its
//! file, `accept` holds a changed design to the same rules, `mentions` finds and renames what is named, `schema` and `guide` tell
//! others about it. `tree` is the form in which they hand it to one another; `blanks` and `typed` are for
//! the cards, which show any part of a design by its description.

mod accept;
mod art_paths;
#[cfg(feature = "panels")]
mod blanks;
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
#[cfg(feature = "panels")]
mod typed;
mod write;

pub use accept::accept;
pub use art_paths::art_problems;
#[cfg(feature = "panels")]
pub(crate) use blanks::{
    blanks_of, filled_in, filled_in_course, filled_in_piece, is_asked, shape_of, shape_of_all, shape_of_course, tidied,
};
pub use compare::{Difference, compare};
pub(crate) use complete::{new_course, new_piece};
pub(crate) use fields::Names;
#[cfg(feature = "panels")]
pub(crate) use fields::{Bound, Field, Form as TextForm, Kind, Need, Shape};
pub use guide::guide;
pub use known::{known_finishes, known_sheets};
pub(crate) use mentions::{differences, mentions, renamed};
pub use model::{Design, Look};
pub use problem::{Problem, Problems};
pub use read::{LARGEST_FILE, read_design};
pub use revision::{Revision, revision};
pub use schema::schema;
#[cfg(feature = "panels")]
pub(crate) use tree::Record;
pub(crate) use tree::{Table, Value};
#[cfg(feature = "panels")]
pub(crate) use typed::{as_typed, typed};
pub use write::write_design;

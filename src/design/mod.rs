//! The design document: `cake.toml` in, a [`Design`] out, and back again.
//!
//! `fields` describes the document once, as data; `read` checks a file against it, `write` puts a design back into its
//! file, `schema` and `guide` tell others about it. `tree` is the form in which they hand it to one another.

mod art_paths;
mod fields;
mod guide;
mod hint;
mod known;
mod leaf;
pub mod model;
mod problem;
mod read;
mod revision;
mod schema;
pub mod starters;
mod text;
mod tree;
mod write;

pub use art_paths::art_problems;
pub use guide::guide;
pub use known::{known_finishes, known_sheets};
pub use model::{Design, Look};
pub use problem::{Problem, Problems};
pub use read::{LARGEST_FILE, read_design};
pub use revision::{Revision, revision};
pub use schema::schema;
pub use write::write_design;

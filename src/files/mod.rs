//! Files: read within bounds, written whole or not at all, never outside the folder they belong to.
//!
//! In: paths that people and designs name. Out: bytes, or one sentence saying what, where and what would mend it.
//! Which files this program may overwrite is remembered in a marker beside them, see [`Overwrite`]; who may write a document, in
//! a [`Lock`].

mod error;
mod folder;
mod inside;
mod lock;
mod marker;
mod read;
mod staged;
mod write;

pub use error::FileError;
pub use folder::write_new_folder;
pub use inside::{inside, stays_inside};
pub use lock::Lock;
pub use marker::{MARKER, digest, ours};
pub use read::read_bounded;
pub use staged::Staged;
pub use write::{Overwrite, free_to_write, may_be_folder, remove_ours, remove_parts, write_whole};

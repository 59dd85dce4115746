//! What can stop a pack.

use crate::files::FileError;

/// Why a file of a pack could not be made.
#[derive(Debug, thiserror::Error)]
pub enum PackError {
    /// A place that is no number would spoil the file.
    #[error("{body}: its surface has a place that is no finite number; please check the sizes of this part")]
    NotFinite {
        /// Name of the body.
        body: String,
    },
    /// A format's own limit.
    #[error("{file}: more than {limit}; use smaller pictures or fewer pieces")]
    TooLarge {
        /// Name of the file.
        file: &'static str,
        /// The limit in words.
        limit: &'static str,
    },
    /// It was made, and could not be kept.
    #[error(transparent)]
    NotKept(#[from] FileError),
    /// The writer of a format refused what it was given.
    #[error("{file} could not be written: {reason}")]
    Writer {
        /// Name of the file.
        file: &'static str,
        /// What the writer said.
        reason: String,
    },
}

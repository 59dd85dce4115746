//! What keeps a design from being saved, in one sentence.

use std::io::ErrorKind;

use crate::files::FileError;

/// What keeps a design from being saved. Nothing is lost by it: the change is kept, and saving is tried again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trouble {
    /// What is wrong.
    pub sentence: String,
    /// What the person can do.
    pub mend: &'static str,
}

impl Trouble {
    pub(super) fn of(error: &FileError) -> Self {
        let gone = || {
            let mend =
                "bring it back (plug the stick in again, undo the renaming); your changes are kept here until then";
            ("the design’s folder is gone".to_owned(), mend)
        };
        let (sentence, mend) = match error {
            FileError::Missing { .. } => gone(),
            FileError::Unwritable { reason, .. } => match reason.kind() {
                ErrorKind::NotFound => gone(),
                ErrorKind::StorageFull | ErrorKind::QuotaExceeded => (
                    "the disk is full".to_owned(),
                    "make room; your changes are kept here and saved as soon as there is some",
                ),
                ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => (
                    "the design’s folder can’t be written".to_owned(),
                    "allow writing there, or save a copy elsewhere; your changes are kept here until then",
                ),
                _ => (error.to_string(), "your changes are kept here, and saving is tried again"),
            },
            _ => (error.to_string(), "your changes are kept here, and saving is tried again"),
        };
        Self { sentence, mend }
    }
}

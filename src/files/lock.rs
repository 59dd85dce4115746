//! Locks: who may write a document, told by a lock on a side file.

use std::fs::{File, OpenOptions, TryLockError};
use std::io;
use std::path::Path;

use super::FileError;

/// Holds a document for this program until it is dropped, or the program ends in whatever way.
///
/// The system's own lock on the side file counts, not the file: what a crash leaves behind locks nothing.
#[derive(Debug)]
pub struct Lock {
    /// `None` where the file system knows no locks; then nobody can be kept out.
    _file: Option<File>,
}

impl Lock {
    /// Takes the lock of a side file; `None` when another has it. The file is made when it is not there, and stays.
    ///
    /// # Errors
    /// When the side file can't be made: the folder is gone or can't be written.
    pub fn take(side_file: &Path) -> Result<Option<Self>, FileError> {
        let refused = |reason: io::Error| FileError::writing(side_file, reason);
        let file = OpenOptions::new().create(true).truncate(false).write(true).open(side_file).map_err(refused)?;
        match file.try_lock() {
            Ok(()) => Ok(Some(Self { _file: Some(file) })),
            Err(TryLockError::WouldBlock) => Ok(None),
            Err(TryLockError::Error(reason)) if reason.kind() == io::ErrorKind::Unsupported => {
                Ok(Some(Self { _file: None }))
            }
            Err(TryLockError::Error(reason)) => Err(refused(reason)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Lock;

    #[test]
    fn a_lock_is_had_once_and_given_back() {
        let folder = tempfile::tempdir().expect("folder");
        let side = folder.path().join(".cake.toml.open");
        let first = Lock::take(&side).expect("made").expect("free");
        assert!(Lock::take(&side).expect("made").is_none());
        drop(first);
        assert!(Lock::take(&side).expect("made").is_some());
        assert!(Lock::take(&folder.path().join("none/x")).is_err());
    }
}

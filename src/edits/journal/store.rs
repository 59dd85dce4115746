//! Where a journal keeps its files: the disk, or in tests a disk that fails when it is told to.

use std::path::Path;

use crate::design::LARGEST_FILE;
use crate::files::{FileError, Overwrite, read_bounded, write_whole};

/// Somewhere to keep files.
pub trait Store: std::fmt::Debug + Send {
    /// The bytes of a file.
    ///
    /// # Errors
    /// When it is not there, too large, or the system refuses.
    fn read(&self, path: &Path) -> Result<Vec<u8>, FileError>;

    /// Writes a file whole or not at all, into a folder that is there.
    ///
    /// # Errors
    /// When the folder is gone or the system refuses; nothing was changed then.
    fn write(&self, path: &Path, bytes: &[u8]) -> Result<(), FileError>;

    /// Removes a file; one that is not there is removed already.
    ///
    /// # Errors
    /// When the system refuses.
    fn remove(&self, path: &Path) -> Result<(), FileError>;
}

/// The disk.
#[derive(Clone, Copy, Debug, Default)]
pub struct Disk;

/// Room for the few lines that a recovery copy has beside the design.
const SLACK: u64 = 4096;

impl Store for Disk {
    fn read(&self, path: &Path) -> Result<Vec<u8>, FileError> {
        read_bounded(path, LARGEST_FILE + SLACK)
    }

    fn write(&self, path: &Path, bytes: &[u8]) -> Result<(), FileError> {
        // A folder that vanished (a stick pulled out) must not be made anew: what is then written would be lost with it.
        if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty())
            && !folder.is_dir()
        {
            return Err(FileError::Missing { path: folder.to_owned() });
        }
        write_whole(path, bytes, Overwrite::Document)
    }

    fn remove(&self, path: &Path) -> Result<(), FileError> {
        match std::fs::remove_file(path) {
            Err(reason) if reason.kind() != std::io::ErrorKind::NotFound => {
                Err(FileError::Unwritable { path: path.to_owned(), reason })
            }
            _ => Ok(()),
        }
    }
}

//! What can go wrong with a file.

use std::io;
use std::path::{Path, PathBuf};

/// What went wrong, with which file, and what would mend it.
#[derive(Debug, thiserror::Error)]
pub enum FileError {
    /// There is nothing at this path.
    #[error("{}: there is no such file; check the name and the folder", path.display())]
    Missing {
        /// Where it was looked for.
        path: PathBuf,
    },
    /// A folder or device where a file was expected.
    #[error("{}: this is not a file but {what}; name a file", path.display())]
    NotAFile {
        /// Its path.
        path: PathBuf,
        /// `a folder` or `a device`.
        what: &'static str,
    },
    /// A file where a folder was expected.
    #[error("{}: this is a file; name a folder", path.display())]
    NotAFolder {
        /// Its path.
        path: PathBuf,
    },
    /// Larger than anything of its sort.
    #[error("{}: the file has {size} bytes, and at most {limit} are read; use a smaller one", path.display())]
    TooLarge {
        /// Its path.
        path: PathBuf,
        /// Bytes it has, or more.
        size: u64,
        /// Bytes that are read at most.
        limit: u64,
    },
    /// The system refuses to read it.
    #[error("{}: can't be read: {reason}", path.display())]
    Unreadable {
        /// Its path.
        path: PathBuf,
        /// The system's own words.
        reason: io::Error,
    },
    /// The system refuses to write it; what was there before is still there.
    #[error("{}: can't be written, and nothing was changed: {}", path.display(), refusal(reason))]
    Unwritable {
        /// Its path.
        path: PathBuf,
        /// The system's own words.
        reason: io::Error,
    },
    /// Something stands there that this program did not write.
    #[error("{}: was not written by this program, or was changed since; name another place, or use --force", path.display())]
    NotOurs {
        /// Its path.
        path: PathBuf,
    },
    /// Something stands where a new folder was asked for.
    #[error("{}: there is already something here; name a new folder", path.display())]
    Taken {
        /// Its path.
        path: PathBuf,
    },
    /// A path that leaves its folder, or could.
    #[error("“{path}”: {why}; write a path inside the design's folder, such as art/waves.png")]
    Outside {
        /// As it was given.
        path: String,
        /// How it leaves.
        why: &'static str,
    },
}

/// Why the system refuses to write, and what would mend it.
fn refusal(reason: &io::Error) -> String {
    match reason.kind() {
        io::ErrorKind::StorageFull => "the disk is full; make room, or name a folder on another disk".to_owned(),
        io::ErrorKind::QuotaExceeded => {
            "your share of the disk is full; make room, or name a folder on another disk".to_owned()
        }
        io::ErrorKind::ReadOnlyFilesystem => "this disk can only be read; name a folder on another disk".to_owned(),
        io::ErrorKind::PermissionDenied => "you may not write there; allow it, or name a folder of your own".to_owned(),
        _ => format!("{reason}; check the path, or name another folder"),
    }
}

impl FileError {
    /// The error for a path that can't be read.
    pub(super) fn reading(path: &Path, reason: io::Error) -> Self {
        let path = path.to_owned();
        if reason.kind() == io::ErrorKind::NotFound {
            Self::Missing { path }
        } else {
            Self::Unreadable { path, reason }
        }
    }

    /// The error for a path that can't be written.
    pub(super) fn writing(path: &Path, reason: io::Error) -> Self {
        Self::Unwritable { path: path.to_owned(), reason }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_can_not_be_written_says_why_and_what_would_mend_it() {
        let mends = [
            (io::ErrorKind::StorageFull, "the disk is full; make room"),
            (io::ErrorKind::QuotaExceeded, "make room"),
            (io::ErrorKind::ReadOnlyFilesystem, "another disk"),
            (io::ErrorKind::PermissionDenied, "allow it"),
            (io::ErrorKind::NotADirectory, "name another folder"),
        ];
        for (kind, mend) in mends {
            let told = FileError::writing(Path::new("pack/proof.pdf"), kind.into()).to_string();
            assert!(told.starts_with("pack/proof.pdf: can't be written, and nothing was changed: "), "{told}");
            assert!(told.contains(mend), "{told}");
        }
    }
}

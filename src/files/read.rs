//! Reads a file that is no larger than it may be.

use std::fs::{self, File};
use std::io::Read;
use std::path::Path;

use super::FileError;

/// The bytes of a file of at most `limit` bytes.
///
/// Folders, devices and pipes are refused before they are opened, so that nothing waits for them.
///
/// # Errors
/// When there is no such file, it is no ordinary file, it is larger than `limit`, or the system refuses.
pub fn read_bounded(path: &Path, limit: u64) -> Result<Vec<u8>, FileError> {
    let about = fs::metadata(path).map_err(|reason| FileError::reading(path, reason))?;
    if !about.is_file() {
        let what = if about.is_dir() { "a folder" } else { "a device" };
        return Err(FileError::NotAFile { path: path.to_owned(), what });
    }
    let too_large = |size| FileError::TooLarge { path: path.to_owned(), size, limit };
    if about.len() > limit {
        return Err(too_large(about.len()));
    }
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(|reason| FileError::reading(path, reason))?;
    // The file may grow between the two looks at it.
    let read = file.take(limit.saturating_add(1)).read_to_end(&mut bytes);
    read.map_err(|reason| FileError::reading(path, reason))?;
    let size = bytes.len() as u64;
    if size > limit { Err(too_large(size)) } else { Ok(bytes) }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::super::{FileError, Overwrite, write_whole};
    use super::read_bounded;

    #[test]
    fn files_are_read_up_to_their_limit() {
        let folder = tempfile::tempdir().expect("folder");
        let path = folder.path().join("waves.svg");
        write_whole(&path, b"12345", Overwrite::Ours).expect("written");
        assert_eq!(read_bounded(&path, 5).expect("read"), b"12345");
        assert!(matches!(read_bounded(&path, 4), Err(FileError::TooLarge { size: 5, limit: 4, .. })));
        assert!(matches!(read_bounded(folder.path(), 4), Err(FileError::NotAFile { what: "a folder", .. })));
        assert!(matches!(read_bounded(&folder.path().join("none"), 4), Err(FileError::Missing { .. })));
        assert!(matches!(read_bounded(&path.join("below"), 4), Err(FileError::Unreadable { .. })));
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn a_device_is_refused_unopened() {
        let endless = Path::new("/dev/zero");
        assert!(matches!(read_bounded(endless, 4), Err(FileError::NotAFile { what: "a device", .. })));
    }
}

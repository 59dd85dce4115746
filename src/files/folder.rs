//! Writes a new folder whole or not at all.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::{FileError, Overwrite, write_whole};

/// Writes a folder that was not there, or was empty, with its files: relative path and bytes.
///
/// The files go to a passing folder beside it, which then takes the name.
///
/// # Errors
/// When there is already something at the path, or the system refuses. Then nothing was changed.
pub fn write_new_folder(path: &Path, files: &[(&str, &[u8])]) -> Result<(), FileError> {
    let is_empty = |path: &Path| fs::read_dir(path).is_ok_and(|mut entries| entries.next().is_none());
    if path.exists() && !is_empty(path) {
        return Err(FileError::Taken { path: path.to_owned() });
    }
    let refused = |reason: io::Error| FileError::writing(path, reason);
    let parent = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_owned(),
        _ => PathBuf::from("."),
    };
    fs::create_dir_all(&parent).map_err(refused)?;
    let passing = passing_folder().tempdir_in(&parent).map_err(refused)?;
    for (relative, bytes) in files {
        write_whole(&passing.path().join(relative), bytes, Overwrite::Document)?;
    }
    fs::rename(passing.path(), path).map_err(refused)
}

/// A passing folder with the rights of any new folder.
pub(super) fn passing_folder() -> tempfile::Builder<'static, 'static> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".tierproof-");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o777));
    }
    builder
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::{FileError, write_new_folder};

    #[test]
    fn a_new_folder_is_written_and_a_taken_one_is_left_alone() {
        let folder = tempfile::tempdir().expect("folder");
        let place = folder.path().join("below/cake");
        write_new_folder(&place, &[("cake.toml", b"a"), ("art/b.svg", b"b")]).expect("written");
        assert_eq!(fs::read(place.join("art/b.svg")).expect("read"), b"b");
        assert!(matches!(write_new_folder(&place, &[("cake.toml", b"x")]), Err(FileError::Taken { .. })));
        assert_eq!(fs::read(place.join("cake.toml")).expect("read"), b"a");
        let empty = folder.path().join("empty");
        fs::create_dir(&empty).expect("empty");
        write_new_folder(&empty, &[("cake.toml", b"a")]).expect("written");
        let left = fs::read_dir(folder.path()).expect("folder").count();
        assert_eq!(left, 2, "nothing passing is left behind");
    }
}

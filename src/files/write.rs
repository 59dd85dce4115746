//! Writes a file whole or not at all.

use std::collections::BTreeMap;
use std::fs::{self, Permissions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use super::{FileError, marker};

/// What may stand at the place of a file that is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Overwrite {
    /// Nothing, or a file that this program wrote and nobody changed since: for everything that is made from a design.
    /// The folder's marker remembers the file.
    Ours,
    /// Anything: for what the person asked to be replaced (`--force`). The marker remembers the file.
    Forced,
    /// The person's own document, which is open: it is replaced, and never listed as made by this program.
    Document,
}

/// Writes bytes to a file, with the folders above it; a reader sees the old bytes or the new, never a part of them.
///
/// The bytes go to a passing file in the same folder, are brought to the disk, and then take the name. A link at the
/// path is followed, so that a document kept elsewhere stays there.
///
/// # Errors
/// When the place is taken by something that `overwrite` protects, or the system refuses. Then nothing was changed.
pub fn write_whole(path: &Path, bytes: &[u8], overwrite: Overwrite) -> Result<(), FileError> {
    let spot = free_place(path, overwrite)?;
    let digest = (overwrite != Overwrite::Document).then(|| marker::digest(bytes));
    let filled = spot.fill(digest, |folder, place| replace(folder, place, bytes));
    filled.map_err(|reason| FileError::writing(path, reason))
}

/// A place that may be written, links followed, and the folder that it lies in.
pub(super) struct Spot {
    folder: PathBuf,
    place: PathBuf,
}

impl Spot {
    /// Puts something there, with the folders above it; the folder's marker remembers a digest that is given.
    fn fill(&self, digest: Option<String>, put: impl FnOnce(&Path, &Path) -> io::Result<()>) -> io::Result<()> {
        fs::create_dir_all(&self.folder)?;
        put(&self.folder, &self.place)?;
        match digest {
            Some(digest) => self.list_again(|listed, name| drop(listed.insert(name, digest))),
            None => Ok(()),
        }
    }

    /// Moves a passing file there that lies on the disk already, and remembers its digest.
    pub(super) fn take(&self, file: tempfile::TempPath, digest: String) -> io::Result<()> {
        self.fill(Some(digest), |folder, place| move_to(folder, place, file))
    }

    /// Changes what the folder's marker remembers.
    fn list_again(&self, change: impl FnOnce(&mut BTreeMap<String, String>, String)) -> io::Result<()> {
        let mut listed = marker::listed(&self.folder);
        change(&mut listed, name_of(&self.place));
        replace(&self.folder, &self.folder.join(marker::MARKER), marker::text(&listed).as_bytes())
    }
}

fn move_to(folder: &Path, place: &Path, file: tempfile::TempPath) -> io::Result<()> {
    match file.persist(place) {
        Ok(()) => bring_folder_to_disk(folder),
        // Its place is a link to another disk.
        Err(error) if error.error.kind() == io::ErrorKind::CrossesDevices => {
            let mut copy = passing_file(place, folder)?;
            io::copy(&mut fs::File::open(&error.path)?, &mut copy)?;
            copy.as_file().sync_all()?;
            copy.persist(place).map_err(|error| error.error)?;
            bring_folder_to_disk(folder)
        }
        Err(error) => Err(error.error),
    }
}

/// Says beforehand whether a file may be written: before long work, or before the first file of several.
///
/// # Errors
/// When the place is taken by something that `overwrite` protects.
pub fn free_to_write(path: &Path, overwrite: Overwrite) -> Result<(), FileError> {
    free_place(path, overwrite).map(|_| ())
}

/// Removes a file that this program wrote and nobody changed since; anything else stays. What an earlier design needed
/// must not be taken for part of the present one.
///
/// # Errors
/// When the system refuses.
pub fn remove_ours(path: &Path) -> Result<(), FileError> {
    let Ok(spot) = free_place(path, Overwrite::Ours) else { return Ok(()) };
    if !spot.place.is_file() {
        return Ok(());
    }
    let removed =
        fs::remove_file(&spot.place).and_then(|()| spot.list_again(|listed, name| drop(listed.remove(&name))));
    removed.map_err(|reason| FileError::writing(path, reason))
}

/// Says of a path that is to be a folder whether a file is there.
///
/// # Errors
/// [`FileError::NotAFolder`].
pub fn may_be_folder(path: &Path) -> Result<(), FileError> {
    if path.exists() && !path.is_dir() {
        return Err(FileError::NotAFolder { path: path.to_owned() });
    }
    Ok(())
}

/// The place that a path means, when it may be written.
pub(super) fn free_place(path: &Path, overwrite: Overwrite) -> Result<Spot, FileError> {
    let place = path.canonicalize().unwrap_or_else(|_| path.to_owned());
    if place.exists() && !place.is_file() {
        let what = if place.is_dir() { "a folder" } else { "a device" };
        return Err(FileError::NotAFile { path: path.to_owned(), what });
    }
    let folder = folder_of(&place);
    if overwrite == Overwrite::Ours && !is_free_or_ours(&folder, &place)? {
        return Err(FileError::NotOurs { path: path.to_owned() });
    }
    Ok(Spot { folder, place })
}

fn folder_of(place: &Path) -> PathBuf {
    match place.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder.to_owned(),
        _ => PathBuf::from("."),
    }
}

fn name_of(place: &Path) -> String {
    place.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

fn is_free_or_ours(folder: &Path, place: &Path) -> Result<bool, FileError> {
    if !place.exists() {
        return Ok(true);
    }
    let Some(written) = marker::listed(folder).remove(&name_of(place)) else { return Ok(false) };
    let found = marker::digest_of_file(place).map_err(|reason| FileError::reading(place, reason))?;
    Ok(found == written)
}

fn replace(folder: &Path, place: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = passing_file(place, folder)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    file.persist(place).map_err(|error| error.error)?;
    bring_folder_to_disk(folder)
}

/// A passing file in a folder with the rights of the one it replaces, or with those of any new file.
#[cfg(unix)]
pub(super) fn passing_file(place: &Path, folder: &Path) -> io::Result<tempfile::NamedTempFile> {
    use std::os::unix::fs::PermissionsExt;
    let rights = fs::metadata(place).map_or_else(|_| Permissions::from_mode(0o666), |about| about.permissions());
    let prefix = part_prefix(place);
    let mut builder = tempfile::Builder::new();
    builder.prefix(&prefix).suffix(PART).permissions(rights).tempfile_in(folder)
}

#[cfg(not(unix))]
pub(super) fn passing_file(place: &Path, folder: &Path) -> io::Result<tempfile::NamedTempFile> {
    let prefix = part_prefix(place);
    tempfile::Builder::new().prefix(&prefix).suffix(PART).tempfile_in(folder)
}

/// Ending of a passing file.
const PART: &str = ".part";

fn part_prefix(place: &Path) -> String {
    format!(".{}-", name_of(place))
}

/// Removes passing files of a document that a crash left behind; only for who holds the document's lock, as nobody else
/// may be writing it.
pub fn remove_parts(path: &Path) {
    let place = path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let prefix = part_prefix(&place);
    let is_part = |name: &str| name.starts_with(&prefix) && name.ends_with(PART);
    let Ok(entries) = fs::read_dir(folder_of(&place)) else { return };
    for entry in entries.filter_map(Result::ok).filter(|entry| is_part(&entry.file_name().to_string_lossy())) {
        // One that can't be removed does no harm.
        let _ = fs::remove_file(entry.path());
    }
}

/// The new name itself is only safe once the folder is on the disk; not every system lets a folder be opened for that.
fn bring_folder_to_disk(folder: &Path) -> io::Result<()> {
    if cfg!(unix) { fs::File::open(folder)?.sync_all() } else { Ok(()) }
}

#[cfg(test)]
pub(super) mod tests {
    use std::fs;
    use std::path::Path;

    use super::super::{FileError, MARKER};
    use super::{Overwrite, remove_ours, remove_parts, write_whole};

    pub(in crate::files) fn names(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).expect("folder").filter_map(Result::ok);
        let mut names: Vec<_> = entries.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }

    #[test]
    fn own_files_are_replaced_and_foreign_ones_are_not() {
        let folder = tempfile::tempdir().expect("folder");
        let path = folder.path().join("out/hero.png");
        write_whole(&path, b"first", Overwrite::Ours).expect("new");
        write_whole(&path, b"second", Overwrite::Ours).expect("ours");
        assert_eq!(fs::read(&path).expect("read"), b"second");
        write_whole(&path, b"by hand", Overwrite::Document).expect("changed");
        assert!(matches!(write_whole(&path, b"third", Overwrite::Ours), Err(FileError::NotOurs { .. })));
        assert_eq!(fs::read(&path).expect("read"), b"by hand");
        write_whole(&path, b"third", Overwrite::Forced).expect("forced");
        write_whole(&path, b"fourth", Overwrite::Ours).expect("ours again");
        assert_eq!(names(&folder.path().join("out")), [MARKER, "hero.png"]);
    }

    #[test]
    fn what_a_crash_left_behind_is_swept_away() {
        let folder = tempfile::tempdir().expect("folder");
        let path = folder.path().join("cake.toml");
        for name in [".cake.toml-abc.part", "cake.toml-abc.part", ".other.toml-abc.part"] {
            write_whole(&folder.path().join(name), b"x", Overwrite::Document).expect("made");
        }
        write_whole(&path, b"x", Overwrite::Document).expect("written");
        remove_parts(&path);
        assert_eq!(names(folder.path()), [".other.toml-abc.part", "cake.toml", "cake.toml-abc.part"]);
    }

    #[test]
    fn only_own_files_are_removed() {
        let folder = tempfile::tempdir().expect("folder");
        let [ours, changed, foreign] = ["ours", "changed", "foreign"].map(|name| folder.path().join(name));
        write_whole(&ours, b"a", Overwrite::Ours).expect("ours");
        write_whole(&changed, b"b", Overwrite::Ours).expect("ours");
        write_whole(&changed, b"by hand", Overwrite::Document).expect("changed");
        write_whole(&foreign, b"c", Overwrite::Document).expect("foreign");
        for path in [&ours, &changed, &foreign, &folder.path().join("missing"), &folder.path().to_owned()] {
            remove_ours(path).expect("done");
        }
        assert_eq!(names(folder.path()), [MARKER, "changed", "foreign"]);
        write_whole(&ours, b"by hand", Overwrite::Document).expect("foreign now");
        assert!(matches!(write_whole(&ours, b"d", Overwrite::Ours), Err(FileError::NotOurs { .. })));
    }

    #[test]
    fn a_document_is_not_listed() {
        let folder = tempfile::tempdir().expect("folder");
        let path = folder.path().join("cake.toml");
        write_whole(&path, b"format = 1", Overwrite::Document).expect("written");
        assert_eq!(names(folder.path()), ["cake.toml"]);
        assert!(matches!(write_whole(&path, b"", Overwrite::Ours), Err(FileError::NotOurs { .. })));
    }

    #[test]
    fn a_refused_place_leaves_nothing_behind() {
        let folder = tempfile::tempdir().expect("folder");
        let in_the_way = folder.path().join("file");
        write_whole(&in_the_way, b"", Overwrite::Document).expect("written");
        let below = in_the_way.join("hero.png");
        assert!(matches!(write_whole(&below, b"x", Overwrite::Ours), Err(FileError::Unwritable { .. })));
        assert!(matches!(write_whole(folder.path(), b"x", Overwrite::Forced), Err(FileError::NotAFile { .. })));
        assert_eq!(names(folder.path()), ["file"]);
    }

    #[cfg(unix)]
    #[test]
    fn rights_and_links_are_kept() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let folder = tempfile::tempdir().expect("folder");
        let (real, link) = (folder.path().join("real.toml"), folder.path().join("cake.toml"));
        write_whole(&real, b"old", Overwrite::Document).expect("written");
        fs::set_permissions(&real, fs::Permissions::from_mode(0o640)).expect("rights");
        symlink("real.toml", &link).expect("link");
        write_whole(&link, b"new", Overwrite::Document).expect("written");
        assert_eq!(fs::read(&real).expect("read"), b"new");
        assert!(link.is_symlink());
        assert_eq!(fs::metadata(&real).expect("about").permissions().mode() & 0o777, 0o640);
    }
}

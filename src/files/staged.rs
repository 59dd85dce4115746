//! Several files made one after the other and put in their places together.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use tempfile::{TempDir, TempPath};

use super::folder::passing_folder;
use super::write::{Spot, free_place, free_to_write, may_be_folder, passing_file};
use super::{FileError, Lock, Overwrite, marker};

/// Files on their way into a folder: each lies on the disk as soon as it is made, in a passing folder, so that only one of
/// them is ever held in memory; [`Staged::put`] moves all of them to their places.
///
/// Dropped, they are gone and nothing was changed. What a crash left of an earlier one is swept away by the next.
#[derive(Debug)]
pub struct Staged {
    folder: PathBuf,
    overwrite: Overwrite,
    files: Vec<Waiting>,
    // In this order: files before their folder, the folder before its lock.
    passing: TempDir,
    _lock: Option<Lock>,
}

/// A file that lies in the passing folder.
#[derive(Debug)]
struct Waiting {
    name: String,
    path: TempPath,
    digest: String,
}

/// Beginning and ending of a passing folder's name; its lock lies beside it.
const PARTS: (&str, &str) = (".tierproof-", ".parts");

impl Staged {
    /// Nothing yet, on its way into a folder, which need not be there.
    ///
    /// # Errors
    /// When the path is that of a file, or the system refuses to write there.
    pub fn new(folder: &Path, overwrite: Overwrite) -> Result<Self, FileError> {
        may_be_folder(folder)?;
        let refused = |reason: io::Error| FileError::writing(folder, reason);
        // In the folder itself or as near above it as there is one: on the same disk, so that moving copies nothing.
        let near = folder.ancestors().find(|above| above.is_dir()).unwrap_or(Path::new("."));
        sweep(near);
        let passing = passing_folder().suffix(PARTS.1).tempdir_in(near).map_err(refused)?;
        let lock = Lock::take(&passing.path().join(LOCK))?;
        Ok(Self { folder: folder.to_owned(), overwrite, files: Vec::new(), passing, _lock: lock })
    }

    /// Adds a file by its name in the folder.
    ///
    /// # Errors
    /// When its place is taken by something that may not be overwritten, or the disk is full.
    pub fn add(&mut self, name: &str, bytes: &[u8]) -> Result<(), FileError> {
        let place = self.folder.join(name);
        free_to_write(&place, self.overwrite)?;
        let refused = |reason: io::Error| FileError::writing(&place, reason);
        let mut file = passing_file(&place, self.passing.path()).map_err(refused)?;
        io::Write::write_all(&mut file, bytes).map_err(refused)?;
        file.as_file().sync_all().map_err(refused)?;
        self.files.push(Waiting { name: name.to_owned(), path: file.into_temp_path(), digest: marker::digest(bytes) });
        Ok(())
    }

    /// The names of all files, in the order in which they were made.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.files.iter().map(|file| file.name.as_str())
    }

    /// Moves all files to their places.
    ///
    /// # Errors
    /// When one of the places is taken by something that may not be overwritten: then none was moved. Or when the system
    /// refuses to move one, which it hardly does once all of them lie on the same disk.
    pub fn put(self) -> Result<(), FileError> {
        let place = |file: &Waiting| self.folder.join(&file.name);
        let places: Vec<PathBuf> = self.files.iter().map(place).collect();
        let spots: Result<Vec<Spot>, FileError> =
            places.iter().map(|place| free_place(place, self.overwrite)).collect();
        for ((spot, place), file) in spots?.iter().zip(&places).zip(self.files) {
            spot.take(file.path, file.digest).map_err(|reason| FileError::writing(place, reason))?;
        }
        Ok(())
    }
}

/// Name of the lock in a passing folder.
const LOCK: &str = ".lock";

/// Removes passing folders whose makers are gone.
fn sweep(near: &Path) {
    let Ok(entries) = fs::read_dir(near) else { return };
    let is_passing = |name: &str| name.starts_with(PARTS.0) && name.ends_with(PARTS.1);
    for entry in entries.filter_map(Result::ok).filter(|entry| is_passing(&entry.file_name().to_string_lossy())) {
        let lock = entry.path().join(LOCK);
        if lock.is_file() && matches!(Lock::take(&lock), Ok(Some(_))) {
            // One that can't be removed does no harm.
            let _ = fs::remove_dir_all(entry.path());
        }
    }
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::super::write::tests::names;
    use super::super::{FileError, MARKER, Overwrite, write_whole};
    use super::{LOCK, Staged};

    #[test]
    fn files_wait_beside_their_places_and_are_put_there_together() {
        let folder = tempfile::tempdir().expect("folder");
        let out = folder.path().join("below/pack");
        let mut staged = Staged::new(&out, Overwrite::Ours).expect("made");
        staged.add("a.txt", b"a").expect("added");
        staged.add("sheets/b.txt", b"b").expect("added");
        assert!(!folder.path().join("below").exists());
        assert_eq!(staged.names().collect::<Vec<_>>(), ["a.txt", "sheets/b.txt"]);
        staged.put().expect("put");
        assert_eq!(fs::read(out.join("sheets/b.txt")).expect("read"), b"b");
        assert_eq!(
            (names(&out), names(folder.path())),
            (vec![MARKER.into(), "a.txt".into(), "sheets".into()], vec!["below".into()])
        );
        // Ours may be replaced; the rights of any new file are those of the first.
        let mut again = Staged::new(&out, Overwrite::Ours).expect("made");
        again.add("a.txt", b"second").expect("ours");
        again.put().expect("put");
        assert_eq!(fs::read(out.join("a.txt")).expect("read"), b"second");
    }

    #[test]
    fn what_is_not_put_leaves_nothing() {
        let folder = tempfile::tempdir().expect("folder");
        let mut staged = Staged::new(folder.path(), Overwrite::Ours).expect("made");
        staged.add("a.txt", b"a").expect("added");
        drop(staged);
        assert!(names(folder.path()).is_empty());
    }

    #[test]
    fn a_foreign_file_stops_all_of_them() {
        let folder = tempfile::tempdir().expect("folder");
        let mut staged = Staged::new(folder.path(), Overwrite::Ours).expect("made");
        staged.add("a.txt", b"a").expect("added");
        staged.add("b.txt", b"b").expect("added");
        // Put there meanwhile.
        write_whole(&folder.path().join("b.txt"), b"by hand", Overwrite::Document).expect("written");
        assert!(matches!(staged.add("b.txt", b"b"), Err(FileError::NotOurs { .. })));
        assert!(matches!(staged.put(), Err(FileError::NotOurs { .. })));
        assert_eq!(names(folder.path()), ["b.txt"]);
        let file = folder.path().join("b.txt");
        assert!(matches!(Staged::new(&file, Overwrite::Forced), Err(FileError::NotAFolder { .. })));
    }

    #[test]
    fn what_a_crash_left_is_swept_and_what_is_being_made_is_not() {
        let folder = tempfile::tempdir().expect("folder");
        let left = folder.path().join(".tierproof-abc.parts");
        write_whole(&left.join(LOCK), b"", Overwrite::Document).expect("written");
        write_whole(&left.join("sheet"), b"half", Overwrite::Document).expect("written");
        let _running = Staged::new(folder.path(), Overwrite::Ours).expect("made");
        assert!(!left.exists());
        let _second = Staged::new(folder.path(), Overwrite::Ours).expect("made");
        assert_eq!(names(folder.path()).len(), 2);
    }
}

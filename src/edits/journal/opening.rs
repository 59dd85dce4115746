//! Opening a design: taking its lock, and what a crash left behind.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use super::copy::RecoveryCopy;
use super::saving::{Journal, Waiting, copy_files, side_file};
use super::store::{Disk, Store};
use super::trouble::Trouble;
use crate::design::{Design, Problems, read_design};
use crate::files::{FileError, Lock, digest, remove_parts};

/// A design that was opened.
#[derive(Debug)]
pub struct Opened {
    /// Its way to its file.
    pub journal: Journal,
    /// The design, with what was recovered.
    pub design: Arc<Design>,
    /// What the person is to be told, in sentences; empty when all is as usual.
    pub said: Vec<String>,
}

/// Why a design can't be opened or kept.
#[derive(Debug, thiserror::Error)]
pub enum JournalError {
    /// Its file can't be read or written.
    #[error(transparent)]
    File(#[from] FileError),
    /// Its file is no design.
    #[error(transparent)]
    Design(#[from] Problems),
    /// Its file is no text.
    #[error("{}: this file is not text (UTF-8); a design is a text file, save it as one", path.display())]
    NotText {
        /// The file.
        path: PathBuf,
    },
}

impl JournalError {
    pub(super) fn text(bytes: Vec<u8>, path: &Path) -> Result<String, Self> {
        String::from_utf8(bytes).map_err(|_| Self::NotText { path: path.to_owned() })
    }
}

impl Journal {
    /// Opens a design file. `refuge` is a folder of the program's own for recovery copies that can't be kept beside it.
    ///
    /// # Errors
    /// When there is neither a design that can be read nor a copy to recover it from.
    pub fn open(file: &Path, refuge: Option<&Path>, now: Duration) -> Result<Opened, JournalError> {
        Self::open_in(Box::new(Disk), file, (refuge, now))
    }

    /// The same with files kept elsewhere than on the disk.
    ///
    /// # Errors
    /// As [`Journal::open`].
    pub fn open_in(
        store: Box<dyn Store>,
        file: &Path,
        (refuge, now): (Option<&Path>, Duration),
    ) -> Result<Opened, JournalError> {
        let mut said = Vec::new();
        let access = access(file);
        said.extend(access.as_ref().err().map(|trouble| format!("{}; {}", trouble.sentence, trouble.mend)));
        let text = store.read(file).map_err(JournalError::from).and_then(|bytes| JournalError::text(bytes, file));
        let read = text.as_ref().ok().map(|text| read_design(text, &file.display().to_string()));
        let mut journal = Self {
            store,
            file: file.to_owned(),
            refuge: refuge.map(Path::to_owned),
            access,
            known: None,
            wording: None,
            waiting: None,
            trouble: None,
            has_conflict: false,
            has_copy: false,
        };
        let left = if journal.access.is_ok() { journal.left_behind(&mut said) } else { None };
        if journal.access.is_ok() {
            [file.to_owned()].iter().chain(&copy_files(file, refuge)).for_each(|place| remove_parts(place));
        }
        let recovered = left.filter(|(copy, _)| text.as_ref().ok() != Some(&copy.text));
        let Some((copy, design)) = recovered else {
            // A design that can't be read is an error only when nothing can be recovered either.
            let text = text?;
            let design = read.unwrap_or_else(|| read_design(&text, ""))?;
            journal.knows(text);
            journal.remove_copies();
            return Ok(Opened { journal, design: Arc::new(design), said });
        };
        let found = text.ok().map(|text| digest(text.as_bytes()));
        let is_of_this_file = found.is_none() || copy.grew_from == found;
        journal.has_conflict = !is_of_this_file;
        said.push(recovery_words(&copy, is_of_this_file));
        journal.known = found;
        journal.wording = Some(copy.text);
        let design = Arc::new(design);
        journal.waiting = Some(Waiting {
            design: Arc::clone(&design),
            changes: copy.changes,
            last: copy.last,
            first_at: now,
            last_at: now,
            uncopied: None,
        });
        Ok(Opened { journal, design, said })
    }

    /// The recovery copy that counts, with its design.
    fn left_behind(&mut self, said: &mut Vec<String>) -> Option<(RecoveryCopy, Design)> {
        // What was written into the refuge could not be written beside the design any more: it is the newer one.
        for place in copy_files(&self.file, self.refuge.as_deref()).into_iter().rev() {
            let Ok(bytes) = self.store.read(&place) else { continue };
            self.has_copy = true;
            let copy = RecoveryCopy::read(&bytes);
            match copy.and_then(|copy| Some((read_design(&copy.text, "").ok()?, copy))) {
                Some((design, copy)) => return Some((copy, design)),
                None => {
                    said.push(format!(
                        "a recovery copy could not be read and is left where it is: {}",
                        place.display()
                    ));
                }
            }
        }
        None
    }
}

fn access(file: &Path) -> Result<Lock, Trouble> {
    match Lock::take(&side_file(file)) {
        Ok(Some(lock)) => Ok(lock),
        Ok(None) => Err(Trouble {
            sentence: "this design is open in another window".to_owned(),
            mend: "it can only be looked at here; close the other window to change it here",
        }),
        Err(error) => {
            let mend = "it can only be looked at; copy the folder to a place of your own to change it";
            Err(Trouble { mend, ..Trouble::of(&error) })
        }
    }
}

fn recovery_words(copy: &RecoveryCopy, is_of_this_file: bool) -> String {
    let what = if copy.changes == 1 {
        format!("one change that was not saved: {}", copy.last)
    } else {
        format!("{} changes that were not saved, the last: {}", copy.changes, copy.last)
    };
    let but =
        if is_of_this_file { "" } else { "; the file was changed since by another, so both are kept until you choose" };
    format!("recovered {what}{but}")
}

//! Saving by itself, a moment after each change.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use super::copy::RecoveryCopy;
use super::opening::JournalError;
use super::store::Store;
use super::trouble::Trouble;
use crate::design::{Design, read_design, write_design};
use crate::files::{FileError, Lock, digest};

/// A change is in the recovery copy after this time.
const COPY_AFTER: Duration = Duration::from_millis(300);

/// The design is saved when nothing changed for this time.
const SAVE_AFTER: Duration = Duration::from_millis(700);

/// The design is saved after this time even while it goes on changing.
const SAVE_AT_LATEST: Duration = Duration::from_secs(5);

/// What could not be written is tried again after this time.
const TRY_AGAIN: Duration = Duration::from_secs(2);

/// How a design stands with its file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum State {
    /// The file has everything.
    Saved,
    /// The last changes will be saved in a moment.
    Unsaved,
    /// It can't be saved; nothing is lost, and it is tried again.
    Troubled(Trouble),
    /// Another wrote the file meanwhile; it is not written over. Offer to take theirs, or to keep mine beside it.
    Conflict,
    /// It is only looked at.
    ReadOnly(Trouble),
}

/// A design's way to its file.
#[derive(Debug)]
pub struct Journal {
    pub(super) store: Box<dyn Store>,
    pub(super) file: PathBuf,
    /// A folder for recovery copies that can't be kept beside the design.
    pub(super) refuge: Option<PathBuf>,
    /// Whether this is the one that may write, or why not.
    pub(super) access: Result<Lock, Trouble>,
    /// Digest of what the file has, as far as known; `None` when there is none.
    pub(super) known: Option<String>,
    /// The text that the design grew from: its comments and its way of writing are kept.
    pub(super) wording: Option<String>,
    pub(super) waiting: Option<Waiting>,
    pub(super) trouble: Option<(Trouble, Duration)>,
    pub(super) has_conflict: bool,
    /// Recovery copies that may stand somewhere.
    pub(super) has_copy: bool,
}

/// Changes that the file has not.
#[derive(Clone, Debug)]
pub(super) struct Waiting {
    pub design: Arc<Design>,
    pub changes: u32,
    pub last: String,
    pub first_at: Duration,
    pub last_at: Duration,
    /// Since when something is missing in the recovery copy.
    pub uncopied: Option<Duration>,
}

impl Journal {
    /// Notes that the design changed by a step of this name. Costs nothing: writing is for [`Journal::tick`]. A gesture that
    /// is under way counts too, so that a long one is not lost: give what is shown.
    pub fn changed(&mut self, design: &Arc<Design>, last: &str, now: Duration) {
        let before = self.waiting.take();
        let (changes, first_at) = before.as_ref().map_or((0, now), |before| (before.changes, before.first_at));
        let uncopied = before.and_then(|before| before.uncopied).or(Some(now));
        let design = Arc::clone(design);
        self.waiting =
            Some(Waiting { design, changes: changes + 1, last: last.to_owned(), first_at, last_at: now, uncopied });
    }

    /// Writes what is due, and says how the design stands.
    pub fn tick(&mut self, now: Duration) -> State {
        if self.access.is_ok() && self.trouble.as_ref().is_none_or(|(_, again)| *again <= now) {
            if self.save_is_due(now) {
                self.save(now);
            } else if self.copy_is_due(now) {
                self.copy(now);
            }
        }
        self.state()
    }

    /// When [`Journal::tick`] has something to do next; `None` while there is nothing.
    #[must_use]
    pub fn next(&self) -> Option<Duration> {
        let waiting = self.waiting.as_ref().filter(|_| self.access.is_ok())?;
        if let Some((_, again)) = &self.trouble {
            return Some(*again);
        }
        let copy = waiting.uncopied.map(|since| since + COPY_AFTER);
        if self.has_conflict { copy } else { Some(copy.map_or(waiting.due(), |copy| copy.min(waiting.due()))) }
    }

    /// How the design stands.
    #[must_use]
    pub fn state(&self) -> State {
        match (&self.access, &self.trouble) {
            _ if self.has_conflict => State::Conflict,
            (Err(trouble), _) => State::ReadOnly(trouble.clone()),
            (_, Some((trouble, _))) => State::Troubled(trouble.clone()),
            _ if self.waiting.is_some() => State::Unsaved,
            _ => State::Saved,
        }
    }

    /// The file that the design is saved to.
    #[must_use]
    pub fn file(&self) -> &Path {
        &self.file
    }

    /// Saves at once: Ctrl+S, or when the window closes.
    pub fn save_now(&mut self, now: Duration) -> State {
        if self.access.is_ok() && self.waiting.is_some() {
            self.save(now);
        }
        self.state()
    }

    /// Looks whether another changed the file meanwhile; when the window is looked at again, and now and then. A design that
    /// was open elsewhere and is no more can then be changed here, when its file is still as it was read.
    pub fn look(&mut self) -> State {
        if !self.has_conflict && matches!(self.on_disk(), Ok(found) if found != self.known && found.is_some()) {
            self.has_conflict = true;
        }
        if self.access.is_err()
            && !self.has_conflict
            && let Ok(Some(lock)) = Lock::take(&side_file(&self.file))
        {
            self.access = Ok(lock);
        }
        self.state()
    }

    /// Ends a conflict with what the file has now. The caller makes it one step of the history, so that it can be undone.
    ///
    /// # Errors
    /// When the file can't be read, or is no design; nothing changed then.
    pub fn take_theirs(&mut self) -> Result<Arc<Design>, JournalError> {
        let text = JournalError::text(self.store.read(&self.file)?, &self.file)?;
        let design = read_design(&text, &self.file.display().to_string())?;
        self.knows(text);
        self.settle();
        Ok(Arc::new(design))
    }

    /// Ends a conflict with two files: what was changed here goes to a new file beside the other, which is edited from now
    /// on. Gives the new file.
    ///
    /// # Errors
    /// When it can't be written; nothing changed then.
    pub fn keep_mine_beside(&mut self, mine: &Arc<Design>) -> Result<PathBuf, JournalError> {
        let file = self.free_file_beside();
        let lock = Lock::take(&side_file(&file))?.ok_or_else(|| FileError::Taken { path: file.clone() })?;
        let text = write_design(mine, self.wording.as_deref());
        self.store.write(&file, text.as_bytes())?;
        self.remove_copies();
        self.file.clone_from(&file);
        self.access = Ok(lock);
        self.knows(text);
        self.settle();
        Ok(file)
    }

    /// The file now has this text.
    pub(super) fn knows(&mut self, text: String) {
        self.known = Some(digest(text.as_bytes()));
        self.wording = Some(text);
    }

    fn settle(&mut self) {
        self.waiting = None;
        self.trouble = None;
        self.has_conflict = false;
        if self.access.is_ok() {
            self.remove_copies();
        }
    }

    fn free_file_beside(&self) -> PathBuf {
        let stem = self.file.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let name =
            |number: u32| if number == 1 { format!("{stem}-mine.toml") } else { format!("{stem}-mine-{number}.toml") };
        let files = (1..=9999).map(|number| self.file.with_file_name(name(number)));
        let is_free = |file: &PathBuf| matches!(self.store.read(file), Err(FileError::Missing { .. }));
        files.into_iter().find(is_free).unwrap_or_else(|| self.file.with_file_name(name(10_000)))
    }

    fn save_is_due(&self, now: Duration) -> bool {
        !self.has_conflict && self.waiting.as_ref().is_some_and(|waiting| waiting.due() <= now)
    }

    fn copy_is_due(&self, now: Duration) -> bool {
        let since = self.waiting.as_ref().and_then(|waiting| waiting.uncopied);
        since.is_some_and(|since| since + COPY_AFTER <= now)
    }

    /// Digest of the file as it is; `None` when there is none.
    fn on_disk(&self) -> Result<Option<String>, FileError> {
        match self.store.read(&self.file) {
            Ok(bytes) => Ok(Some(digest(&bytes))),
            Err(FileError::Missing { .. }) => Ok(None),
            Err(error) => Err(error),
        }
    }

    fn save(&mut self, now: Duration) {
        if self.has_copy && self.waiting.as_ref().is_some_and(|waiting| waiting.uncopied.is_some()) {
            // Killed between the file and the removal of the copy, an older copy would pass for another's work.
            self.copy(now);
        }
        let Some(waiting) = self.waiting.clone() else { return };
        let text = write_design(&waiting.design, self.wording.as_deref());
        let outcome = self.on_disk().and_then(|found| {
            // A file that is not there is written over nothing.
            if found.is_some() && found != self.known {
                return Ok(false);
            }
            if found.as_deref() != Some(digest(text.as_bytes()).as_str()) {
                self.store.write(&self.file, text.as_bytes())?;
            }
            Ok(true)
        });
        match outcome {
            Ok(true) => {
                self.knows(text);
                self.waiting = None;
                self.trouble = None;
                self.remove_copies();
            }
            Ok(false) => {
                self.has_conflict = true;
                self.copy(now);
            }
            Err(error) => {
                self.copy(now);
                self.trouble = Some((Trouble::of(&error), now + TRY_AGAIN));
            }
        }
    }

    /// Writes the recovery copy: beside the design, else into the refuge.
    fn copy(&mut self, now: Duration) {
        let Some(waiting) = self.waiting.clone() else { return };
        let copy = RecoveryCopy {
            grew_from: self.known.clone(),
            changes: waiting.changes,
            last: waiting.last.clone(),
            text: write_design(&waiting.design, self.wording.as_deref()),
        };
        let bytes = copy.write();
        let mut error = None;
        for (number, place) in copy_files(&self.file, self.refuge.as_deref()).iter().enumerate() {
            match self.store.write(place, bytes.as_bytes()) {
                Ok(()) => {
                    self.has_copy = true;
                    if let Some(waiting) = &mut self.waiting {
                        waiting.uncopied = None;
                    }
                    // A copy in the refuge counts before one beside the design, so an older one must not stay there.
                    if number == 0
                        && let Some(refuge) = copy_files(&self.file, self.refuge.as_deref()).get(1)
                    {
                        let _ = self.store.remove(refuge);
                    }
                    return;
                }
                Err(found) => error = error.or(Some(found)),
            }
        }
        if let Some(error) = error {
            self.trouble = Some((Trouble::of(&error), now + TRY_AGAIN));
        }
    }

    pub(super) fn remove_copies(&mut self) {
        if std::mem::take(&mut self.has_copy) {
            for place in copy_files(&self.file, self.refuge.as_deref()) {
                // One that stays behind is the same as the file, and is seen to be so when it is opened next.
                let _ = self.store.remove(&place);
            }
        }
    }
}

impl Waiting {
    fn due(&self) -> Duration {
        (self.last_at + SAVE_AFTER).min(self.first_at + SAVE_AT_LATEST)
    }
}

/// Where the recovery copies of a design may stand: beside it, and in the refuge.
pub(super) fn copy_files(file: &Path, refuge: Option<&Path>) -> Vec<PathBuf> {
    let name = file.file_name().unwrap_or_default().to_string_lossy();
    let place = file.canonicalize().unwrap_or_else(|_| file.to_owned());
    let sum = digest(place.to_string_lossy().as_bytes());
    let short = sum.get(..16).unwrap_or(&sum);
    let beside = file.with_file_name(format!(".{name}.recovery"));
    [beside].into_iter().chain(refuge.map(|refuge| refuge.join(format!("{short}.recovery")))).collect()
}

/// The side file that carries the lock of a design.
pub(super) fn side_file(file: &Path) -> PathBuf {
    file.with_file_name(format!(".{}.open", file.file_name().unwrap_or_default().to_string_lossy()))
}

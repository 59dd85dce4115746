//! A design that is open, with the threads that look after it.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant, SystemTime};

use super::follow::Followed;
use super::hand::Hand;
use super::room::Setting;
use super::saver::{Answer, Order, Saver};
use super::wake::Waker;
use super::worker::Worker;
use crate::art::{Shelf, load_art};
use crate::edits::bench::{Versions, Workbench};
use crate::edits::choose::Choice;
use crate::edits::journal::State;
use crate::edits::{Edit, Journal, WholeEdit};
use crate::panels::Said;
use crate::proof::approval::Record;
use crate::proof::view::NAMED;
use crate::scene::Rig;

/// The file that holds a design, in its folder.
pub(super) const FILE: &str = "cake.toml";

/// A design that is open.
pub(super) struct Open {
    /// The how-manieth that was opened.
    pub number: u32,
    pub bench: Workbench,
    pub file: PathBuf,
    pub state: State,
    pub rig: Rig,
    pub hand: Hand,
    pub followed: Followed,
    /// Size and time of change of each file of art when it was read last.
    stamps: BTreeMap<String, Option<(u64, SystemTime)>>,
    /// What the pointer was over last.
    pub pointed: Option<Choice>,
    saver: Saver,
    worker: Worker,
    seen: Versions,
    /// The state of the design that was given to the worker last.
    asked: Option<Versions>,
    /// Art that is named and can't be read; told once.
    missing: BTreeSet<String>,
    began: Instant,
}

impl Open {
    /// Opens a design by its folder or its file, and says what the person is to be told.
    ///
    /// # Errors
    /// A sentence, when it can't be opened.
    pub(super) fn read(path: &Path, setting: &Setting, waker: &Waker) -> Result<(Self, Vec<String>), String> {
        let began = setting.began;
        let file = if path.is_dir() { path.join(FILE) } else { path.to_owned() };
        let opened =
            Journal::open(&file, setting.refuge.as_deref(), began.elapsed()).map_err(|error| error.to_string())?;
        let (shelf, wrong) = load_art(folder_of(&file), opened.design.art_paths());
        if let Some((path, reason)) = wrong.first() {
            return Err(format!("{}: the art {path} can’t be used: {reason}", file.display()));
        }
        let bench = Workbench::new(opened.design, Arc::new(shelf)).map_err(|error| error.to_string())?;
        let state = opened.journal.state();
        let threads =
            |error: std::io::Error| format!("the system gives no more threads ({error}); close other programs");
        let saver = Saver::start(opened.journal, began, waker.clone()).map_err(threads)?;
        let worker = Worker::start(waker.clone()).map_err(threads)?;
        let seen = bench.versions();
        let [(_, customer), ..] = NAMED;
        let rig = Rig::whole(customer);
        let mut open = Self {
            number: 0,
            bench,
            file,
            state,
            rig,
            hand: Hand::Free,
            followed: Followed::default(),
            stamps: BTreeMap::new(),
            pointed: None,
            saver,
            worker,
            seen,
            asked: None,
            missing: BTreeSet::new(),
            began,
        };
        open.stamps = open.stamps();
        let mut said = opened.said;
        said.extend(open.read_approvals().err());
        Ok((open, said))
    }

    /// Whether it is the design of this folder or file.
    pub(super) fn is_of(&self, path: &Path) -> bool {
        let file = if path.is_dir() { path.join(FILE) } else { path.to_owned() };
        file.canonicalize().is_ok_and(|file| self.file.canonicalize().is_ok_and(|own| own == file))
    }

    /// The folder that holds the design and its art.
    pub(super) fn folder(&self) -> &Path {
        folder_of(&self.file)
    }

    /// The time since the program began.
    pub(super) fn now(&self) -> Duration {
        self.began.elapsed()
    }

    pub(super) fn ask_saver(&self, order: Order) {
        self.saver.ask(order);
    }

    /// Whether it can be changed here.
    pub(super) const fn is_read_only(&self) -> bool {
        matches!(self.state, State::ReadOnly(_))
    }

    /// Saves what is not saved yet, and waits for it; how it then stands.
    pub(super) fn save_now(&mut self, said: &mut Vec<Said>) -> &State {
        self.bench.drop_gesture();
        self.tell_saver();
        let answers = self.saver.save_now();
        self.hear(answers, said);
        &self.state
    }

    /// Takes what the threads have, and gives them what is new.
    pub(super) fn keep_up(&mut self, said: &mut Vec<Said>) {
        self.hear_saver(said);
        if let Some(done) = self.worker.done() {
            self.bench.take(done);
        }
        self.stock_up(said);
        self.tell_saver();
        let now = self.bench.versions();
        let is_new = self.asked.is_none_or(|asked| (asked.settled, asked.design) != (now.settled, now.design));
        if is_new && let Some(job) = self.bench.job() {
            self.worker.ask(job);
            self.asked = Some(now);
        }
        if let Err(error) = self.followed.follow(&self.bench) {
            said.push(Said { words: error.to_string(), mend: "change its art or its size".to_owned(), folder: None });
        }
    }

    fn tell_saver(&mut self) {
        let now = self.bench.versions();
        if now.design != self.seen.design {
            // A gesture under way counts too, so that a long one is not lost.
            let last = self.bench.history().undo_label().unwrap_or("change").to_owned();
            self.saver.ask(Order::Changed(Arc::clone(self.bench.design()), last));
        }
        self.seen = now;
    }

    fn hear_saver(&mut self, said: &mut Vec<Said>) {
        let answers = self.saver.answers().collect();
        self.hear(answers, said);
    }

    fn hear(&mut self, answers: Vec<Answer>, said: &mut Vec<Said>) {
        for answer in answers {
            match answer {
                Answer::State(state) | Answer::Asked(state) => self.state = state,
                Answer::Moved(file) => self.file = file,
                Answer::Failed(words) => said.push(Said { words, mend: String::new(), folder: None }),
                Answer::Theirs(theirs) => {
                    let taken = Edit::Whole(WholeEdit::Become(Box::new((*theirs).clone())));
                    if let Err(refusal) = self.bench.edit(&taken, self.began.elapsed()) {
                        said.push(Said { words: refusal.to_string(), mend: refusal.mend().to_owned(), folder: None });
                    }
                    // It is what the file has: nothing of it waits to be saved.
                    self.seen = self.bench.versions();
                }
            }
        }
    }

    /// Reads art that the design names and the shelf lacks.
    fn stock_up(&mut self, said: &mut Vec<Said>) {
        let design = Arc::clone(self.bench.design());
        let shelf = self.bench.shelf();
        let lacks = |path: &&str| shelf.get(path).is_none() && !self.missing.contains(*path);
        let lacking: Vec<&str> = design.art_paths().into_iter().filter(lacks).collect();
        if lacking.is_empty() {
            return;
        }
        let (found, wrong) = load_art(self.folder(), lacking);
        for (path, reason) in wrong {
            let words = format!("the art {path} can’t be used: {reason}");
            said.push(Said { words, mend: "bring it in again, or undo".to_owned(), folder: None });
            self.missing.insert(path);
        }
        let mut all = Shelf::clone(self.bench.shelf());
        let found: Vec<_> = found.iter().map(|(path, art)| (path.to_owned(), Arc::clone(art))).collect();
        if !found.is_empty() {
            found.into_iter().for_each(|(path, art)| all.insert(path, art));
            self.bench.restock(Arc::new(all));
        }
    }

    /// Size and time of change of every file of art that the design names.
    fn stamps(&self) -> BTreeMap<String, Option<(u64, SystemTime)>> {
        let stamp = |path: &str| {
            let facts = std::fs::metadata(self.folder().join(path)).ok()?;
            Some((facts.len(), facts.modified().ok()?))
        };
        self.bench.design().art_paths().into_iter().map(|path| (path.to_owned(), stamp(path))).collect()
    }

    /// Reads which revision was approved last.
    ///
    /// # Errors
    /// A sentence, when the record can't be read; what was known of it stays.
    pub(super) fn read_approvals(&mut self) -> Result<(), String> {
        let record = Record::beside(self.folder()).map_err(|error| error.to_string())?;
        self.bench.approve(record.last().cloned());
        Ok(())
    }

    /// Reads its art anew when another program changed any of it.
    pub(super) fn read_art_again(&mut self) {
        let stamps = self.stamps();
        if std::mem::replace(&mut self.stamps, stamps) == self.stamps {
            return;
        }
        self.missing.clear();
        let (found, _) = load_art(folder_of(&self.file), self.bench.design().art_paths());
        let before = self.bench.shelf();
        let is_same = |(path, art): (&str, &Arc<crate::art::Art>)| {
            before.get(path).is_some_and(|was| was.digest() == art.digest())
        };
        if found.iter().all(is_same) {
            return;
        }
        let mut all = Shelf::clone(before);
        for (path, art) in found.iter() {
            all.insert(path, Arc::clone(art));
        }
        self.bench.restock(Arc::new(all));
    }
}

/// Whether a path may be that of a design: a folder, or a file such as its `cake.toml`.
pub(super) fn may_be_design(path: &Path) -> bool {
    path.is_dir() || path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("toml"))
}

fn folder_of(file: &Path) -> &Path {
    file.parent().unwrap_or(Path::new("."))
}

//! The journal in a thread of its own: the window never waits for the disk.

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread::{Builder, JoinHandle};
use std::time::{Duration, Instant};

use super::wake::Waker;
use crate::design::Design;
use crate::edits::Journal;
use crate::edits::journal::State;

/// How often it looks whether another changed the file while nothing is done here.
const LOOK: Duration = Duration::from_secs(10);

/// How long a closing window waits for the disk.
const PATIENCE: Duration = Duration::from_secs(3);

/// What is asked of it.
#[derive(Debug)]
pub(super) enum Order {
    /// The design changed by a step of this name.
    Changed(Arc<Design>, String),
    /// Save at once.
    Save,
    /// Look whether another changed the file.
    Look,
    /// End a conflict with what the file has.
    TakeTheirs,
    /// End a conflict with two files.
    KeepMine(Arc<Design>),
}

/// What it says.
#[derive(Debug)]
pub(super) enum Answer {
    /// How the design stands.
    State(State),
    /// How it stands after it was asked to save.
    Asked(State),
    /// The design as another left it.
    Theirs(Arc<Design>),
    /// It is saved in this file from now on.
    Moved(PathBuf),
    /// An order could not be carried out.
    Failed(String),
}

/// The way to the journal's thread.
#[derive(Debug)]
pub(super) struct Saver {
    orders: Option<Sender<Order>>,
    answers: Receiver<Answer>,
    thread: Option<JoinHandle<()>>,
}

impl Saver {
    /// Gives a journal its thread. Times are counted from `began`.
    pub(super) fn start(journal: Journal, began: Instant, waker: Waker) -> std::io::Result<Self> {
        let (orders, inbox) = channel();
        let (outbox, answers) = channel();
        let desk = Desk { journal, began, outbox, waker, told: None };
        let thread = Builder::new().name("saver".to_owned()).spawn(move || desk.run(&inbox))?;
        Ok(Self { orders: Some(orders), answers, thread: Some(thread) })
    }

    pub(super) fn ask(&self, order: Order) {
        if let Some(orders) = &self.orders {
            // A thread that is gone was told to go: there is nothing left to save then.
            let _ = orders.send(order);
        }
    }

    pub(super) fn answers(&self) -> impl Iterator<Item = Answer> {
        self.answers.try_iter()
    }

    /// Saves at once, and waits for it a moment; how the design then stands, and what else was said meanwhile.
    pub(super) fn save_now(&self) -> Vec<Answer> {
        let mut answers: Vec<Answer> = self.answers().collect();
        self.ask(Order::Save);
        let until = Instant::now() + PATIENCE;
        while let Ok(answer) = self.answers.recv_timeout(until.saturating_duration_since(Instant::now())) {
            let is_the_one = matches!(answer, Answer::Asked(_));
            answers.push(answer);
            if is_the_one {
                break;
            }
        }
        answers
    }

    /// Saves what is not saved yet, and ends.
    pub(super) fn finish(&mut self) {
        self.orders = None;
        if let Some(thread) = self.thread.take() {
            // It saves before it ends; that it panicked would have left the recovery copy.
            let _ = thread.join();
        }
    }
}

impl Drop for Saver {
    fn drop(&mut self) {
        self.finish();
    }
}

struct Desk {
    journal: Journal,
    began: Instant,
    outbox: Sender<Answer>,
    waker: Waker,
    told: Option<State>,
}

impl Desk {
    fn run(mut self, inbox: &Receiver<Order>) {
        self.tell(self.journal.state());
        loop {
            let due = self.journal.next().map(|at| at.saturating_sub(self.began.elapsed()));
            match inbox.recv_timeout(due.map_or(LOOK, |due| due.min(LOOK))) {
                Ok(order) => self.carry_out(order),
                Err(RecvTimeoutError::Timeout) if due.is_none() => {
                    self.journal.look();
                }
                Err(RecvTimeoutError::Timeout) => {}
                Err(RecvTimeoutError::Disconnected) => break,
            }
            let state = self.journal.tick(self.began.elapsed());
            self.tell(state);
        }
        let state = self.journal.save_now(self.began.elapsed());
        self.tell(state);
    }

    fn carry_out(&mut self, order: Order) {
        let now = self.began.elapsed();
        match order {
            Order::Changed(design, last) => self.journal.changed(&design, &last, now),
            Order::Save => {
                let state = self.journal.save_now(now);
                self.told = Some(state.clone());
                // Whoever asks waits for an answer, also when nothing changed; what was told before is none.
                self.say(Answer::Asked(state));
            }
            Order::Look => {
                self.journal.look();
            }
            Order::TakeTheirs => match self.journal.take_theirs() {
                Ok(theirs) => self.say(Answer::Theirs(theirs)),
                Err(error) => self.say(Answer::Failed(error.to_string())),
            },
            Order::KeepMine(mine) => match self.journal.keep_mine_beside(&mine) {
                Ok(file) => self.say(Answer::Moved(file)),
                Err(error) => self.say(Answer::Failed(error.to_string())),
            },
        }
    }

    fn tell(&mut self, state: State) {
        if self.told.as_ref() != Some(&state) {
            self.told = Some(state.clone());
            self.say(Answer::State(state));
        }
    }

    fn say(&self, answer: Answer) {
        // A window that is gone needs no answer.
        let _ = self.outbox.send(answer);
        self.waker.wake();
    }
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;
    use crate::edits::{Edit, WholeEdit, apply};
    use crate::files::{Overwrite, write_whole};

    const TEXT: &str = "title = 'before'\nunit = 'mm'\n[[tier]]\nname = 'base'\nsize = 200\nheight = 100\n";

    fn opened(file: &std::path::Path) -> (Saver, Arc<Design>) {
        let opened = Journal::open(file, None, Duration::ZERO).expect("a design");
        let saver = Saver::start(opened.journal, Instant::now(), Waker::new(|| {})).expect("a thread");
        (saver, opened.design)
    }

    fn titled(design: &Design, title: &str) -> Arc<Design> {
        Arc::new(apply(design, &Edit::Whole(WholeEdit::Title(title.to_owned()))).expect("a title"))
    }

    #[test]
    fn what_changed_is_saved_when_asked_and_when_it_ends() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("cake.toml");
        write_whole(&file, TEXT.as_bytes(), Overwrite::Document).expect("written");
        let (mut saver, design) = opened(&file);
        saver.ask(Order::Changed(titled(&design, "asked"), "change the title".to_owned()));
        let answers = saver.save_now();
        assert!(matches!(answers.last(), Some(Answer::Asked(State::Saved))), "{answers:?}");
        assert!(fs::read_to_string(&file).expect("there").contains("asked"));
        saver.ask(Order::Changed(titled(&design, "ended"), "change the title".to_owned()));
        saver.finish();
        assert!(fs::read_to_string(&file).expect("there").contains("ended"));
        assert_eq!(
            fs::read_dir(folder.path())
                .expect("there")
                .filter(|entry| {
                    entry.as_ref().is_ok_and(|entry| entry.file_name().to_string_lossy().contains("recovery"))
                })
                .count(),
            0
        );
    }

    #[test]
    fn what_another_wrote_is_seen_and_taken_or_kept_beside() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("cake.toml");
        write_whole(&file, TEXT.as_bytes(), Overwrite::Document).expect("written");
        let (saver, design) = opened(&file);
        let theirs = TEXT.replace("before", "theirs");
        write_whole(&file, theirs.as_bytes(), Overwrite::Document).expect("written");
        saver.ask(Order::Changed(titled(&design, "mine"), "change the title".to_owned()));
        let answers = saver.save_now();
        assert!(matches!(answers.last(), Some(Answer::Asked(State::Conflict))), "{answers:?}");
        assert_eq!(fs::read_to_string(&file).expect("there"), theirs);
        saver.ask(Order::KeepMine(titled(&design, "mine")));
        let answers = saver.save_now();
        let moved = answers.iter().find_map(|answer| match answer {
            Answer::Moved(file) => Some(file.clone()),
            _ => None,
        });
        assert!(fs::read_to_string(moved.expect("a file beside it")).expect("there").contains("mine"));
    }
}

//! A design saves itself, and nothing is lost: not by a kill at any moment, a full disk, a second window, a foreign hand.

use std::collections::BTreeMap;
use std::fs;
use std::io::{self, BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicU8, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use tierproof::design::{Design, read_design};
use tierproof::edits::journal::{Journal, JournalError, Opened, State, Store};
use tierproof::edits::{Edit, WholeEdit, apply};
use tierproof::files::{FileError, Overwrite, write_whole};

use super::dice::Dice;

const TEXT: &str = "# by hand\nunit = 'in'\ntitle = 'A'  # kept\n[[tier]]\nname = 'base'\nsize = 7\nheight = 5\n";

fn titled(design: &Arc<Design>, title: &str) -> Arc<Design> {
    Arc::new(apply(design, &Edit::Whole(WholeEdit::Title(title.to_owned()))).unwrap())
}

fn ms(count: u64) -> Duration {
    Duration::from_millis(count)
}

/// As another program would.
fn put(path: impl AsRef<Path>, text: impl AsRef<str>) {
    write_whole(path.as_ref(), text.as_ref().as_bytes(), Overwrite::Document).unwrap();
}

/// Opens a design that was closed or killed just now. A process that another test is starting at this moment has, for as
/// long as it takes it to start, a share in every lock of this program.
fn open_again(file: &Path) -> Opened {
    let began = Instant::now();
    loop {
        let opened = Journal::open(file, None, ms(0)).unwrap();
        let is_locked = matches!(opened.journal.state(), State::ReadOnly(_));
        if !is_locked || began.elapsed() > Duration::from_secs(20) {
            return opened;
        }
        std::thread::sleep(ms(2));
    }
}

struct Folder {
    folder: tempfile::TempDir,
}

impl Folder {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        put(folder.path().join("cake.toml"), TEXT);
        Self { folder }
    }

    fn file(&self) -> PathBuf {
        self.folder.path().join("cake.toml")
    }

    fn text(&self) -> String {
        fs::read_to_string(self.file()).unwrap()
    }

    fn names(&self) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(self.folder.path())
            .unwrap()
            .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }
}

#[test]
fn a_change_is_copied_then_saved_then_the_copy_goes() {
    let folder = Folder::new();
    let opened = Journal::open(&folder.file(), None, ms(0)).unwrap();
    let (mut journal, design) = (opened.journal, opened.design);
    assert!(opened.said.is_empty());
    assert_eq!((journal.tick(ms(5)), journal.next()), (State::Saved, None));
    journal.changed(&titled(&design, "B"), "change the title", ms(1000));
    assert_eq!((journal.tick(ms(1100)), journal.next()), (State::Unsaved, Some(ms(1300))));
    assert_eq!(folder.names(), [".cake.toml.open", "cake.toml"]);
    journal.tick(ms(1300));
    assert_eq!(folder.names(), [".cake.toml.open", ".cake.toml.recovery", "cake.toml"]);
    assert_eq!((folder.text().as_str(), journal.next()), (TEXT, Some(ms(1700))));
    assert_eq!(journal.tick(ms(1700)), State::Saved);
    assert_eq!(folder.text(), TEXT.replace("'A'", "\"B\""), "comments are kept");
    assert_eq!(folder.names(), [".cake.toml.open", "cake.toml"]);
    // Whoever never rests is saved too.
    for step in 0..60 {
        journal.changed(&titled(&design, &format!("C{step}")), "change the title", ms(2000 + step * 100));
        journal.tick(ms(2000 + step * 100));
    }
    assert!(folder.text().contains("C50"), "{}", folder.text());
    journal.changed(&titled(&design, "D"), "change the title", ms(9000));
    assert_eq!(journal.save_now(ms(9000)), State::Saved);
    assert!(folder.text().contains("\"D\""));
}

#[test]
fn a_second_window_is_told_and_only_reads_until_the_first_is_closed() {
    let folder = Folder::new();
    let first = Journal::open(&folder.file(), None, ms(0)).unwrap();
    let mut second = Journal::open(&folder.file(), None, ms(0)).unwrap();
    assert!(second.said[0].starts_with("this design is open in another window"), "{:?}", second.said);
    second.journal.changed(&titled(&second.design, "B"), "change the title", ms(0));
    assert!(matches!(second.journal.tick(ms(9000)), State::ReadOnly(_)));
    assert_eq!((folder.text().as_str(), second.journal.next()), (TEXT, None));
    drop(first);
    let began = Instant::now();
    while second.journal.look() != State::Unsaved {
        assert!(began.elapsed() < Duration::from_secs(20), "{:?}", second.journal.state());
    }
    assert_eq!(second.journal.tick(ms(9000)), State::Saved);
}

#[test]
fn what_another_wrote_is_never_written_over() {
    let folder = Folder::new();
    let opened = Journal::open(&folder.file(), None, ms(0)).unwrap();
    let (mut journal, design) = (opened.journal, opened.design);
    let theirs = TEXT.replace("'A'", "'theirs'");
    put(folder.file(), &theirs);
    let mine = titled(&design, "mine");
    journal.changed(&mine, "change the title", ms(0));
    assert_eq!(journal.tick(ms(2000)), State::Conflict);
    assert_eq!(folder.text(), theirs);
    // Killed now, both are still there.
    drop(journal);
    let mut again = open_again(&folder.file());
    assert_eq!((again.design.title.as_str(), again.journal.state()), ("mine", State::Conflict));
    assert!(again.said[0].contains("recovered one change that was not saved: change the title"), "{:?}", again.said);
    let beside = again.journal.keep_mine_beside(&again.design).unwrap();
    assert_eq!(beside, folder.file().with_file_name("cake-mine.toml"));
    assert_eq!((folder.text(), again.journal.state()), (theirs, State::Saved));
    again.journal.changed(&titled(&mine, "mine too"), "change the title", ms(0));
    assert_eq!(again.journal.tick(ms(900)), State::Saved);
    assert!(fs::read_to_string(beside).unwrap().contains("mine too"));
    // The first file is free again, and another window may take what it has.
    let mut other = open_again(&folder.file());
    put(folder.file(), TEXT.replace("'A'", "'once more'"));
    assert_eq!(other.journal.look(), State::Conflict);
    assert_eq!(other.journal.take_theirs().unwrap().title, "once more");
    assert_eq!(other.journal.state(), State::Saved);
    put(folder.file(), "no design");
    assert_eq!(other.journal.look(), State::Conflict);
    assert!(matches!(other.journal.take_theirs(), Err(JournalError::Design(_))));
}

#[test]
fn a_folder_that_vanishes_is_said_and_comes_back_with_everything() {
    let folder = Folder::new();
    let refuge = tempfile::tempdir().unwrap();
    let opened = Journal::open(&folder.file(), Some(refuge.path()), ms(0)).unwrap();
    let mut journal = opened.journal;
    let elsewhere = folder.folder.path().with_extension("moved");
    fs::rename(folder.folder.path(), &elsewhere).unwrap();
    journal.changed(&titled(&opened.design, "B"), "change the title", ms(0));
    let State::Troubled(trouble) = journal.tick(ms(800)) else { panic!("{:?}", journal.state()) };
    assert_eq!(trouble.sentence, "the design’s folder is gone");
    assert!(!folder.folder.path().exists(), "it is not made anew");
    assert_eq!(fs::read_dir(refuge.path()).unwrap().count(), 1, "the change is kept in the refuge");
    assert_eq!(journal.next(), Some(ms(2800)));
    fs::rename(&elsewhere, folder.folder.path()).unwrap();
    assert!(matches!(journal.tick(ms(2000)), State::Troubled(_)));
    assert_eq!(journal.tick(ms(2800)), State::Saved);
    assert!(folder.text().contains("\"B\""));
    assert_eq!(fs::read_dir(refuge.path()).unwrap().count(), 0);
}

/// A disk in memory that fails as it is told to.
#[derive(Debug, Clone, Default)]
struct Fake {
    files: Arc<Mutex<BTreeMap<PathBuf, Vec<u8>>>>,
    fails: Arc<AtomicU8>,
}

impl Store for Fake {
    fn read(&self, path: &Path) -> Result<Vec<u8>, FileError> {
        let missing = || FileError::Missing { path: path.to_owned() };
        self.files.lock().unwrap().get(path).cloned().ok_or_else(missing)
    }

    fn write(&self, path: &Path, bytes: &[u8]) -> Result<(), FileError> {
        let kind = match self.fails.load(Ordering::Relaxed) {
            0 => {
                self.files.lock().unwrap().insert(path.to_owned(), bytes.to_vec());
                return Ok(());
            }
            1 => io::ErrorKind::StorageFull,
            2 => io::ErrorKind::ReadOnlyFilesystem,
            _ => io::ErrorKind::Other,
        };
        Err(FileError::Unwritable { path: path.to_owned(), reason: kind.into() })
    }

    fn remove(&self, path: &Path) -> Result<(), FileError> {
        self.files.lock().unwrap().remove(path);
        Ok(())
    }
}

#[test]
fn a_full_disk_and_a_read_only_one_are_said_and_tried_again() {
    let folder = Folder::new();
    let disk = Fake::default();
    disk.write(&folder.file(), TEXT.as_bytes()).unwrap();
    let opened = Journal::open_in(Box::new(disk.clone()), &folder.file(), (None, ms(0))).unwrap();
    let (mut journal, mut now) = (opened.journal, 0);
    let cases =
        [(1, "the disk is full"), (2, "the design’s folder can’t be written"), (3, "can't be written, and nothing")];
    for (fails, words) in cases {
        let title = format!("after {fails}");
        journal.changed(&titled(&opened.design, &title), "change the title", ms(now));
        disk.fails.store(fails, Ordering::Relaxed);
        let State::Troubled(trouble) = journal.tick(ms(now + 800)) else { panic!("{:?}", journal.state()) };
        assert!(trouble.sentence.contains(words), "{trouble:?}");
        assert!(!trouble.mend.is_empty());
        disk.fails.store(0, Ordering::Relaxed);
        assert_eq!(journal.tick(journal.next().unwrap()), State::Saved);
        assert!(String::from_utf8(disk.read(&folder.file()).unwrap()).unwrap().contains(&title));
        now += 10_000;
    }
    assert_eq!(disk.files.lock().unwrap().len(), 1, "no recovery copy is left");
}

#[test]
fn a_design_that_can_no_longer_be_read_is_recovered_from_its_copy() {
    let folder = Folder::new();
    let opened = Journal::open(&folder.file(), None, ms(0)).unwrap();
    let mut journal = opened.journal;
    journal.changed(&titled(&opened.design, "B"), "change the title", ms(0));
    journal.tick(ms(300));
    drop(journal);
    fs::remove_file(folder.file()).unwrap();
    let mut again = open_again(&folder.file());
    assert_eq!((again.design.title.as_str(), again.said.len()), ("B", 1));
    assert_eq!(again.journal.tick(ms(700)), State::Saved);
    assert!(folder.text().contains("# kept"));
    drop(again);
    // A torn copy is said, and never in the way.
    put(folder.file().with_file_name(".cake.toml.recovery"), "# Recovery copy");
    let again = open_again(&folder.file());
    assert_eq!(again.design.title, "B");
    assert!(again.said[0].contains("could not be read"), "{:?}", again.said);
}

const CHILD: &str = "TIERPROOF_TEST_SAVING_CHILD";

/// Not a test of its own: the child that is killed, in this same program. Its time goes on by itself, 25 ms a change, so that
/// a busy machine makes nothing later than it is, and the kill falls into a write as often as can be.
#[test]
fn child() {
    let Ok(file) = std::env::var(CHILD) else { return };
    let began = Instant::now();
    let mut now = ms(0);
    let opened = open_again(Path::new(&file));
    let (mut journal, mut design) = (opened.journal, opened.design);
    let mut out = io::stdout();
    let mut count = number(&design);
    while began.elapsed() < Duration::from_secs(20) {
        count += 1;
        design = titled(&design, &count.to_string());
        writeln!(out, "change {count} {}", now.as_millis()).unwrap();
        out.flush().unwrap();
        journal.changed(&design, "change the title", now);
        journal.tick(now);
        // Rests now and then, so that it is saved and not only copied.
        now += ms(if count.is_multiple_of(23) { 800 } else { 25 });
        journal.tick(now);
    }
}

fn number(design: &Design) -> u64 {
    design.title.parse().unwrap()
}

#[test]
fn two_hundred_kills_lose_no_design_and_at_most_a_second() {
    let rounds = std::thread::scope(|scope| {
        let workers: Vec<_> = (0..10).map(|seed| scope.spawn(move || kills(seed, 20))).collect();
        workers.into_iter().map(|worker| worker.join().unwrap()).fold((0, 0), |sum, one| (sum.0 + one.0, sum.1 + one.1))
    });
    assert_eq!(rounds.0, 200);
    assert!(rounds.1 > 20, "recovery copies were needed now and then: {}", rounds.1);
}

/// Starts, kills and looks, over and over on one design; gives how often, and how often something was recovered.
fn kills(seed: u64, rounds: u32) -> (u32, u32) {
    let folder = Folder::new();
    put(folder.file(), TEXT.replace("'A'", "'0'"));
    let mut dice = Dice::new(seed + 77);
    let mut recovered = 0;
    for round in 0..rounds {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["saving::child", "--exact", "--nocapture", "--test-threads=1"])
            .env(CHILD, folder.file())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut out = BufReader::new(child.stdout.take().unwrap());
        let mut told = String::new();
        while !told.contains("change ") {
            assert!(out.read_line(&mut told).unwrap() > 0, "the child ended by itself: {told}");
        }
        std::thread::sleep(ms(u64::from(dice.below(60))));
        child.kill().unwrap();
        child.wait().unwrap();
        out.read_to_string(&mut told).unwrap();
        recovered += u32::from(look_after(&folder, (&told, round)));
    }
    (rounds, recovered)
}

/// Looks at what a kill left: a design, no older than a second; whether something had to be recovered.
fn look_after(folder: &Folder, (told, round): (&str, u32)) -> bool {
    let text = folder.text();
    read_design(&text, "cake.toml").unwrap_or_else(|problems| panic!("round {round}: {problems}\n{text}"));
    let opened = open_again(&folder.file());
    let is_plain = |said: &String| said.starts_with("recovered ") && !said.contains("by another");
    assert!(opened.said.iter().all(is_plain), "round {round}: {:?}", opened.said);
    assert!(text.starts_with("# by hand\n") && text.contains("# kept"));
    let found = number(&opened.design);
    let lines = told.lines().filter_map(|line| line.strip_prefix("change ")?.split_once(' '));
    let changes: Vec<(u64, u64)> =
        lines.filter_map(|(count, at)| Some((count.parse().ok()?, at.parse().ok()?))).collect();
    if let (Some(first_lost), Some(last)) = (changes.iter().find(|(count, _)| *count > found), changes.last()) {
        let lost = last.1 - first_lost.1;
        assert!(lost <= 1000, "round {round}: {lost} ms were lost, from change {} on", first_lost.0);
    }
    !opened.said.is_empty()
}

//! Everything that the window keeps: the design that is open, how the person likes it, what they are to be told.

use std::path::{Path, PathBuf};
use std::time::Instant;

use egui::Rect;

use super::likes;
use super::maker::{Make, Maker};
use super::open::{Open, may_be_design};
use super::pictures::Album;
use super::recent::RecentList;
use super::wake::Waker;
use crate::edits::bench::Versions;
use crate::edits::journal::State;
use crate::files::{Overwrite, write_whole};
use crate::panels::{Memo, Said, Settings, words};
use crate::scene::{Darkroom, Rig};

/// What the window is opened with.
#[derive(Clone, Debug)]
pub struct Setting {
    /// The design to open; the start page without one.
    pub design: Option<PathBuf>,
    /// A folder of the program's own, for recovery copies that can't be kept beside a design.
    pub refuge: Option<PathBuf>,
    /// When the program began.
    pub began: Instant,
    /// How packs are made.
    pub make: Make,
}

/// The one value behind the window.
pub(super) struct Room {
    pub setting: Setting,
    pub waker: Waker,
    pub open: Option<Open>,
    /// How many designs were opened.
    opened: u32,
    pub settings: Settings,
    /// Where the panels left room for the cake, points.
    pub place: Rect,
    pub recent: RecentList,
    pub memo: Memo,
    pub said: Vec<Said>,
    pub readout: String,
    pub maker: Option<Maker>,
    pub album: Album,
    /// Set when the window is to close although something can't be saved.
    pub is_warned: bool,
    is_soft_told: bool,
    /// Why the graphics device is gone.
    pub fault: Option<String>,
}

impl Room {
    /// A room with the design that it is opened with.
    ///
    /// # Errors
    /// A sentence, when that design can't be opened.
    pub(super) fn enter(setting: Setting, waker: Waker) -> Result<Self, String> {
        let wake = waker.clone();
        let darkroom = Darkroom::open(move || wake.wake()).ok();
        let recent = RecentList::read(setting.refuge.as_deref());
        let settings = likes::read(setting.refuge.as_deref());
        let mut room = Self {
            setting,
            waker,
            open: None,
            opened: 0,
            settings,
            place: Rect::NOTHING,
            recent,
            memo: Memo::default(),
            said: Vec::new(),
            readout: String::new(),
            maker: None,
            album: Album::with(darkroom),
            is_warned: false,
            is_soft_told: false,
            fault: None,
        };
        if let Some(path) = room.setting.design.clone() {
            room.open(&path)?;
        }
        Ok(room)
    }

    /// Opens a design instead of the one that is open.
    ///
    /// # Errors
    /// A sentence, when it can't be opened; what was open stays open.
    pub(super) fn open(&mut self, path: &Path) -> Result<(), String> {
        if self.open.as_ref().is_some_and(|open| open.is_of(path)) {
            return Ok(());
        }
        // A picture dropped on the start page, say: nothing is to lie beside it afterwards.
        if !may_be_design(path) {
            return Err(format!("{} is no design; choose its folder, or the cake.toml in it", path.display()));
        }
        let (mut open, said) = Open::read(path, &self.setting, &self.waker)?;
        self.leave();
        self.opened += 1;
        open.number = self.opened;
        said.into_iter().for_each(|words| self.say(words, ""));
        self.recent.note(&open.file);
        self.open = Some(open);
        Ok(())
    }

    /// Closes the design that is open, saved.
    pub(super) fn leave(&mut self) {
        if let Some(mut open) = self.open.take() {
            open.save_now(&mut self.said);
        }
        self.memo = Memo::default();
    }

    /// What changes by wishes and is to be seen: when it differs, another frame is due.
    pub(super) fn seen(&self) -> (u32, Option<Versions>, Option<Rig>, Settings, usize) {
        let open = self.open.as_ref();
        let versions = open.map(|open| open.bench.versions());
        (self.opened, versions, open.map(|open| open.rig), self.settings, self.said.len())
    }

    /// What the window is called: the design, and the program.
    pub(super) fn title(&self) -> String {
        match self.open.as_ref().map(|open| open.bench.design().title.trim()) {
            Some(design) if !design.is_empty() => format!("{design} — {}", words::PROGRAM),
            _ => words::PROGRAM.to_owned(),
        }
    }

    /// Says once, ever, that no graphics card was found.
    pub(super) fn tell_of_softness(&mut self) {
        if std::mem::replace(&mut self.is_soft_told, true) {
            return;
        }
        let mark = self.setting.refuge.as_ref().map(|refuge| refuge.join("told-no-graphics-card"));
        if mark.as_ref().is_some_and(|mark| mark.exists()) {
            return;
        }
        if let Some(mark) = mark {
            // Where that can't be noted it is said again the next time.
            let _ = write_whole(&mark, b"", Overwrite::Document);
        }
        self.say(
            "No graphics card was found, so the processor draws: coarser while something moves, in full when it rests.",
            "",
        );
    }

    /// Tells the person something, once.
    pub(super) fn say(&mut self, words: impl Into<String>, mend: impl Into<String>) {
        let said = Said { words: words.into(), mend: mend.into(), folder: None };
        if self.said.last() != Some(&said) {
            self.said.push(said);
        }
    }

    /// Whether the window may close: everything is saved, or the person was told that it can't be.
    pub(super) fn may_close(&mut self) -> bool {
        if let Some(maker) = &self.maker {
            maker.call_off();
        }
        let Some(open) = &mut self.open else { return true };
        let mut said = Vec::new();
        let kept = match open.save_now(&mut said) {
            State::Saved | State::ReadOnly(_) => None,
            State::Unsaved => Some("the last changes are not saved".to_owned()),
            State::Conflict => Some("the file was changed by another; choose whose changes to keep".to_owned()),
            State::Troubled(trouble) => Some(format!("{}; {}", trouble.sentence, trouble.mend)),
        };
        self.said.extend(said);
        match kept {
            Some(words) if !self.is_warned => {
                self.is_warned = true;
                self.say(format!("Not saved: {words}"), "close again to leave all the same; a recovery copy is kept");
                false
            }
            _ => true,
        }
    }
}

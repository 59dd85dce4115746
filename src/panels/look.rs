//! What panels may see, and what they remember from frame to frame.

use std::path::{Path, PathBuf};

use super::dialogs::Dialogs;
use super::measured::Measuring;
use super::start::Pictures;
use super::tape::{Drawn, Outlines, TapeDrag, Textures};
use super::typing::Fields;
use super::{Pack, Settings};
use crate::edits::bench::Workbench;
use crate::edits::choose::Thing;
use crate::edits::journal::State;

/// Everything that panels may see of a design that is open.
#[derive(Clone, Copy, Debug)]
pub struct Look<'a> {
    /// The design and what follows from it.
    pub bench: &'a Workbench,
    /// How it stands with its file.
    pub desk: Desk<'a>,
    /// The pack that is being made.
    pub making: Option<Making<'a>>,
    /// Messages that are not read yet, the oldest first.
    pub said: &'a [Said],
    /// What the readout says while something is dragged on the cake; empty when nothing is.
    pub readout: &'a str,
    /// Colours, letters, motion.
    pub settings: Settings,
}

/// How a design stands with its file.
#[derive(Clone, Copy, Debug)]
pub struct Desk<'a> {
    /// Its file.
    pub file: &'a Path,
    /// Saved or not, and why not.
    pub state: &'a State,
}

/// A pack being made.
#[derive(Clone, Copy, Debug)]
pub struct Making<'a> {
    /// Which.
    pub pack: Pack,
    /// How far it is, 0 to 1.
    pub share: f32,
    /// What is being done: `picture 3 of 7`.
    pub words: &'a str,
}

/// A message to the person.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Said {
    /// In a sentence or two.
    pub words: String,
    /// What would mend it; empty when nothing is wrong.
    pub mend: String,
    /// A folder that it tells of, to be opened.
    pub folder: Option<PathBuf>,
}

/// What the start page may see.
#[derive(Clone, Copy, Debug)]
pub struct Entrance<'a> {
    /// Designs that were open lately, the latest first.
    pub recent: &'a [Recent],
    /// Messages that are not read yet: why something could not be opened.
    pub said: &'a [Said],
    /// Colours, letters, motion.
    pub settings: Settings,
}

/// A design that was open lately.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recent {
    /// Its title.
    pub title: String,
    /// Its folder.
    pub folder: PathBuf,
}

/// What panels remember from frame to frame; nothing of it is part of the design.
#[derive(Debug, Default)]
pub struct Memo {
    pub(super) fields: Fields,
    pub(super) card_of: Option<Thing>,
    pub(super) dialogs: Dialogs,
    pub(super) measuring: Option<Measuring>,
    pub(super) findings_open: bool,
    pub(super) told: Option<usize>,
    pub(super) keys_open: bool,
    pub(super) dragged: Option<Thing>,
    pub(super) tape_tier: String,
    pub(super) tape_choice: u64,
    pub(super) tape_drag: Option<TapeDrag>,
    pub(super) tape_snapped: Vec<String>,
    pub(super) drawn: Option<Drawn>,
    pub(super) textures: Textures,
    pub(super) outlines: Outlines,
    pub(super) pictures: Pictures,
}

impl Memo {
    /// Whether a dialog or a form has the keys: a window's own shortcuts wait then.
    #[must_use]
    pub const fn is_asking(&self) -> bool {
        self.dialogs.is_open() || self.measuring.is_some()
    }

    /// Whether something is being dragged on the tape.
    #[must_use]
    pub const fn is_dragging(&self) -> bool {
        self.tape_drag.is_some()
    }
}

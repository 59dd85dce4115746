//! What a person wishes: everything that panels ask for.

use std::path::PathBuf;

use super::Settings;
use crate::edits::choose::Thing;
use crate::edits::{CourseName, Edit};
use crate::proof::view::Direction;

/// Something that a panel asks for. The first group is done by [`super::serve`] alone; the rest needs the window.
#[derive(Clone, Debug, PartialEq)]
pub enum Wish {
    /// Carry out an edit as one step.
    Edit(Edit),
    /// Show what an edit would do: a field is being typed in, something is dragged.
    Hold(Edit),
    /// End the gesture: what it shows becomes one step.
    Drop,
    /// Give the gesture up.
    Cancel,
    /// Take back the last step.
    Undo,
    /// Do the last undone step again.
    Redo,
    /// Choose something, or nothing.
    Choose(Option<Thing>),

    /// Turn the view to something, and choose it.
    GoTo(Thing),
    /// Look at the cake from here.
    View(Direction),
    /// Open the design in this folder, or this file.
    Open(PathBuf),
    /// Begin a new design from the starter of this name, in a new folder.
    Begin(&'static str, PathBuf),
    /// Save at once.
    Save,
    /// Save a copy, with its art, in a new folder, and go on with that.
    SaveAs(PathBuf),
    /// Back to the start page.
    Leave,
    /// Copy a picture into the design's folder, and use it for this.
    BringIn(PathBuf, ForArt),
    /// Make a pack, into this folder.
    Make(Pack, PathBuf),
    /// Stop making the pack.
    StopMaking,
    /// Show a folder in the system's own window.
    Reveal(PathBuf),
    /// The file was changed by another: take what it has now.
    TakeTheirs,
    /// The file was changed by another: keep what is here, in a file of its own beside it.
    KeepMine,
    /// A message was read.
    Dismiss(usize),
    /// Other colours, letters or motion.
    Set(Settings),
}

/// What the person has pictures brought in for.
#[derive(Clone, Debug, PartialEq)]
pub enum ForArt {
    /// The art of a piece.
    Piece(String),
    /// The art of a wrap.
    Course(CourseName),
    /// A new wrap on this tier.
    NewWrap(String),
    /// A new topper on the top of this tier.
    NewTopper(String),
    /// A new plaque of this outline on the top of this tier.
    NewPlaque(String),
}

/// A set of files that is made from the design.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pack {
    /// For the customer.
    Proof,
    /// For the bench.
    Kitchen,
}

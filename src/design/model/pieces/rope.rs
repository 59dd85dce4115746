//! A free rope: a line along a side or a top, or a ring round something.

use crate::measure::Length;

/// A rolled rope, a flat band or a row of pearls that is not a course.
#[derive(Clone, Debug, PartialEq)]
pub struct Rope {
    /// Across a rope or a pearl; thickness of a band.
    pub diameter: Length,
    /// The line it follows.
    pub line: RopeLine,
    /// What it is made as.
    pub section: RopeSection,
    /// Name of the finish.
    pub finish: String,
}

/// What a free rope is made as.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RopeSection {
    /// One round roll.
    Round,
    /// Balls that touch.
    Pearls,
    /// A flat strip of this width.
    Band(Length),
}

/// The line a free rope follows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RopeLine {
    /// From end to end this long (along the tape on a side), centred on the piece's place.
    Straight {
        /// From end to end.
        length: Length,
        /// How far its middle hangs below its ends.
        sag: Length,
    },
    /// A ring of this diameter, to the rope's middle, centred on the piece's place.
    Ring(Length),
    /// The edge of what it lies on, its middle so far inside (below zero: outside).
    Edge(Length),
}

//! A free rope: a line along a side or a top, or a ring round something.

use crate::measure::Length;

/// A rolled rope that is not a course.
#[derive(Clone, Debug, PartialEq)]
pub struct Rope {
    /// Across the rope.
    pub diameter: Length,
    /// The line it follows.
    pub line: RopeLine,
    /// Made of balls that touch instead of one roll.
    pub pearls: bool,
    /// Name of the finish.
    pub finish: String,
}

/// The line a free rope follows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RopeLine {
    /// A straight line of this length (along the tape on a side), centred on the piece's place.
    Straight(Length),
    /// A ring of this diameter, to the rope's middle, centred on the piece's place.
    Ring(Length),
}

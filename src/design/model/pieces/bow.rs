//! A bow of ribbon paste.

use crate::measure::Length;

/// Loops, tails and a knot.
#[derive(Clone, Debug, PartialEq)]
pub struct Bow {
    /// Width of the ribbon.
    pub ribbon: Length,
    /// Number of loops.
    pub loops: u32,
    /// From knot to the far end of a loop.
    pub loop_length: Length,
    /// Number of tails.
    pub tails: u32,
    /// From knot to the end of a tail.
    pub tail_length: Length,
    /// How a tail ends.
    pub cut: TailCut,
    /// Left and right exchanged.
    pub mirror: bool,
    /// Of the ribbon.
    pub thickness: Length,
    /// Name of the finish.
    pub finish: String,
}

/// How the end of a tail is cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum TailCut {
    /// Square to the ribbon.
    #[default]
    Straight,
    /// At an angle.
    Slant,
    /// With a V.
    Notch,
}

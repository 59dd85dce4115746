//! A ball of paste.

use crate::measure::Length;

/// One ball on a top, a side or the board.
#[derive(Clone, Debug, PartialEq)]
pub struct Ball {
    /// Across.
    pub size: Length,
    /// Pressed so deep into its seat.
    pub sunk: Length,
    /// Held by a pin.
    pub pin: bool,
    /// Keeps this far from every seam, or a finding says so; `None`: it may lie on one.
    pub clear_of_seams: Option<Length>,
    /// Name of the finish.
    pub finish: String,
}

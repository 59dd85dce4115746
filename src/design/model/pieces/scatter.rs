//! A scatter: balls of given sizes over a stretch, from a seed, none touching.

use crate::measure::Length;

/// Many balls.
#[derive(Clone, Debug, PartialEq)]
pub struct Scatter {
    /// The stretch they are spread over.
    pub over: Over,
    /// Size across, and how many of that size.
    pub sizes: Vec<(Length, u32)>,
    /// The same seed gives the same places.
    pub seed: u64,
    /// Balls keep this far from every seam whose place is fixed; `None`: they may lie on one.
    pub clear_of_seams: Option<Length>,
    /// Name of the finish.
    pub finish: String,
}

/// The stretch of a scatter; a piece's own place does not move it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Over {
    /// On a side: along and up, each from and to.
    Tape {
        /// Along the tape, from and to.
        along: (Length, Length),
        /// Above the tier's foot, from and to.
        up: (Length, Length),
    },
    /// On a top or the board: x and z, each from and to.
    Plan {
        /// To the customer's right, from and to.
        x: (Length, Length),
        /// Towards the customer, from and to.
        z: (Length, Length),
    },
}

//! A solid: a simple body for the space that something takes.

use crate::measure::Length;

/// A placeholder with a footprint and a height.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    /// What it stands for.
    pub form: SolidForm,
    /// Across its footprint.
    pub across: Length,
    /// How high it stands.
    pub height: Length,
    /// Name of the finish.
    pub finish: String,
}

/// What a solid stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SolidForm {
    /// A round candle with a wick.
    Candle,
    /// A figure: a rounded body with a head.
    Figure,
    /// A cluster of flowers: a dome of blooms.
    Flowers,
}

//! A rod: a standing or leaning prop.

use crate::measure::Length;

/// Segments from the foot up, on a stick.
#[derive(Clone, Debug, PartialEq)]
pub struct Rod {
    /// Name of the tier whose top edge it rests on; `None`: it stands.
    pub leans_on: Option<String>,
    /// From the foot up.
    pub parts: Vec<RodPart>,
    /// What holds it in the board.
    pub stick: Option<Stick>,
}

/// One segment: a round bar from one diameter to another.
#[derive(Clone, Debug, PartialEq)]
pub struct RodPart {
    /// Along the rod.
    pub length: Length,
    /// Across at its lower end.
    pub from: Length,
    /// Across at its upper end.
    pub to: Length,
    /// Name of the finish.
    pub finish: String,
}

/// The stick inside a rod.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stick {
    /// Across the stick.
    pub diameter: Length,
    /// How deep it goes into the board.
    pub into_board: Length,
}

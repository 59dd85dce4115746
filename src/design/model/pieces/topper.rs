//! A topper: flat art standing up.

use crate::measure::Length;

/// Flat art standing up, with its layers and picks.
#[derive(Clone, Debug, PartialEq)]
pub struct Topper {
    /// Path of the art: SVG paths, or a picture that is traced.
    pub art: String,
    /// The side that is given; the other follows from the art.
    pub size: ReferenceSide,
    /// Of the front layer.
    pub thickness: Length,
    /// Name of the finish of the front.
    pub finish: String,
    /// The art's own colours are printed on the front.
    pub print: bool,
    /// A second layer behind, larger by its border.
    pub backing: Option<Backing>,
    /// What holds it.
    pub picks: Option<Picks>,
}

/// Which side of a piece is given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ReferenceSide {
    /// The width; the height follows.
    Width(Length),
    /// The height; the width follows.
    Height(Length),
    /// Both.
    Both(Length, Length),
}

/// The layer behind a topper's front.
#[derive(Clone, Debug, PartialEq)]
pub struct Backing {
    /// How far it stands out beyond the front, with round joins.
    pub border: Length,
    /// Its thickness.
    pub thickness: Length,
    /// Name of the finish.
    pub finish: String,
}

/// Sticks or pins that hold a piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Picks {
    /// How many.
    pub count: u32,
    /// Across one.
    pub diameter: Length,
    /// How deep it goes into the piece.
    pub into_piece: Length,
    /// How deep it goes into the cake.
    pub into_cake: Length,
    /// Thinner pins beside them, so that the piece can't twist about a single pick.
    pub side_pins: Option<SidePins>,
}

/// Pins on both sides of a piece's picks, against twisting.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SidePins {
    /// How many.
    pub count: u32,
    /// Across one.
    pub diameter: Length,
    /// How deep it goes into the piece.
    pub into_piece: Length,
    /// How deep it goes into the cake.
    pub into_cake: Length,
}

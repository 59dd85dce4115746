//! Finishes, pastes and printing sheets, which designs name.

use crate::art::Colour;
use crate::measure::Length;

/// How a surface takes the light.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Look {
    /// Rolled paste: matte.
    #[default]
    Paste,
    /// Paste with a soft sheen.
    Satin,
    /// A lustre like a pearl's.
    Pearl,
    /// Brushed edible metal.
    Metal,
    /// Edible glitter.
    Glitter,
    /// A printed sheet: flat and matte.
    Print,
}

/// A colour and how it takes the light.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Finish {
    /// As seen.
    pub colour: Colour,
    /// How it takes the light.
    pub look: Look,
    /// Name of the paste it is made from, for the mixing list; `None`: the finish's own colour is mixed.
    pub paste: Option<String>,
}

/// A rollable covering or modelling material.
#[derive(Clone, Debug, PartialEq)]
pub struct Paste {
    /// As mixed.
    pub colour: Colour,
    /// g/cm³.
    pub density: f64,
    /// What is lost in rolling and cutting, as a share of what is used.
    pub waste: f64,
}

/// An edible printing sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet {
    /// Width and height of the sheet.
    pub size: [Length; 2],
    /// Width and height that the printer reaches, in its middle.
    pub printable: [Length; 2],
    /// Pixels to the inch at which it is printed.
    pub ppi: u32,
    /// Least distance between two prints: room for the knife, the marks and the names.
    pub gap: Length,
    /// How far colours run on beyond the line of the cut.
    pub bleed: Length,
    /// Prints may lie turned by a quarter.
    pub turn: bool,
}

impl Sheet {
    /// Pixels to the inch unless said: what inkjet printers for edible sheets print (common practice, no source).
    pub const PPI: u32 = 300;
    /// The gap unless said (common practice, no source).
    pub const GAP: Length = Length::mm(5.0);

    /// A sheet of which everything but its size is as usual.
    #[must_use]
    pub const fn plain(size: [Length; 2], printable: [Length; 2]) -> Self {
        Self { size, printable, ppi: Self::PPI, gap: Self::GAP, bleed: Length::ZERO, turn: true }
    }
}

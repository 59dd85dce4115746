//! A sign: a strip with lettering or a picture.

use crate::art::Colour;
use crate::measure::Length;

/// A strip with a face.
#[derive(Clone, Debug, PartialEq)]
pub struct Sign {
    /// What is written on it; may be empty when it has art.
    pub text: String,
    /// How it is written.
    pub letters: Letters,
    /// Path of a picture for its face.
    pub art: Option<String>,
    /// Width and height of the face.
    pub size: [Length; 2],
    /// Of the face.
    pub thickness: Length,
    /// How far the border strip behind it stands out; zero: none.
    pub border: Length,
    /// Name of the finish of the face.
    pub finish: String,
    /// Name of the finish of the border strip; `None`: as the face.
    pub border_finish: Option<String>,
    /// Height of the wave it is laid in; zero: flat.
    pub wave: Length,
    /// How high its ends curl up; zero: flat.
    pub curl: Length,
    /// Dried before it goes on; else it bends to a side.
    pub stiff: bool,
}

/// How a sign is lettered.
#[derive(Clone, Debug, PartialEq)]
pub struct Letters {
    /// Height of a capital.
    pub height: Length,
    /// Colour of the letters.
    pub colour: Colour,
    /// Path of the font file it is set in; `None`: the bundled one.
    pub font: Option<String>,
}

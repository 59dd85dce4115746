//! Art that a design brings: pictures, drawings, outlines, lettering, colours.

mod colour;
mod encode;
mod flatten;
mod lettering;
mod offset;
mod picture;
mod region;

pub use colour::Colour;
pub use encode::{EncodeError, encode_jpeg, encode_png};
pub use lettering::{FontFile, Glyph, Line, Run, Typeface, shape};
pub use offset::{Join, offset_ring};
pub use picture::Picture;
pub use region::{Face, Region, Ring};

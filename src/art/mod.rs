//! Art that a design brings: pictures, drawings, outlines, lettering, colours.

mod colour;
mod encode;
mod error;
mod flatten;
mod lettering;
mod offset;
mod pen;
mod picture;
mod raster;
mod region;
mod svg;
mod tangle;

pub use colour::Colour;
pub use encode::{EncodeError, encode_jpeg, encode_png};
pub use error::{ArtError, Fault};
pub use lettering::{FontFile, Glyph, Line, Run, Typeface, shape};
pub use offset::{Join, offset_ring};
pub use pen::{Sketch, Stretch};
pub use picture::{Part, Picture};
pub use raster::{MAX_PIXELS, MAX_SIDE, read_raster};
pub use region::{Face, Region, Ring};
pub use svg::{Drawing, MAX_DRAWING_BYTES};

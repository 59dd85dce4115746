//! Art that a design brings: pictures, drawings, outlines, lettering, colours.
//!
//! ```text
//! bytes ─ shelf ─┬─ raster ── Picture ─┬─ trace ──┬── Region ── offset
//!                └─ svg ───── Drawing ─┼─ outline ┘             └─ cutting, neck   (what is cut)
//!                                      └─ paint ───── Picture ── encode
//! text, font ── lettering ── Line ── outline ──────── Region
//! ```
//!
//! In: bytes of files and text; nothing here opens a file or follows a reference out of one. Out: regions (y **up**) to
//! cut and pictures (rows from the top) to print. Everything read is bounded before it is unfolded.

mod colour;
mod cutting;
mod difference;
mod encode;
mod error;
mod flatten;
mod lettering;
mod load;
mod neck;
mod offset;
mod pen;
mod picture;
mod raster;
mod region;
mod resample;
mod shelf;
mod spread;
mod svg;
mod tangle;
mod trace;

pub use colour::{Colour, linear_table};
pub use cutting::{BackingOrder, CutFigure, CutOrder};
pub use difference::Lab;
pub use encode::{EncodeError, encode_jpeg, encode_png, encode_png_at};
pub use error::{ArtError, Fault};
pub use lettering::{FontFile, Glyph, Line, OwnFont, Run, SignFont, Typeface, letter, missing, shape};
pub use load::{LARGEST_ART, load_art};
pub use neck::Neck;
pub use offset::{Join, offset_ring};
pub use pen::{Sketch, Stretch};
pub use picture::{Part, Picture};
pub use raster::{MAX_PIXELS, MAX_SIDE, read_raster};
pub use region::{Face, Region, Ring};
pub use shelf::{Art, Content, Shelf};
pub use spread::spread;
pub use svg::{Drawing, MAX_DRAWING_BYTES, Remark};
pub use trace::trace;

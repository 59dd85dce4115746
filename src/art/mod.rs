//! Art that a design brings: pictures, drawings, outlines, lettering, colours.

mod colour;
mod encode;
mod picture;

pub use colour::Colour;
pub use encode::{EncodeError, encode_jpeg, encode_png};
pub use picture::Picture;

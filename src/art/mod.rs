//! Art that a design brings: pictures, drawings, outlines, lettering, colours.

mod colour;
mod picture;

pub use colour::Colour;
pub use picture::Picture;

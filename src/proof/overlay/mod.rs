//! Drawing on a finished still: seams as dashed lines, sizes as dimension lines, projected by the still's own camera.
//!
//! In: the picture, its camera, and marks in the cake's frame (mm). Out: the picture with the marks and their labels.
//! What lies on the far side is not drawn; labels keep clear of each other and stay inside the picture.
//!
//! ```text
//!   Mark (mm) ──Camera::pixel──> lines (px) ──> drawn
//!      └ label ──────────────> place a label ──> drawn last, over every line
//! ```

mod draw;
mod label;
mod mark;

pub use draw::{drawn, overlay};
pub use mark::{Mark, Style};

pub use super::span::Side;

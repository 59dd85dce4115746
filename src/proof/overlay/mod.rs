//! Drawing on a finished still: seams as dashed lines, sizes as dimension lines, projected by the still's own camera.
//!
//! In: the picture, its camera, and marks in the cake's frame (mm). Out: the picture with the marks and their labels.
//! What lies on the far side is not drawn; labels keep clear of each other, of the pieces and of the lines, and stay inside the picture.
//!
//! ```text
//!   Mark (mm) ──Camera::pixel──> lines (px) ──> drawn
//!      └ label ──────────────> place a label ──> drawn last, over every line
//! ```

mod busy;
mod draw;
mod label;
mod layout;
mod mark;
mod ring;

pub use draw::{drawn, label_boxes, overlay};
pub use layout::Ground;
pub use mark::{Mark, Style};
pub use ring::rings;

pub use super::span::Side;

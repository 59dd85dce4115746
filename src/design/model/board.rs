//! The board: a drum or card that the cake stands on.

use super::Size;
use crate::measure::Length;

/// Outline of a board.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum BoardShape {
    /// A disc; its size is across.
    #[default]
    Round,
    /// A square.
    Square,
    /// Width and depth.
    Rectangle,
}

/// What the cake stands on; its top face carries the origin of the cake's frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Board {
    /// Its outline.
    pub shape: BoardShape,
    /// Across, or width and depth.
    pub size: Size,
    /// From the table to the top face.
    pub thickness: Length,
    /// Name of the finish.
    pub finish: String,
}

impl Default for Board {
    fn default() -> Self {
        Self {
            shape: BoardShape::Round,
            size: Size::across(Length::inches(10.0)),
            thickness: Length::inches(0.5),
            finish: "white".to_owned(),
        }
    }
}

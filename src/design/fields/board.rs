//! The board.

use super::{Bound, Fallback, Field, Kind, Rule, Shape};
use crate::design::model::{Board, BoardShape};
use crate::design::tree::{record, words};
use crate::measure::Length;

/// `[board]`.
pub(super) static BOARD: Shape = Shape {
    name: "board",
    meaning: "What the cake stands on: a drum or card.",
    fields: &[
        Field::or("shape", Kind::Word(BoardShape::WORDS), Fallback::Text("round"), "Its outline."),
        Field::or("size", Kind::Size, Fallback::Length(Length::inches(10.0)), "Across, or width and depth."),
        Field::length("thickness", Bound::Above, Length::inches(0.5), "From the table to its top face."),
        Field::finish("finish", "Its finish."),
    ],
    kinds: &[],
    rules: &[Rule::PairFor(&["rectangle"])],
};

words!(BoardShape { Round: "round", Square: "square", Rectangle: "rectangle" });

record!(Board { shape: "shape", size: "size", thickness: "thickness", finish: "finish" });

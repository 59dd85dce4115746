//! The box and the shelf.

use super::{Bound, Field, Kind, Shape};
use crate::design::model::Transport;
use crate::design::tree::record;

/// `[transport]`.
pub(super) static TRANSPORT: Shape = Shape {
    name: "transport",
    meaning: "What the finished cake must go into.",
    fields: &[
        Field::may("box", Kind::Lengths(Bound::Above), "The box inside: width and depth."),
        Field::may("box_height", Kind::Length(Bound::Above), "The box inside: from its floor to its lid."),
        Field::may("shelf", Kind::Length(Bound::Above), "Clear height of the shelf, in a fridge or a car."),
    ],
    kinds: &[],
    rules: &[],
};

record!(Transport { inside: "box", height: "box_height", shelf: "shelf" });

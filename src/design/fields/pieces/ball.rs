//! A ball of paste.

use super::{Bound, Fallback, Field, Kind, Variant};
use crate::design::model::pieces::Ball;
use crate::design::tree::record;
use crate::measure::Length;

pub(super) static BALL: Variant = Variant {
    word: "ball",
    meaning: "One ball of paste.",
    fields: &[
        Field::must("size", Kind::Length(Bound::Above), "Across."),
        Field::length("sunk", Bound::From, Length::ZERO, "Pressed so deep into its seat."),
        Field::or("pin", Kind::Truth, Fallback::No, "Held by a pin."),
        Field::finish("finish", "Its finish."),
    ],
    rules: &[],
};

record!(Ball { size: "size", sunk: "sunk", pin: "pin", finish: "finish" });

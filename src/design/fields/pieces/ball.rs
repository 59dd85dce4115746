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
        Field::may(
            "clear_of_seams",
            Kind::Length(Bound::From),
            "How far it should keep from every seam; it may lie on one when left out.",
        ),
        Field::finish("finish", "Its finish."),
    ],
    rules: &[],
};

record!(Ball { size: "size", sunk: "sunk", pin: "pin", clear_of_seams: "clear_of_seams", finish: "finish" });

//! A rod: a standing or leaning prop.

use super::{Bound, Field, Kind, Names, Shape, TILT, Variant};
use crate::design::model::pieces::{Rod, RodPart, Stick};
use crate::design::tree::record;

pub(super) static ROD: Variant = Variant {
    word: "rod",
    meaning: "A standing or leaning prop of segments.",
    fields: &[
        Field::may(
            "leans_on",
            Kind::Name(Names::Tier),
            "The tier whose top edge it rests on; it stands when left out.",
        ),
        Field::must("parts", Kind::List(&Kind::Table(&PART), 1, 40), "Its segments, from the foot up."),
        Field::may("stick", Kind::Table(&STICK), "What holds it in the board."),
        TILT,
    ],
    rules: &[],
};

static PART: Shape = Shape {
    name: "part",
    meaning: "One segment of a rod: a round bar from one diameter to another.",
    fields: &[
        Field::must("length", Kind::Length(Bound::Above), "Along the rod."),
        Field::must("from", Kind::Length(Bound::Above), "Across at its lower end."),
        Field::must("to", Kind::Length(Bound::Above), "Across at its upper end."),
        Field::finish("finish", "Its finish."),
    ],
    kinds: &[],
    rules: &[],
};

static STICK: Shape = Shape {
    name: "stick",
    meaning: "The stick inside a rod.",
    fields: &[
        Field::must("diameter", Kind::Length(Bound::Above), "Across the stick."),
        Field::must("into_board", Kind::Length(Bound::From), "How deep it goes into the board."),
    ],
    kinds: &[],
    rules: &[],
};

record!(RodPart { length: "length", from: "from", to: "to", finish: "finish" });

record!(Stick { diameter: "diameter", into_board: "into_board" });

record!(Rod { leans_on: "leans_on", parts: "parts", stick: "stick" });

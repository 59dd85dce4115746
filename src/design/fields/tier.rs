//! A tier.

use super::course::COURSE;
use super::{Bound, Fallback, Field, Form, Kind, Rule, Shape};
use crate::design::model::{Dowels, Measured, Tier, TierShape};
use crate::design::tree::{record, words};
use crate::measure::Length;

/// `[[tier]]`.
pub(super) static TIER: Shape = Shape {
    name: "tier",
    meaning: "One stacked cake, as its pan, its covering and the tape measure give it.",
    fields: &[
        Field::must("name", Kind::Text(Form::Name), "Unlike that of any other tier or piece."),
        Field::or("shape", Kind::Word(TierShape::WORDS), Fallback::Text("round"), "Outline of the pan."),
        Field::must(
            "size",
            Kind::Size,
            "Of the pan: across; corner to corner for hexagon and octagon; width and depth for rectangle and oval.",
        ),
        Field::length("corner", Bound::From, Length::ZERO, "Radius of the pan's vertical corners."),
        Field::or("petals", Kind::Count(3, 24), Fallback::Count(6), "Number of lobes of a petal pan."),
        Field::must("height", Kind::Length(Bound::Above), "As it stands iced and covered."),
        Field::or("layers", Kind::Count(1, 24), Fallback::Count(2), "Baked layers."),
        Field::length("icing", Bound::From, Length::ZERO, "Thickness of the icing on the side."),
        Field::length("paste", Bound::From, Length::ZERO, "Thickness of the covering paste over it."),
        Field::finish("finish", "Finish of the covering."),
        Field::length("edge", Bound::From, Length::ZERO, "Radius of the top edge."),
        Field::or(
            "at",
            Kind::Lengths(Bound::Any),
            Fallback::Lengths(Length::ZERO),
            "x (to the customer's right) and z (towards the customer) on what carries it.",
        ),
        Field::or("turn", Kind::Angle, Fallback::Number(0.0), "Seen from above, counter-clockwise."),
        Field::length("gap", Bound::From, Length::ZERO, "Raised so far above what carries it."),
        Field::or("measured", Kind::Table(&MEASURED), Fallback::Table, "What the tape read, if it did."),
        Field::or(
            "dowels",
            Kind::Table(&DOWELS),
            Fallback::Table,
            "What stands under it in the tier below, where it is not to be as handbooks say.",
        ),
        Field::or("course", Kind::Tables(&COURSE, 0, 40), Fallback::Nothing, "Layers up the side, from the foot."),
        Field::locked(),
    ],
    kinds: &[],
    rules: &[Rule::PairFor(&["rectangle", "oval"])],
};

static MEASURED: Shape = Shape {
    name: "measured",
    meaning: "What the tape measure read on the iced and covered cake; each overrides the computed size.",
    fields: &[
        Field::may("around", Kind::Length(Bound::Above), "Once round the side."),
        Field::may("across", Kind::Length(Bound::Above), "Across, as the size is meant."),
        Field::may("height", Kind::Length(Bound::Above), "From foot to top."),
    ],
    kinds: &[],
    rules: &[],
};

static DOWELS: Shape = Shape {
    name: "dowels",
    meaning: "What stands under a tier in the one below; each key overrides the handbook's figure.",
    fields: &[
        Field::may("count", Kind::Count(0, 60), "How many."),
        Field::may("diameter", Kind::Length(Bound::Above), "Across one."),
        Field::may("inset", Kind::Length(Bound::From), "How far inside the outline of the tier they carry."),
    ],
    kinds: &[],
    rules: &[],
};

words!(TierShape {
    Round: "round",
    Square: "square",
    Rectangle: "rectangle",
    Hexagon: "hexagon",
    Octagon: "octagon",
    Oval: "oval",
    Heart: "heart",
    Petal: "petal",
});

record!(Dowels { count: "count", diameter: "diameter", inset: "inset" });

record!(Measured { around: "around", across: "across", height: "height" });

record!(Tier {
    name: "name",
    shape: "shape",
    size: "size",
    corner: "corner",
    petals: "petals",
    height: "height",
    layers: "layers",
    icing: "icing",
    paste: "paste",
    finish: "finish",
    edge: "edge",
    at: "at",
    turn: "turn",
    gap: "gap",
    measured: "measured",
    dowels: "dowels",
    courses: "course",
    locked: "locked",
});

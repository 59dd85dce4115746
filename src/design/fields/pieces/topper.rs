//! A topper: flat art standing up.

use super::{Bound, Fallback, Field, Kind, Rule, Shape, TILT, TextForm, Variant};
use crate::design::model::pieces::{Backing, Picks, ReferenceSide, SidePins, Topper};
use crate::design::tree::{Record, Table, record};
use crate::measure::Length;

pub(super) static TOPPER: Variant = Variant {
    word: "topper",
    meaning: "Flat art standing up.",
    fields: &[
        Field::must("art", Kind::Text(TextForm::Path), "Svg paths, or a picture that is traced."),
        Field::may("width", Kind::Length(Bound::Above), "Its width; the height follows from the art."),
        Field::may("height", Kind::Length(Bound::Above), "Its height; the width follows from the art."),
        Field::length("thickness", Bound::Above, Length::inches(0.125), "Of the front layer."),
        Field::finish("finish", "Finish of the front."),
        Field::or("print", Kind::Truth, Fallback::No, "The art's own colours are printed on the front."),
        Field::may("backing", Kind::Table(&BACKING), "A second layer behind, larger by its border."),
        Field::may("picks", Kind::Table(&PICKS), "What holds it."),
        TILT,
    ],
    rules: &[Rule::OneOf(&["width", "height"])],
};

static BACKING: Shape = Shape {
    name: "backing",
    meaning: "The layer behind a topper's front.",
    fields: &[
        Field::must("border", Kind::Length(Bound::From), "How far it stands out beyond the front."),
        Field::length("thickness", Bound::Above, Length::inches(0.125), "Its thickness."),
        Field::finish("finish", "Its finish."),
    ],
    kinds: &[],
    rules: &[],
};

static PICKS: Shape = Shape {
    name: "picks",
    meaning: "Sticks or pins that hold a piece.",
    fields: &[
        Field::or("count", Kind::Count(1, 20), Fallback::Count(1), "How many."),
        Field::must("diameter", Kind::Length(Bound::Above), "Across one."),
        Field::must("into_piece", Kind::Length(Bound::From), "How deep it goes into the piece."),
        Field::must("into_cake", Kind::Length(Bound::From), "How deep it goes into the cake."),
        Field::may("side_pins", Kind::Table(&SIDE_PINS), "Thinner pins on both sides of the picks, against twisting."),
    ],
    kinds: &[],
    rules: &[],
};

static SIDE_PINS: Shape = Shape {
    name: "side_pins",
    meaning: "Pins on both sides of a piece's picks, so that it can't twist.",
    fields: &[
        Field::or("count", Kind::Count(1, 20), Fallback::Count(2), "How many."),
        Field::must("diameter", Kind::Length(Bound::Above), "Across one."),
        Field::must("into_piece", Kind::Length(Bound::From), "How deep it goes into the piece."),
        Field::must("into_cake", Kind::Length(Bound::From), "How deep it goes into the cake."),
    ],
    kinds: &[],
    rules: &[],
};

record!(Backing { border: "border", thickness: "thickness", finish: "finish" });

record!(Picks {
    count: "count",
    diameter: "diameter",
    into_piece: "into_piece",
    into_cake: "into_cake",
    side_pins: "side_pins"
});

record!(SidePins { count: "count", diameter: "diameter", into_piece: "into_piece", into_cake: "into_cake" });

impl Record for Topper {
    fn from_table(table: &Table) -> Option<Self> {
        Some(Self {
            art: table.take("art")?,
            size: given_side(table)?,
            thickness: table.take("thickness")?,
            finish: table.take("finish")?,
            print: table.take("print")?,
            backing: table.take("backing")?,
            picks: table.take("picks")?,
        })
    }

    fn to_table(&self) -> Table {
        let mut table = Table::default();
        table.put("art", &self.art);
        put_side(&mut table, self.size);
        table.put("thickness", &self.thickness);
        table.put("finish", &self.finish);
        table.put("print", &self.print);
        table.put("backing", &self.backing);
        table.put("picks", &self.picks);
        table
    }
}

/// The side that is given, from `width`, `height`, or `size` for both.
pub(super) fn given_side(table: &Table) -> Option<ReferenceSide> {
    if let Some([width, height]) = table.take::<Option<[Length; 2]>>("size")? {
        return Some(ReferenceSide::Both(width, height));
    }
    match (table.take::<Option<_>>("width")?, table.take::<Option<_>>("height")?) {
        (Some(width), Some(height)) => Some(ReferenceSide::Both(width, height)),
        (Some(width), None) => Some(ReferenceSide::Width(width)),
        (None, Some(height)) => Some(ReferenceSide::Height(height)),
        (None, None) => None,
    }
}

/// Sets the keys of the side that is given.
pub(super) fn put_side(table: &mut Table, side: ReferenceSide) {
    match side {
        ReferenceSide::Width(width) => table.put("width", &width),
        ReferenceSide::Height(height) => table.put("height", &height),
        ReferenceSide::Both(width, height) => table.put("size", &[width, height]),
    }
}

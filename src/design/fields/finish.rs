//! Finishes, pastes and sheets of the design's own.

use super::{Bound, Fallback, Field, Form, Kind, Names, Shape};
use crate::design::model::{Finish, Look, Paste, Sheet};
use crate::design::tree::{record, words};
use crate::measure::Length;

/// `[finish.NAME]`.
pub(super) static FINISH: Shape = Shape {
    name: "finish",
    meaning: "A colour and how it takes the light.",
    fields: &[
        Field::must("color", Kind::Text(Form::Colour), "As seen."),
        Field::or("look", Kind::Word(Look::WORDS), Fallback::Text("paste"), "How it takes the light."),
        Field::may("paste", Kind::Name(Names::Paste), "Which paste it is made from, for the mixing list."),
    ],
    kinds: &[],
    rules: &[],
};

/// `[paste.NAME]`.
pub(super) static PASTE: Shape = Shape {
    name: "paste",
    meaning: "A rollable covering or modelling material.",
    fields: &[
        Field::must("color", Kind::Text(Form::Colour), "As mixed."),
        Field::or("density", Kind::Number(0.1, 5.0), Fallback::Number(1.4), "In g/cm3."),
        Field::or(
            "waste",
            Kind::Number(0.0, 0.9),
            Fallback::Number(0.15),
            "Lost in rolling and cutting, as a share of what is used.",
        ),
    ],
    kinds: &[],
    rules: &[],
};

/// `[sheet.NAME]`.
pub(super) static SHEET: Shape = Shape {
    name: "sheet",
    meaning: "An edible printing sheet.",
    fields: &[
        Field::must("size", Kind::Lengths(Bound::Above), "Width and height of the sheet."),
        Field::must(
            "printable",
            Kind::Lengths(Bound::Above),
            "Width and height that the printer reaches, in its middle.",
        ),
        Field::or("ppi", Kind::Count(72, 1200), Fallback::Count(Sheet::PPI as u64), "Pixels to the inch."),
        Field::length("gap", Bound::From, Sheet::GAP, "Least distance between two prints."),
        Field::length("bleed", Bound::From, Length::ZERO, "How far colours run on beyond the line of the cut."),
        Field::or(
            "turn",
            Kind::Truth,
            Fallback::Yes,
            "Whether prints may lie turned by a quarter; no for sheets that curl or have a grain.",
        ),
    ],
    kinds: &[],
    rules: &[],
};

words!(Look { Paste: "paste", Satin: "satin", Pearl: "pearl", Metal: "metal", Glitter: "glitter", Print: "print" });

record!(Finish { colour: "color", look: "look", paste: "paste" });

record!(Paste { colour: "color", density: "density", waste: "waste" });

record!(Sheet { size: "size", printable: "printable", ppi: "ppi", gap: "gap", bleed: "bleed", turn: "turn" });

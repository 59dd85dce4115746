//! A sign: a strip with lettering or a picture.

use super::{Bound, Fallback, Field, Kind, Names, Rule, Shape, TILT, TextForm, Variant};
use crate::design::model::pieces::{Letters, Sign};
use crate::design::tree::record;
use crate::measure::Length;

pub(super) static SIGN: Variant = Variant {
    word: "sign",
    meaning: "A strip with lettering or a picture.",
    fields: &[
        Field::or("text", Kind::Text(TextForm::Line), Fallback::Text(""), "What is written on it."),
        Field::or("letters", Kind::Table(&LETTERS), Fallback::Table, "How it is written."),
        Field::may("art", Kind::Text(TextForm::Path), "A picture for its face."),
        Field::must("size", Kind::Lengths(Bound::Above), "Width and height of the face."),
        Field::length("thickness", Bound::Above, Length::inches(0.125), "Of the face."),
        Field::length("border", Bound::From, Length::ZERO, "How far the border strip behind it stands out."),
        Field::finish("finish", "Finish of the face."),
        Field::may(
            "border_finish",
            Kind::Name(Names::Finish),
            "Finish of the border strip; as the face when left out.",
        ),
        Field::length("wave", Bound::From, Length::ZERO, "Height of the wave it is laid in."),
        Field::length("curl", Bound::From, Length::ZERO, "How high its ends curl up."),
        Field::or("stiff", Kind::Truth, Fallback::No, "Dried before it goes on; else it bends to a side."),
        TILT,
    ],
    rules: &[Rule::SomeOf(&["text", "art"])],
};

static LETTERS: Shape = Shape {
    name: "letters",
    meaning: "How a sign is lettered.",
    fields: &[
        Field::length("height", Bound::Above, Length::inches(0.5), "Height of a capital."),
        Field::may("font", Kind::Text(TextForm::Path), "Your own font file (TTF or OTF) for them; ours when left out."),
        Field::or("color", Kind::Text(TextForm::Colour), Fallback::Text("#2b2b2b"), "Colour of the letters."),
    ],
    kinds: &[],
    rules: &[],
};

record!(Letters { height: "height", colour: "color", font: "font" });

record!(Sign {
    text: "text",
    letters: "letters",
    art: "art",
    size: "size",
    thickness: "thickness",
    border: "border",
    finish: "finish",
    border_finish: "border_finish",
    wave: "wave",
    curl: "curl",
    stiff: "stiff",
});

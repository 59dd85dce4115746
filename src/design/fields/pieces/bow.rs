//! A bow of ribbon paste.

use super::{Bound, Fallback, Field, Kind, TILT, Variant};
use crate::design::model::pieces::{Bow, TailCut};
use crate::design::tree::{record, words};
use crate::measure::Length;

pub(super) static BOW: Variant = Variant {
    word: "bow",
    meaning: "Loops, tails and a knot of ribbon paste.",
    fields: &[
        Field::must("ribbon", Kind::Length(Bound::Above), "Width of the ribbon."),
        Field::or("loops", Kind::Count(1, 40), Fallback::Count(2), "Number of loops."),
        Field::must("loop", Kind::Length(Bound::Above), "From knot to the far end of a loop."),
        Field::or("tails", Kind::Count(0, 20), Fallback::Count(2), "Number of tails."),
        Field::length("tail", Bound::From, Length::ZERO, "From knot to the end of a tail."),
        Field::or("cut", Kind::Word(TailCut::WORDS), Fallback::Text("straight"), "How a tail ends."),
        Field::or("mirror", Kind::Truth, Fallback::No, "Left and right exchanged."),
        Field::length("thickness", Bound::Above, Length::inches(0.125), "Of the ribbon."),
        Field::finish("finish", "Its finish."),
        TILT,
    ],
    rules: &[],
};

words!(TailCut { Straight: "straight", Slant: "slant", Notch: "notch" });

record!(Bow {
    ribbon: "ribbon",
    loops: "loops",
    loop_length: "loop",
    tails: "tails",
    tail_length: "tail",
    cut: "cut",
    mirror: "mirror",
    thickness: "thickness",
    finish: "finish",
});

//! A printed wrap, the richest of the courses.

use super::course::{FILLING, HEIGHT, LEAST, STUCK_WITH, WEIGHT, height_of, put_height};
use super::{Bound, Fallback, Field, Form, Kind, Names, Rule, Shape, Variant};
use crate::design::model::{Fit, JoinFree, Shift, Under, Wrap};
use crate::design::tree::{Leaf, Record, Table, Value, record};
use crate::measure::Length;

/// The kind `wrap` of a course.
pub(super) static WRAP: Variant = Variant {
    word: "wrap",
    meaning: "A printed picture or pattern.",
    fields: &[
        HEIGHT,
        WEIGHT,
        LEAST,
        Field::must("art", Kind::Text(Form::Path), "Its picture: png, jpeg or svg."),
        Field::or(
            "fit",
            Kind::Word(&["repeat", "cover", "contain"]),
            Fallback::Text("cover"),
            "Side by side and closed on itself; one picture that covers all; one picture that is seen whole.",
        ),
        Field::may("repeat", Kind::Length(Bound::Above), "Width of one repeat, before it is closed."),
        Field::or(
            "focus",
            Kind::Pair(&Kind::Number(0.0, 1.0), &Kind::Number(0.0, 1.0)),
            Fallback::Numbers(0.5, 0.5),
            "The point of the picture that cover and contain keep in place: from its left and from its top.",
        ),
        Field::length("focus_along", Bound::Any, Length::ZERO, "Where on the tape the focus falls."),
        Field::or(
            "shift",
            Kind::Either(&["best"], &Kind::Length(Bound::Any)),
            Fallback::Length(Length::ZERO),
            "How far a repeat is moved to the right; best: as far as makes its seams show least.",
        ),
        Field::may("sheet", Kind::Name(Names::Sheet), "The sheet it is printed on; by the unit when left out."),
        Field::or(
            "turn",
            Kind::Truth,
            Fallback::Yes,
            "Whether its strips may lie turned by a quarter where that saves sheets; not on a sheet that must not turn.",
        ),
        Field::length("overlap", Bound::From, Length::ZERO, "How much each strip runs under the next."),
        Field::length("thickness", Bound::From, Length::mm(0.3), "Of the printed sheet."),
        Field::may("under", Kind::Table(&UNDER), "A strip of paste beneath the print."),
        Field::may("from", Kind::Length(Bound::Any), "With to: only this stretch of the tape; else all round."),
        Field::may("to", Kind::Length(Bound::Any), "The right end of the stretch."),
        Field::or(
            "pins",
            Kind::List(&Kind::Length(Bound::Any), 0, 100),
            Fallback::Nothing,
            "Seams fixed at these places on the tape.",
        ),
        Field::may("join_free", Kind::Table(&JOIN_FREE), "A stretch of the tape that must not hold a seam."),
        Field::or(
            "forbid",
            Kind::List(&Kind::Stretch, 0, 100),
            Fallback::Nothing,
            "Further stretches of the tape that must not hold a seam, each from and to.",
        ),
        Field::may(
            "least_strip",
            Kind::Length(Bound::Above),
            "Least width of a strip, without its overlap; the design's when left out.",
        ),
        STUCK_WITH,
    ],
    rules: &[
        FILLING,
        Rule::Where { key: "fit", word: "repeat", needs: "repeat" },
        Rule::Only { keys: &["shift"], key: "fit", word: "repeat" },
        Rule::Needs("from", "to"),
        Rule::Needs("to", "from"),
    ],
};

static UNDER: Shape = Shape {
    name: "under",
    meaning: "A strip of paste beneath a print.",
    fields: &[
        Field::must("paste", Kind::Length(Bound::Above), "Its thickness."),
        Field::finish("finish", "Its finish."),
        Field::may(
            "seam",
            Kind::Either(&["back", "front"], &Kind::Length(Bound::Any)),
            "Where its ends meet: a word, or a place along the tape; away from the print's seams when left out.",
        ),
    ],
    kinds: &[],
    rules: &[],
};

static JOIN_FREE: Shape = Shape {
    name: "join_free",
    meaning: "A stretch of the tape that must not hold a seam.",
    fields: &[
        Field::length("centre", Bound::Any, Length::ZERO, "Its middle."),
        Field::must("width", Kind::Length(Bound::Above), "Its whole width."),
    ],
    kinds: &[],
    rules: &[],
};

record!(Under { paste: "paste", finish: "finish", seam: "seam" });

record!(JoinFree { centre: "centre", width: "width" });

impl Leaf for Shift {
    fn from_value(value: &Value) -> Option<Self> {
        match value {
            Value::Text(word) if word == "best" => Some(Self::Best),
            _ => Length::from_value(value).map(Self::By),
        }
    }

    fn to_value(&self) -> Option<Value> {
        match self {
            Self::Best => Some(Value::Text("best".to_owned())),
            Self::By(length) => length.to_value(),
        }
    }
}

impl Record for Wrap {
    fn from_table(table: &Table) -> Option<Self> {
        let fit = match table.text("fit")? {
            "repeat" => Fit::Repeat { width: table.take("repeat")?, shift: table.take("shift")? },
            "cover" => Fit::Cover,
            "contain" => Fit::Contain,
            _ => return None,
        };
        let (from, to) = (table.take::<Option<_>>("from")?, table.take::<Option<_>>("to")?);
        Some(Self {
            height: height_of(table)?,
            art: table.take("art")?,
            fit,
            focus: table.take("focus")?,
            focus_along: table.take("focus_along")?,
            sheet: table.take("sheet")?,
            turn: table.take("turn")?,
            overlap: table.take("overlap")?,
            thickness: table.take("thickness")?,
            under: table.take("under")?,
            stretch: from.zip(to),
            pins: table.take("pins")?,
            join_free: table.take("join_free")?,
            forbid: table.take("forbid")?,
            least_strip: table.take("least_strip")?,
            stuck_with: table.take("stuck_with")?,
        })
    }

    fn to_table(&self) -> Table {
        let mut table = Table::default();
        put_height(&mut table, self.height);
        table.put("art", &self.art);
        let (word, repeat) = match self.fit {
            Fit::Repeat { width, shift } => ("repeat", Some((width, shift))),
            Fit::Cover => ("cover", None),
            Fit::Contain => ("contain", None),
        };
        table.put("fit", &word.to_owned());
        table.put("repeat", &repeat.map(|(width, _)| width));
        table.put("focus", &self.focus);
        table.put("focus_along", &self.focus_along);
        table.put("shift", &repeat.map(|(_, shift)| shift));
        table.put("sheet", &self.sheet);
        table.put("turn", &self.turn);
        table.put("overlap", &self.overlap);
        table.put("thickness", &self.thickness);
        table.put("under", &self.under);
        table.put("from", &self.stretch.map(|(from, _)| from));
        table.put("to", &self.stretch.map(|(_, to)| to));
        table.put("pins", &self.pins);
        table.put("join_free", &self.join_free);
        table.put("forbid", &self.forbid);
        table.put("least_strip", &self.least_strip);
        table.put("stuck_with", &self.stuck_with);
        table
    }
}

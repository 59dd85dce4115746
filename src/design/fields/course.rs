//! A course.

use super::wrap::WRAP;
use super::{Bound, Fallback, Field, Form, Kind, Rule, Shape, Variant};
use crate::design::model::{Course, CourseHeight, CourseKind, SeamPlace, Wrap};
use crate::design::tree::{Leaf, Record, Table, Value};
use crate::measure::Length;

/// `[[tier.course]]`.
pub(super) static COURSE: Shape = Shape {
    name: "course",
    meaning: "One layer up the side of a tier.",
    fields: &[Field::must("name", Kind::Text(Form::Name), "Unlike that of the tier's other courses."), Field::locked()],
    kinds: &[&ROPE, &BAND, &PEARLS, &WRAP, &BARE],
    rules: &[],
};

const SEAM: Field = Field::or(
    "seam",
    Kind::Either(&["back", "front"], &Kind::Length(Bound::Any)),
    Fallback::Text("back"),
    "Where its ends meet: a word, or a place along the tape.",
);

/// What a piece or a course is stuck on with.
pub(super) const STUCK_WITH: Field = Field::may(
    "stuck_with",
    Kind::Text(Form::Line),
    "What it is stuck on with, for the placing sheet; that of the kitchen when left out.",
);

/// How high a course is, which of several filling courses gets how much, and what it needs at least.
pub(super) const HEIGHT: Field =
    Field::must("height", Kind::Either(&["fill"], &Kind::Length(Bound::Above)), "How high it is; fill: what is left.");
pub(super) const WEIGHT: Field =
    Field::or("weight", Kind::Number(0.01, 100.0), Fallback::Number(1.0), "Its share against other filling courses.");
pub(super) const LEAST: Field =
    Field::length("least", Bound::From, Length::ZERO, "A filling course is never lower than this.");
pub(super) const FILLING: Rule = Rule::Only { keys: &["weight", "least"], key: "height", word: "fill" };

static ROPE: Variant = Variant {
    word: "rope",
    meaning: "A rolled rope.",
    fields: &[
        Field::must("size", Kind::Length(Bound::Above), "Across the rope; also the course's height."),
        Field::finish("finish", "Its finish."),
        SEAM,
        STUCK_WITH,
    ],
    rules: &[],
};

static PEARLS: Variant = Variant {
    word: "pearls",
    meaning: "A row of balls that touch.",
    fields: &[
        Field::must("size", Kind::Length(Bound::Above), "Across one ball; also the course's height."),
        Field::finish("finish", "Its finish."),
        SEAM,
        STUCK_WITH,
    ],
    rules: &[],
};

static BAND: Variant = Variant {
    word: "band",
    meaning: "A flat band of paste.",
    fields: &[
        HEIGHT,
        WEIGHT,
        LEAST,
        Field::length("size", Bound::Above, Length::inches(0.125), "How thick it is."),
        Field::finish("finish", "Its finish."),
        SEAM,
        STUCK_WITH,
    ],
    rules: &[FILLING],
};

static BARE: Variant = Variant {
    word: "bare",
    meaning: "The covering, left as it is.",
    fields: &[HEIGHT, WEIGHT, LEAST],
    rules: &[FILLING],
};

impl Record for Course {
    fn from_table(table: &Table) -> Option<Self> {
        let kind = match table.text("kind")? {
            "rope" => CourseKind::Rope {
                diameter: table.take("size")?,
                finish: table.take("finish")?,
                seam: table.take("seam")?,
                stuck_with: table.take("stuck_with")?,
            },
            "pearls" => CourseKind::Pearls {
                diameter: table.take("size")?,
                finish: table.take("finish")?,
                seam: table.take("seam")?,
                stuck_with: table.take("stuck_with")?,
            },
            "band" => CourseKind::Band {
                height: height_of(table)?,
                thickness: table.take("size")?,
                finish: table.take("finish")?,
                seam: table.take("seam")?,
                stuck_with: table.take("stuck_with")?,
            },
            "wrap" => CourseKind::Wrap(Box::new(Wrap::from_table(table)?)),
            "bare" => CourseKind::Bare { height: height_of(table)? },
            _ => return None,
        };
        Some(Self { name: table.take("name")?, kind, locked: table.take("locked")? })
    }

    fn to_table(&self) -> Table {
        let mut table = match &self.kind {
            CourseKind::Wrap(wrap) => wrap.to_table(),
            _ => Table::default(),
        };
        match &self.kind {
            CourseKind::Rope { diameter, finish, seam, stuck_with }
            | CourseKind::Pearls { diameter, finish, seam, stuck_with } => {
                table.put("size", diameter);
                table.put("finish", finish);
                table.put("seam", seam);
                table.put("stuck_with", stuck_with);
            }
            CourseKind::Band { height, thickness, finish, seam, stuck_with } => {
                put_height(&mut table, *height);
                table.put("size", thickness);
                table.put("finish", finish);
                table.put("seam", seam);
                table.put("stuck_with", stuck_with);
            }
            CourseKind::Bare { height } => put_height(&mut table, *height),
            CourseKind::Wrap(_) => {}
        }
        table.put("kind", &self.kind.word().to_owned());
        table.put("name", &self.name);
        table.put("locked", &self.locked);
        table
    }
}

/// The height of a course, from its three keys.
pub(super) fn height_of(table: &Table) -> Option<CourseHeight> {
    if table.text("height") == Some("fill") {
        return Some(CourseHeight::Fill { weight: table.take("weight")?, least: table.take("least")? });
    }
    table.take("height").map(CourseHeight::Fixed)
}

/// Sets the three keys of a course's height.
pub(super) fn put_height(table: &mut Table, height: CourseHeight) {
    match height {
        CourseHeight::Fixed(height) => table.put("height", &height),
        CourseHeight::Fill { weight, least } => {
            table.put("height", &"fill".to_owned());
            table.put("weight", &weight);
            table.put("least", &least);
        }
    }
}

impl Leaf for SeamPlace {
    fn from_value(value: &Value) -> Option<Self> {
        match value {
            Value::Text(word) if word == "back" => Some(Self::Back),
            Value::Text(word) if word == "front" => Some(Self::Front),
            _ => Length::from_value(value).map(Self::Along),
        }
    }

    fn to_value(&self) -> Option<Value> {
        match self {
            Self::Back => Some(Value::Text("back".to_owned())),
            Self::Front => Some(Value::Text("front".to_owned())),
            Self::Along(along) => along.to_value(),
        }
    }
}

//! The kinds of values in words and by example, for messages and the guide.

use super::{Bound, Fallback, Field, Form, Kind, Names};
use crate::design::hint::choice;
use crate::design::tree::Value;
use crate::measure::Unit;

impl Kind {
    /// What such a value is, in words.
    pub(crate) fn words(&self) -> String {
        match self {
            Self::Length(bound) => bound.words().to_owned(),
            Self::Lengths(bound) => format!("two lengths in brackets, each {}", bound.words()),
            Self::Size => "a length above zero, or two in brackets: width and depth".to_owned(),
            Self::Stretch => "two lengths in brackets, from and to".to_owned(),
            Self::Either(words, other) => format!("{}, or {}", choice(words.iter().copied()), other.words()),
            Self::Word(words) => choice(words.iter().copied()),
            Self::Text(form) => form.words().to_owned(),
            Self::Name(names) => format!("the name of {}", names.words()),
            Self::Count(least, most) => format!("a whole number from {least} to {most}"),
            Self::Number(least, most) => format!("a number from {least} to {most}"),
            Self::Angle => "degrees, from -3600 to 3600".to_owned(),
            Self::Truth => "true or false".to_owned(),
            Self::Hours => "hours, as \"48 h\"".to_owned(),
            Self::Pair(first, second) => format!("two values in brackets: {}, and {}", first.words(), second.words()),
            Self::List(kind, least, most) => format!("{least} to {most} values in brackets, each {}", kind.words()),
            Self::Table(shape) => format!("a table, {}", shape.name),
            Self::Tables(shape, least, most) => format!("{least} to {most} tables under [[…{}]]", shape.name),
            Self::ByName(shape) => format!("tables under [{}.NAME]", shape.name),
        }
    }

    /// Such a value as it may be typed.
    pub(crate) fn example(&self, unit: Unit) -> String {
        match self {
            Self::Length(_) => length_example(unit).to_owned(),
            Self::Lengths(_) | Self::Size | Self::Stretch => format!("[{0}, {0}]", length_example(unit)),
            Self::Either(words, _) | Self::Word(words) => format!("\"{}\"", words.first().unwrap_or(&"")),
            Self::Text(form) => format!("\"{}\"", form.example()),
            Self::Name(names) => format!("\"{}\"", names.example()),
            Self::Count(least, _) => least.to_string(),
            Self::Number(least, _) => format!("{least:?}"),
            Self::Angle => "15".to_owned(),
            Self::Truth => "true".to_owned(),
            Self::Hours => "\"48 h\"".to_owned(),
            Self::Pair(first, second) => format!("[{}, {}]", first.example(unit), second.example(unit)),
            Self::List(kind, _, _) => format!("[{}]", kind.example(unit)),
            Self::Table(shape) | Self::Tables(shape, _, _) | Self::ByName(shape) => {
                let first = shape.fields.first().map(|field| format!(" {} = … ", field.key)).unwrap_or_default();
                format!("{{{first}}}")
            }
        }
    }
}

impl Field {
    /// How to add this key.
    pub(crate) fn how_to_add(&self, unit: Unit) -> String {
        match self.kind {
            Kind::Tables(shape, _, _) => format!("add [[{}]] and its keys below", shape.name),
            _ => format!("add {} = {}", self.key, self.kind.example(unit)),
        }
    }
}

impl Bound {
    /// Such a length, in words.
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::Above => "a length above zero",
            Self::From => "a length of zero or more",
            Self::Any => "a length",
        }
    }
}

impl Form {
    /// Such a text, in words.
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::Name => "a name of one line, up to 100 characters",
            Self::Line => "a text of one line, up to 2000 characters",
            Self::Lines => "a text, up to 2000 characters",
            Self::Path => "a path inside the design's folder, with / between its parts",
            Self::Colour => "a colour as #rrggbb",
            Self::Moment => "a date and time as 2026-12-12T10:00",
            Self::Date => "a date as 2026-12-01",
            Self::Clock => "a time as 09:00",
            Self::Currency => "a currency of three capitals, as EUR",
        }
    }

    /// Such a text.
    pub(crate) const fn example(self) -> &'static str {
        match self {
            Self::Name => "base",
            Self::Line | Self::Lines => "…",
            Self::Path => "art/waves.png",
            Self::Colour => "#4f9aa8",
            Self::Moment => "2026-12-12T10:00",
            Self::Date => "2026-12-01",
            Self::Clock => "09:00",
            Self::Currency => "EUR",
        }
    }
}

impl Names {
    /// What is named, in words.
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::Finish => "a finish",
            Self::Paste => "a paste",
            Self::Sheet => "a sheet",
            Self::Tier => "a tier",
            Self::Seat => "a tier or piece, or board",
        }
    }

    const fn example(self) -> &'static str {
        match self {
            Self::Finish | Self::Paste => "white",
            Self::Sheet => "letter",
            Self::Tier => "base",
            Self::Seat => "board",
        }
    }
}

impl Fallback {
    /// The value that an absent key stands for.
    pub(crate) fn value(self) -> Value {
        match self {
            Self::Length(length) => Value::Length(length),
            Self::Lengths(length) => Value::List(vec![Value::Length(length); 2]),
            Self::Number(number) => Value::Number(number),
            Self::Numbers(first, second) => Value::List(vec![Value::Number(first), Value::Number(second)]),
            Self::Count(count) => Value::Count(count),
            Self::No => Value::Truth(false),
            Self::Yes => Value::Truth(true),
            Self::Text(text) => Value::Text(text.to_owned()),
            Self::Nothing => Value::List(Vec::new()),
            Self::Table => Value::Table(crate::design::tree::Table::default()),
        }
    }
}

const fn length_example(unit: Unit) -> &'static str {
    match unit {
        Unit::Inch => "\"5 3/8\"",
        Unit::Millimetre => "137",
        Unit::Centimetre => "13.7",
    }
}

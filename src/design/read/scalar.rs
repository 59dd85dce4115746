//! Reads one plain value: a length, a number, a word, a text, a name.

use std::ops::Range;

use toml_edit::Value as Toml;

use super::raw::Raw;
use super::walk::{Reference, Walk, report};
use crate::design::fields::{Bound, Form, Kind, Names};
use crate::design::hint::nearest;
use crate::design::text;
use crate::design::tree::Value;
use crate::measure::{Length, LengthError, length_examples, length_of_number, read_length};

impl Walk {
    /// A value that is no list or table by its nature; `None` after a fault.
    pub(super) fn scalar(&mut self, kind: &Kind, raw: Raw<'_>, span: &Range<usize>) -> Option<Value> {
        let found = raw.value();
        match kind {
            Kind::Length(bound) => return self.length(*bound, raw, span).map(Value::Length),
            Kind::Lengths(bound) => return self.pair([&Kind::Length(*bound); 2], raw, span),
            Kind::Stretch => return self.stretch(raw, span),
            Kind::Size => {
                let length = Kind::Length(Bound::Above);
                let is_list = matches!(found, Some(Toml::Array(_)));
                return if is_list { self.pair([&length; 2], raw, span) } else { self.value(&length, raw, span) };
            }
            Kind::Either(words, other) => match found.and_then(Toml::as_str) {
                Some(word) if words.contains(&word) => return Some(Value::Text(word.to_owned())),
                Some(word) if !word.contains(|c: char| c.is_ascii_digit()) => {}
                _ => return self.value(other, raw, span),
            },
            Kind::Name(names) => return self.reference(*names, raw, span),
            _ => {}
        }
        let value = found.and_then(|found| plain(kind, found));
        if value.is_none() {
            let mend = mend(kind, raw).unwrap_or_else(|| format!("write for example {}", kind.example(self.unit)));
            self.fault(span.clone(), report(raw.words(), kind.words(), mend));
        }
        value
    }

    fn length(&mut self, bound: Bound, raw: Raw<'_>, span: &Range<usize>) -> Option<Length> {
        let examples = length_examples(self.unit);
        let read = match raw.value() {
            Some(Toml::String(text)) => Some(read_length(text.value(), self.unit)),
            Some(Toml::Integer(number)) => Some(length_of_number(as_float(*number.value()), self.unit)),
            Some(Toml::Float(number)) => Some(length_of_number(*number.value(), self.unit)),
            _ => None,
        };
        let mend = match read {
            Some(Ok(length)) if bound.holds(length) => return Some(length),
            Some(Ok(_)) if bound == Bound::Above => format!("write a length above zero, such as {examples}"),
            Some(Ok(_)) => format!("write a length without a minus, such as {examples}"),
            Some(Err(LengthError::Unreadable { .. })) | None => format!("write for example {examples}"),
            Some(Err(error)) => error.to_string(),
        };
        self.fault(span.clone(), report(raw.words(), format!("{} up to 3 m", bound.words()), mend));
        None
    }

    fn stretch(&mut self, raw: Raw<'_>, span: &Range<usize>) -> Option<Value> {
        let pair = self.pair([&Kind::Length(Bound::Any); 2], raw, span)?;
        if let Value::List(ends) = &pair
            && let [Value::Length(from), Value::Length(to)] = ends.as_slice()
            && from >= to
        {
            let found = "a stretch that ends before it begins";
            self.fault(span.clone(), report(found, "first from, then to", "swap the two lengths"));
            return None;
        }
        Some(pair)
    }

    fn reference(&mut self, names: Names, raw: Raw<'_>, span: &Range<usize>) -> Option<Value> {
        let name = raw.value().and_then(Toml::as_str).and_then(|text| text::read(Form::Name, text));
        let Some(name) = name else {
            let mend = format!("write its name, for example {}", Kind::Name(names).example(self.unit));
            self.fault(span.clone(), report(raw.words(), Kind::Name(names).words(), mend));
            return None;
        };
        let reference = Reference { names, name: name.clone(), span: span.clone(), place: self.place() };
        self.references.push(reference);
        Some(Value::Text(name))
    }

    /// A name that the person made up: of a finish, paste or sheet.
    pub(super) fn name(&mut self, name: &str, span: &Range<usize>) {
        if text::read(Form::Name, name).is_none() {
            let found = Raw::Value(&Toml::from(name)).words();
            self.fault(span.clone(), report(found, Form::Name.words(), "give it a plain name"));
        }
    }
}

impl Bound {
    pub(in crate::design) fn holds(self, length: Length) -> bool {
        match self {
            Self::Above => length > Length::ZERO,
            Self::From => length >= Length::ZERO,
            Self::Any => true,
        }
    }
}

/// A value that needs neither the unit nor the rest of the design.
fn plain(kind: &Kind, found: &Toml) -> Option<Value> {
    match kind {
        Kind::Either(words, _) | Kind::Word(words) => {
            found.as_str().filter(|word| words.contains(word)).map(|word| Value::Text(word.to_owned()))
        }
        Kind::Text(form) => match found {
            Toml::String(text) => text::read(*form, text.value()),
            // TOML has times of its own, which a person may write without quotes.
            Toml::Datetime(time) if matches!(form, Form::Moment | Form::Date | Form::Clock) => {
                text::read(*form, &time.value().to_string())
            }
            _ => None,
        }
        .map(Value::Text),
        Kind::Count(least, most) => count(found).filter(|count| (least..=most).contains(&count)).map(Value::Count),
        Kind::Number(least, most) => number(found).filter(|number| (least..=most).contains(&number)).map(Value::Number),
        Kind::Angle => number(found).filter(|degrees| degrees.abs() <= 3600.0).map(Value::Number),
        Kind::Truth => found.as_bool().map(Value::Truth),
        Kind::Hours => match found {
            Toml::String(text) => text::hours(text.value()),
            _ => number(found),
        }
        .filter(|hours| (0.0..=text::MOST_HOURS).contains(hours))
        .map(Value::Number),
        _ => None,
    }
}

fn mend(kind: &Kind, raw: Raw<'_>) -> Option<String> {
    let word = raw.value()?.as_str()?;
    match kind {
        Kind::Word(words) | Kind::Either(words, _) => {
            nearest(word, words.iter().copied()).map(|nearest| format!("write \"{nearest}\""))
        }
        Kind::Text(Form::Path) => Some("put the file into the design's folder and name it from there".to_owned()),
        Kind::Text(Form::Name | Form::Line | Form::Lines) => {
            Some("shorten it, and leave out control characters".to_owned())
        }
        _ => None,
    }
}

/// A number; a negative zero becomes zero.
fn number(found: &Toml) -> Option<f64> {
    let number = found.as_float().or_else(|| found.as_integer().map(as_float))?;
    Some(if number == 0.0 { 0.0 } else { number })
}

/// A whole number, also where it is written `2.0`.
fn count(found: &Toml) -> Option<u64> {
    let whole = |number: &f64| number.fract() == 0.0 && (0.0..=9e15).contains(number);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole and within range")]
    let from_float = || found.as_float().filter(whole).map(|number| number as u64);
    found.as_integer().map_or_else(from_float, |integer| u64::try_from(integer).ok())
}

/// The number of an integer; beyond 2^53 to the nearest one, which is far out of every range.
#[allow(clippy::cast_precision_loss, reason = "lengths and angles are refused long before the loss begins")]
fn as_float(integer: i64) -> f64 {
    integer as f64
}

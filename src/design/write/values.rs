//! One value of the tree as TOML.

use toml_edit::{Array, Value as Toml};

use super::fresh;
use crate::design::fields::Kind;
use crate::design::tree::Value;
use crate::measure::{Length, Unit, plain_number, write_length};

/// A value as TOML; `old` is the value it replaces, whose way of writing lengths and lists is kept.
pub(super) fn toml(kind: &Kind, value: &Value, unit: Unit, old: Option<&Toml>) -> Toml {
    match (kind, value) {
        (Kind::Either(_, other), value) => match value {
            Value::Text(word) => word.into(),
            _ => toml(other, value, unit, old),
        },
        (Kind::Table(shape), Value::Table(table)) => fresh::inline(shape, table, unit).into(),
        (Kind::Hours, Value::Number(hours)) => format!("{hours} h").into(),
        (_, Value::Length(length)) => length_as_toml(*length, unit, old),
        (_, Value::Number(number)) => number_as_toml(*number),
        (_, Value::Count(count)) => i64::try_from(*count).unwrap_or(i64::MAX).into(),
        (_, Value::Truth(truth)) => (*truth).into(),
        (_, Value::Text(text)) => text.into(),
        (_, Value::List(list)) => list_as_toml(kind, list, unit, old),
        // Only the kinds above hold tables; the reader lets no other through.
        (_, Value::Table(_)) => toml_edit::InlineTable::new().into(),
    }
}

fn length_as_toml(length: Length, unit: Unit, old: Option<&Toml>) -> Toml {
    let was_bare = matches!(old, Some(Toml::Integer(_) | Toml::Float(_)));
    match plain_number(length, unit).filter(|_| was_bare) {
        Some(number) => number_as_toml(number),
        None => write_length(length, unit).into(),
    }
}

/// A number, without decimals where it has none.
fn number_as_toml(number: f64) -> Toml {
    #[allow(clippy::cast_possible_truncation, reason = "whole and small")]
    if number.fract() == 0.0 && number.abs() < 1e9 { (number as i64).into() } else { number.into() }
}

fn list_as_toml(kind: &Kind, list: &[Value], unit: Unit, old: Option<&Toml>) -> Toml {
    let old = old.and_then(Toml::as_array).filter(|old| old.len() == list.len());
    let mut array = Array::new();
    for (value, number) in list.iter().zip(0..) {
        let kind = element(kind, number);
        array.push(toml(&kind, value, unit, old.and_then(|old| old.get(number))));
    }
    array.into()
}

/// The kind of one element of a list.
fn element(kind: &Kind, number: usize) -> Kind {
    match kind {
        Kind::List(kind, _, _) => **kind,
        Kind::Pair(first, second) => **if number == 0 { first } else { second },
        _ => *kind,
    }
}

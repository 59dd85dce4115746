//! What a person types into one blank, as a value of the document.

use super::fields::Kind;
use super::text as forms;
use super::tree::Value;
use crate::measure::{Unit, read_length, write_length};

/// Characters of a typed text that are looked at; what is longer fits no blank.
const MOST_CHARACTERS: usize = 4000;

/// The value that a text means in a blank of this kind.
///
/// # Errors
/// Says what is expected there.
pub(crate) fn typed(kind: &Kind, text: &str, unit: Unit) -> Result<Value, String> {
    let expected = || format!("expected {}", kind.words());
    if text.chars().count() > MOST_CHARACTERS {
        return Err(expected());
    }
    match kind {
        Kind::Length(bound) => {
            let length = read_length(text, unit).map_err(|error| error.to_string())?;
            bound.holds(length).then_some(Value::Length(length)).ok_or_else(expected)
        }
        Kind::Either(words, other) => match words.iter().find(|word| word.eq_ignore_ascii_case(text.trim())) {
            Some(word) => Ok(Value::Text((*word).to_owned())),
            None => typed(other, text, unit).map_err(|why| format!("{why}; or write {}", words.join(", "))),
        },
        Kind::Count(least, most) => {
            let count = text.trim().parse().ok().filter(|count| (least..=most).contains(&count));
            count.map(Value::Count).ok_or_else(expected)
        }
        Kind::Number(least, most) => number(text, (*least, *most)).map(Value::Number).ok_or_else(expected),
        Kind::Angle => {
            number(text.trim().trim_end_matches('°'), (-3600.0, 3600.0)).map(Value::Number).ok_or_else(expected)
        }
        Kind::Hours => {
            let hours = forms::hours(text).or_else(|| number(text, (0.0, forms::MOST_HOURS)));
            hours.map(Value::Number).ok_or_else(expected)
        }
        Kind::Text(form) => forms::read(*form, text).map(Value::Text).ok_or_else(expected),
        _ => Err(expected()),
    }
}

/// A value as a person would type it.
pub(crate) fn as_typed(kind: &Kind, value: &Value, unit: Unit) -> String {
    match (kind, value) {
        (Kind::Hours, Value::Number(hours)) => format!("{hours} h"),
        (Kind::Angle, Value::Number(degrees)) => format!("{degrees}°"),
        (_, Value::Length(length)) => write_length(*length, unit),
        (_, Value::Number(number)) => number.to_string(),
        (_, Value::Count(count)) => count.to_string(),
        (_, Value::Text(text)) => text.clone(),
        _ => String::new(),
    }
}

fn number(text: &str, (least, most): (f64, f64)) -> Option<f64> {
    let number: f64 = text.trim().replace(',', ".").parse().ok()?;
    (least..=most).contains(&number).then_some(number + 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::fields::{Bound, Form};
    use crate::measure::Length;

    #[test]
    fn what_is_typed_is_read_as_a_design_file_reads_it_and_told_when_it_is_nonsense() {
        let ok = |kind: Kind, text: &str| typed(&kind, text, Unit::Inch).unwrap();
        assert_eq!(ok(Kind::Length(Bound::Above), " 3 1/2\" "), Value::Length(Length::inches(3.5)));
        assert_eq!(ok(Kind::Either(&["fill"], &Kind::Length(Bound::Above)), "Fill"), Value::Text("fill".to_owned()));
        assert_eq!(ok(Kind::Count(1, 20), "2"), Value::Count(2));
        assert_eq!(ok(Kind::Angle, "-15°"), Value::Number(-15.0));
        assert_eq!(ok(Kind::Hours, "48 h"), Value::Number(48.0));
        assert_eq!(ok(Kind::Number(0.0, 1.0), "0,5"), Value::Number(0.5));
        assert_eq!(ok(Kind::Text(Form::Colour), "#4f9aa8"), Value::Text("#4f9aa8".to_owned()));
        for (kind, text) in [
            (Kind::Length(Bound::Above), "0"),
            (Kind::Length(Bound::Above), "banana"),
            (Kind::Length(Bound::Above), "NaN"),
            (Kind::Count(1, 20), "21"),
            (Kind::Count(1, 20), "-1"),
            (Kind::Number(0.0, 1.0), "inf"),
            (Kind::Angle, "1e99"),
            (Kind::Hours, "soon"),
            (Kind::Text(Form::Colour), "reddish"),
            (Kind::Text(Form::Name), ""),
            (Kind::Text(Form::Line), &"x".repeat(5000)),
        ] {
            assert!(!typed(&kind, text, Unit::Inch).unwrap_err().is_empty(), "{kind:?} {text}");
        }
    }

    #[test]
    fn a_value_is_typed_so_that_it_is_read_back() {
        for (kind, value) in [
            (Kind::Length(Bound::Any), Value::Length(Length::inches(-3.375))),
            (Kind::Hours, Value::Number(36.5)),
            (Kind::Angle, Value::Number(22.5)),
            (Kind::Count(0, 9), Value::Count(7)),
        ] {
            assert_eq!(typed(&kind, &as_typed(&kind, &value, Unit::Inch), Unit::Inch), Ok(value));
        }
    }
}

//! Texts that follow a form: names, paths, colours, times.

use super::fields::Form;
use super::tree::{Leaf, Value};
use crate::art::Colour;
use crate::files::stays_inside;

/// Characters of the longest name.
pub(crate) const MOST_IN_NAME: usize = 100;

/// Characters of the longest text.
pub(crate) const MOST_IN_TEXT: usize = 2000;

/// The longest drying that can be asked for.
pub(crate) const MOST_HOURS: f64 = 2000.0;

/// The text as the design holds it; `None` when it does not follow the form.
pub(crate) fn read(form: Form, text: &str) -> Option<String> {
    let most = if form == Form::Name { MOST_IN_NAME } else { MOST_IN_TEXT };
    let allowed = |c: char| !c.is_control() || (form == Form::Lines && matches!(c, '\n' | '\t'));
    if text.chars().count() > most || !text.chars().all(allowed) {
        return None;
    }
    match form {
        Form::Name => (!text.trim().is_empty()).then(|| text.to_owned()),
        Form::Line | Form::Lines => Some(text.to_owned()),
        Form::Path => stays_inside(text).is_ok().then(|| text.to_owned()),
        Form::Colour => (text.len() == 7).then(|| Colour::read(text))?.map(|colour| colour.to_string()),
        Form::Moment => canonical::<jiff::civil::DateTime>(text, "0000-00-00T00:00"),
        Form::Date => (text.len() == 10).then(|| text.parse::<jiff::civil::Date>().ok())?.map(|date| date.to_string()),
        Form::Clock => canonical::<jiff::civil::Time>(text, "00:00"),
        Form::Currency => (text.len() == 3 && text.bytes().all(|b| b.is_ascii_uppercase())).then(|| text.to_owned()),
    }
}

/// Hours as `48 h`, `1.5 h` or `48`.
pub(crate) fn hours(text: &str) -> Option<f64> {
    let number = text.trim().trim_end_matches("hours").trim_end_matches('h').trim_end();
    let plain = number.len() < 12 && number.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    plain.then(|| number.parse().ok())?
}

/// A time in the pattern's form, perhaps with seconds, as the model writes it.
fn canonical<T: Leaf + std::str::FromStr>(text: &str, pattern: &str) -> Option<String> {
    let like = |pattern: &str| {
        let same = |(found, asked): (u8, u8)| if asked == b'0' { found.is_ascii_digit() } else { found == asked };
        text.len() == pattern.len() && text.bytes().zip(pattern.bytes()).all(same)
    };
    if !like(pattern) && !like(&format!("{pattern}:00")) {
        return None;
    }
    match text.parse::<T>().ok()?.to_value()? {
        Value::Text(text) => Some(text),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::{hours, read};
    use crate::design::fields::Form;

    #[test]
    fn texts_follow_their_form() {
        let good = [
            (Form::Name, "base tier", "base tier"),
            (Form::Lines, "one\ntwo", "one\ntwo"),
            (Form::Path, "art/waves.png", "art/waves.png"),
            (Form::Colour, "#4F9AA8", "#4f9aa8"),
            (Form::Moment, "2026-12-12T10:00:00", "2026-12-12T10:00"),
            (Form::Date, "2026-12-01", "2026-12-01"),
            (Form::Clock, "09:00", "09:00"),
            (Form::Currency, "EUR", "EUR"),
        ];
        for (form, text, kept) in good {
            assert_eq!(read(form, text).as_deref(), Some(kept));
        }
        let bad = [
            (Form::Name, " "),
            (Form::Name, "a\u{7}"),
            (Form::Line, "one\ntwo"),
            (Form::Path, "../waves.png"),
            (Form::Path, "/waves.png"),
            (Form::Colour, "#4f9"),
            (Form::Colour, "sea"),
            (Form::Moment, "2026-02-30T10:00"),
            (Form::Moment, "2026-12-12"),
            (Form::Date, "2026-02-30"),
            (Form::Date, "2026-12-1"),
            (Form::Date, "2026-12-12T10:00"),
            (Form::Clock, "25:00"),
            (Form::Currency, "eur"),
        ];
        for (form, text) in bad {
            assert_eq!(read(form, text), None, "{text}");
        }
        assert_eq!(read(Form::Name, &"x".repeat(101)), None);
    }

    #[test]
    fn hours_are_read() {
        assert_eq!(
            [hours("48 h"), hours("1.5h"), hours("2 hours"), hours("3")],
            [Some(48.0), Some(1.5), Some(2.0), Some(3.0)]
        );
        assert_eq!([hours("two days"), hours(""), hours("1.2.3 h"), hours("-1 h")], [None; 4]);
    }
}

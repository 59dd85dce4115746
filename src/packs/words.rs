//! Figures in words.

use jiff::civil::{Date, DateTime, Time, Weekday};

use crate::measure::{Length, Unit, show_length};

/// A length of so many mm in the design's unit.
pub(super) fn length(mm: f64, unit: Unit) -> String {
    show_length(Length::mm(mm), unit)
}

/// How thick something is rolled: under a millimetre in tenths of one, whatever the unit; no ruler shows it in inches.
pub(super) fn rolled(mm: f64, unit: Unit) -> String {
    length(mm, if mm < 1.0 { Unit::Millimetre } else { unit })
}

/// Width × height × depth, the unit named once.
pub(super) fn product(sides: &[f64], unit: Unit) -> String {
    let word = format!(" {}", unit.word());
    let bare = |&side: &f64| length(side, unit).trim_end_matches(word.as_str()).to_owned();
    format!("{}{word}", sides.iter().map(bare).collect::<Vec<_>>().join(" × "))
}

/// An amount with its currency: `120.00 EUR`.
pub(super) fn money(amount: f64, currency: Option<&str>) -> String {
    format!("{amount:.2} {}", currency.unwrap_or_default()).trim_end().to_owned()
}

/// `a`, `a and b`, `a, b and c`.
pub(super) fn list(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// `1 stick`, `2 sticks`.
pub(super) fn count(number: usize, what: &str) -> String {
    format!("{number} {what}{}", if number == 1 { "" } else { "s" })
}

/// As much of a text's beginning as so many characters hold, with an ellipsis.
pub(super) fn shortened(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    text.chars().take(most.saturating_sub(1)).collect::<String>().trim_end().to_owned() + "…"
}

/// `09:30`.
pub(super) fn clock(time: Time) -> String {
    format!("{:02}:{:02}", time.hour(), time.minute())
}

fn weekday(date: Date) -> &'static str {
    match date.weekday() {
        Weekday::Monday => "Monday",
        Weekday::Tuesday => "Tuesday",
        Weekday::Wednesday => "Wednesday",
        Weekday::Thursday => "Thursday",
        Weekday::Friday => "Friday",
        Weekday::Saturday => "Saturday",
        Weekday::Sunday => "Sunday",
    }
}

/// `Saturday 2026-12-12`.
pub(super) fn day(date: Date) -> String {
    format!("{} {date}", weekday(date))
}

/// `Saturday 2026-12-12 at 10:00`.
pub(super) fn moment(moment: DateTime) -> String {
    format!("{} at {}", day(moment.date()), clock(moment.time()))
}

/// `Sat 10:00`.
pub(super) fn short_moment(moment: DateTime) -> String {
    let name: String = weekday(moment.date()).chars().take(3).collect();
    format!("{name} {}", clock(moment.time()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_product_names_its_unit_once() {
        assert_eq!(product(&[25.4, 12.7], Unit::Inch), "1 × 1/2 in");
        assert_eq!(product(&[25.4, 12.0, 3.0], Unit::Millimetre), "25.4 × 12 × 3 mm");
    }

    #[test]
    fn lists_read_as_a_sentence() {
        let words = ["milk", "eggs", "wheat"].map(str::to_owned);
        assert_eq!(list(&words), "milk, eggs and wheat");
        assert_eq!(list(&words[..2]), "milk and eggs");
        assert_eq!((count(1, "stick"), count(2, "stick")), ("1 stick".into(), "2 sticks".into()));
    }
}

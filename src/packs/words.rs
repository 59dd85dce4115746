//! Figures in words.

use crate::measure::{Length, Unit, show_length};

/// A length of so many mm in the design's unit.
pub(super) fn length(mm: f64, unit: Unit) -> String {
    show_length(Length::mm(mm), unit)
}

/// Width × height × depth, the unit named once.
pub(super) fn product(sides: &[f64], unit: Unit) -> String {
    let word = format!(" {}", unit.word());
    let bare = |&side: &f64| length(side, unit).trim_end_matches(word.as_str()).to_owned();
    format!("{}{word}", sides.iter().map(bare).collect::<Vec<_>>().join(" × "))
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

//! Figures in the customer's words.

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

/// A place on a tape of length `around`, in words: `at the back`, `12 1/4 in to the right of front centre`.
///
/// Within 1/16 in of front centre or of the back it is called so: no tape measure on icing reads finer.
pub(super) fn place(along: f64, around: f64, unit: Unit) -> String {
    const NEAR: f64 = 25.4 / 16.0;
    let half = around / 2.0;
    let from_back = half - along.abs();
    let side = |right: bool| if right { "right" } else { "left" };
    if along.abs() <= NEAR {
        "at front centre".to_owned()
    } else if from_back.abs() <= NEAR {
        "at the back".to_owned()
    } else if from_back < half / 2.0 {
        // Beyond the quarter a person measures from the back, standing behind the cake: its right is our left.
        let away = length(from_back, unit);
        format!("{} to the {} of front centre ({away} from the back)", length(along.abs(), unit), side(along > 0.0))
    } else {
        format!("{} to the {} of front centre", length(along.abs(), unit), side(along > 0.0))
    }
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
    fn places_are_told_as_one_reads_a_tape() {
        let around = 24.0 * 25.4;
        for (inches, told) in [
            (0.0, "at front centre"),
            (12.0, "at the back"),
            (-11.99, "at the back"),
            (4.25, "4 1/4 in to the right of front centre"),
            (-4.25, "4 1/4 in to the left of front centre"),
            (-10.5, "10 1/2 in to the left of front centre (1 1/2 in from the back)"),
        ] {
            assert_eq!(place(inches * 25.4, around, Unit::Inch), told);
        }
    }

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

//! Places on a tape, told in words.

use crate::measure::{Length, Unit, show_length};

/// Within 1/16 in of front centre or of the back a place is called so: no tape measure on icing reads finer.
const NEAR: f64 = 25.4 / 16.0;

/// A place on a tape of length `around` (mm), in words: `at the back`, `12 1/4 in to the right of front centre`.
#[must_use]
pub fn tape_words(along: f64, around: f64, unit: Unit) -> String {
    let half = around / 2.0;
    let from_back = half - along.abs();
    if along.abs() <= NEAR {
        return "at front centre".to_owned();
    }
    if from_back.abs() <= NEAR {
        return "at the back".to_owned();
    }
    let words = format!("{} to the {} of front centre", show_length(Length::mm(along.abs()), unit), side(along));
    // Beyond the quarter a person measures from the back, standing behind the cake.
    if from_back < half / 2.0 {
        return format!("{words} ({} from the back)", show_length(Length::mm(from_back), unit));
    }
    words
}

/// The same in few words, for a label on a picture: `back`, `4 1/4 in right`.
#[must_use]
pub fn tape_label(along: f64, around: f64, unit: Unit) -> String {
    if along.abs() <= NEAR {
        return "front centre".to_owned();
    }
    if around / 2.0 - along.abs() <= NEAR {
        return "back".to_owned();
    }
    format!("{} {}", show_length(Length::mm(along.abs()), unit), side(along))
}

const fn side(along: f64) -> &'static str {
    if along > 0.0 { "right" } else { "left" }
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
            assert_eq!(tape_words(inches * 25.4, around, Unit::Inch), told);
        }
    }
}

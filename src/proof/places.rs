//! Places on a tape, told in words.

use crate::measure::{Length, Unit, show_length};

/// A place on a tape of length `around` (mm), in words: `at the back`, `12 1/4 in to the right of front centre`.
///
/// Within 1/16 in of front centre or of the back it is called so: no tape measure on icing reads finer.
#[must_use]
pub fn tape_words(along: f64, around: f64, unit: Unit) -> String {
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
        let away = show_length(Length::mm(from_back), unit);
        let along_words = show_length(Length::mm(along.abs()), unit);
        format!("{along_words} to the {} of front centre ({away} from the back)", side(along > 0.0))
    } else {
        format!("{} to the {} of front centre", show_length(Length::mm(along.abs()), unit), side(along > 0.0))
    }
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

//! Places on a tape, told in words.

use super::{Length, Unit, show_length};

/// A place on a tape of length `around` (mm), in words: `at the back`, `12 1/4 in to the right of front centre`.
#[must_use]
pub fn tape_words(along: f64, around: f64, unit: Unit) -> String {
    let from_back = around / 2.0 - along.abs();
    let side = if along > 0.0 { "right" } else { "left" };
    let says = |mm: f64| show_length(Length::mm(mm), unit);
    match Landmark::at(along, around) {
        Some(Landmark::Front) => "at front centre".to_owned(),
        Some(Landmark::Back) => "at the back".to_owned(),
        // Beyond the quarter a person measures from the back.
        None if from_back < around / 4.0 => {
            format!("{} to the {side} of front centre ({} from the back)", says(along.abs()), says(from_back))
        }
        None => format!("{} to the {side} of front centre", says(along.abs())),
    }
}

/// The same in short, as a tape reads: `back`, `12 1/4 in right`.
#[must_use]
pub fn tape_reading(along: f64, around: f64, unit: Unit) -> String {
    let side = if along > 0.0 { "right" } else { "left" };
    match Landmark::at(along, around) {
        Some(Landmark::Front) => "front centre".to_owned(),
        Some(Landmark::Back) => "back".to_owned(),
        None => format!("{} {side}", show_length(Length::mm(along.abs()), unit)),
    }
}

/// A place that has a name of its own.
enum Landmark {
    Front,
    Back,
}

impl Landmark {
    /// Within 1/16 in: no tape measure on icing reads finer.
    fn at(along: f64, around: f64) -> Option<Self> {
        const NEAR: f64 = 25.4 / 16.0;
        if along.abs() <= NEAR {
            Some(Self::Front)
        } else {
            ((around / 2.0 - along.abs()).abs() <= NEAR).then_some(Self::Back)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_told_as_one_reads_a_tape() {
        let around = 24.0 * 25.4;
        for (inches, told, read) in [
            (0.0, "at front centre", "front centre"),
            (12.0, "at the back", "back"),
            (-11.99, "at the back", "back"),
            (4.25, "4 1/4 in to the right of front centre", "4 1/4 in right"),
            (-4.25, "4 1/4 in to the left of front centre", "4 1/4 in left"),
            (-10.5, "10 1/2 in to the left of front centre (1 1/2 in from the back)", "10 1/2 in left"),
        ] {
            assert_eq!(tape_words(inches * 25.4, around, Unit::Inch), told);
            assert_eq!(tape_reading(inches * 25.4, around, Unit::Inch), read);
        }
    }
}

//! Lengths as people write them, and as they are shown to people.
//!
//! ```text
//!   5 3/8 in   5-3/8"   5.375in   ¾ in   3½ in   2'-6"   2 ft 6 in   120 mm   12cm   8,5 cm   -1/2
//! ```
//!
//! A bare number takes the unit of the design. Feet and inches are the international ones (NIST SP 811, B.6).

use super::scan::{Mark, Scan};
use super::{Length, Unit};

/// The longest length that any cake, board or strip may have: 3 m.
pub const LONGEST: Length = Length::mm(3000.0);

/// The shortest length other than zero: a thousandth of a millimetre, finer than any tool in a kitchen.
pub const SHORTEST: Length = Length::mm(0.001);

/// Characters of a number and its unit that still look typed rather than computed.
const SHORT: usize = 12;

/// Characters in the longest text that is tried as a length.
const MOST_CHARACTERS: usize = 48;

/// Why a text or number is no length.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum LengthError {
    /// It can't be read at all.
    #[error("“{found}” is not a length; write for example {example}")]
    Unreadable {
        /// The text, shortened.
        found: String,
        /// Lengths in the unit of the design.
        example: &'static str,
    },
    /// The number is fine, its unit is not.
    #[error("“{found}” has the unit “{unit}”, which is not known; write in, ft, mm or cm")]
    UnknownUnit {
        /// The text, shortened.
        found: String,
        /// What stands in the place of the unit.
        unit: String,
    },
    /// A comma that may part thousands or decimals.
    #[error("“{found}” can be read in two ways; write a point for decimals and nothing between thousands")]
    TwoWays {
        /// The text, shortened.
        found: String,
    },
    /// Not a finite number, or beyond 3 m, or finer than a thousandth of a millimetre.
    #[error("“{found}” is out of range; a length is 0, or from 0.001 mm to 3 m (118 in)")]
    OutOfRange {
        /// The text or number.
        found: String,
    },
}

/// Examples of lengths in a unit, for messages.
#[must_use]
pub const fn length_examples(unit: Unit) -> &'static str {
    match unit {
        Unit::Inch => "5 3/8, 5.375 in or 137 mm",
        Unit::Millimetre => "120, 120 mm or 4 3/4 in",
        Unit::Centimetre => "12, 12.5 cm or 4 3/4 in",
    }
}

/// Reads a length as people write it; a bare number is counted in `unit`.
///
/// # Errors
/// Says what was found and gives examples, when the text is no length, is not finite, or is beyond 3 m.
pub fn read_length(text: &str, unit: Unit) -> Result<Length, LengthError> {
    let found = || shortened(text);
    let unreadable = || LengthError::Unreadable { found: found(), example: length_examples(unit) };
    if text.chars().count() > MOST_CHARACTERS {
        return Err(unreadable());
    }
    let mut scan = Scan::new(text);
    let negative = scan.sign();
    let first = scan.quantity().ok_or_else(unreadable)?;
    let mark = scan.mark();
    let inches = match mark {
        Mark::Feet if !scan.at_end() => {
            let inches = scan.inches().ok_or_else(unreadable)?;
            Some(first * 12.0 + inches)
        }
        Mark::Feet => Some(first * 12.0),
        _ => None,
    };
    let size = match (inches, mark) {
        (Some(inches), _) => Length::inches(inches),
        (None, Mark::Of(named)) => Length::of(first, named),
        (None, _) => Length::of(first, unit),
    };
    if scan.two_ways() {
        return Err(LengthError::TwoWays { found: found() });
    }
    if !scan.at_end() {
        let rest = scan.rest();
        let letters = rest.chars().all(char::is_alphabetic);
        return Err(if letters && mark == Mark::None {
            LengthError::UnknownUnit { found: found(), unit: rest.to_owned() }
        } else {
            unreadable()
        });
    }
    within_range(if negative { -size } else { size }).ok_or_else(|| LengthError::OutOfRange { found: found() })
}

/// A bare number counted in `unit`.
///
/// # Errors
/// When the number is not finite or beyond 3 m.
pub fn length_of_number(number: f64, unit: Unit) -> Result<Length, LengthError> {
    within_range(Length::of(number, unit)).ok_or_else(|| LengthError::OutOfRange { found: number.to_string() })
}

/// The length itself when it is one that a cake can have; a negative zero becomes zero.
fn within_range(length: Length) -> Option<Length> {
    if length.as_mm() == 0.0 {
        return Some(Length::ZERO);
    }
    let size = length.abs();
    (size >= SHORTEST && size <= LONGEST).then_some(length)
}

/// At most the first characters of a text, for a message.
fn shortened(text: &str) -> String {
    let text = text.trim();
    if text.chars().count() <= MOST_CHARACTERS {
        return text.to_owned();
    }
    text.chars().take(MOST_CHARACTERS).chain(['…']).collect()
}

/// A length for people: inches to the nearest sixteenth, millimetres to a tenth, centimetres to a hundredth.
#[must_use]
pub fn show_length(length: Length, unit: Unit) -> String {
    match unit {
        Unit::Inch => format!("{} in", fraction(length.as_inches(), 16)),
        Unit::Millimetre => format!("{} mm", trimmed(format!("{:.1}", length.as_mm()))),
        Unit::Centimetre => format!("{} cm", trimmed(format!("{:.2}", length.as_unit(unit)))),
    }
}

/// A length for a file: a text that [`read_length`] reads back to the very same length.
///
/// A short number of the unit, or a fraction of an inch down to 1/64, where one of them is exact: fractions first for
/// inches, numbers first otherwise. Else all the decimals it takes, in millimetres where the unit's own don't suffice.
/// Lengths finer than [`SHORTEST`] are written as zero.
#[must_use]
pub fn write_length(length: Length, unit: Unit) -> String {
    if length.abs() < SHORTEST {
        return format!("0 {}", unit.word());
    }
    let sixty_fourths = (length.as_inches() * 64.0).round();
    let fraction =
        (Length::inches(sixty_fourths / 64.0) == length).then(|| format!("{} in", fraction(length.as_inches(), 64)));
    let number = exact_number(length, unit).map(|number| format!("{number} {}", unit.word()));
    let short_number = number.clone().filter(|number| number.len() <= SHORT && unit != Unit::Inch);
    short_number.or(fraction).or(number).unwrap_or_else(|| format!("{} mm", length.as_mm()))
}

/// The number of `unit` that gives back exactly this length, if it is one that a person would type.
#[must_use]
pub fn plain_number(length: Length, unit: Unit) -> Option<f64> {
    exact_number(length, unit).filter(|number| number.to_string().len() < SHORT)
}

/// The number of `unit` that gives back exactly this length, if there is one.
fn exact_number(length: Length, unit: Unit) -> Option<f64> {
    let near = length.as_unit(unit);
    // Dividing and multiplying again may be off by one step of the last binary place.
    [near, near.next_up(), near.next_down()].into_iter().find(|&number| Length::of(number, unit) == length)
}

/// A number as a whole and a reduced fraction with at most this denominator: `5 3/8`, `-1/2`, `0`.
fn fraction(value: f64, denominator: u32) -> String {
    let parts = (value.abs() * f64::from(denominator)).round();
    let whole = (parts / f64::from(denominator)).floor();
    let (mut top, mut bottom) = (parts - whole * f64::from(denominator), denominator);
    while bottom > 1 && top % 2.0 == 0.0 {
        top /= 2.0;
        bottom /= 2;
    }
    let sign = if value < 0.0 && parts > 0.0 { "-" } else { "" };
    match (whole > 0.0, top > 0.0) {
        (true, true) => format!("{sign}{whole} {top}/{bottom}"),
        (false, true) => format!("{sign}{top}/{bottom}"),
        (_, false) => format!("{sign}{whole}"),
    }
}

/// Decimals without trailing zeros and without a negative zero.
fn trimmed(decimals: String) -> String {
    let short =
        if decimals.contains('.') { decimals.trim_end_matches('0').trim_end_matches('.').to_owned() } else { decimals };
    if short == "-0" { "0".to_owned() } else { short }
}

#[cfg(test)]
mod tests {
    use proptest::collection::vec;
    use proptest::prelude::{ProptestConfig, any, prop_assert_eq, prop_oneof, proptest};
    use proptest::strategy::{Just, Strategy};

    use super::{LengthError, length_of_number, read_length, show_length, write_length};
    use crate::measure::{Length, Unit};

    /// What people write, and its millimetres: 1 in = 25.4 mm exactly, 1 ft = 12 in (NIST SP 811, B.6).
    const WRITTEN: [(&str, f64); 33] = [
        ("5 3/8 in", 136.525),
        ("5-3/8\"", 136.525),
        ("5.375in", 136.525),
        ("5 3/8", 136.525),
        ("5 3⁄8 inches", 136.525),
        ("120 mm", 120.0),
        ("12cm", 120.0),
        ("12 CM", 120.0),
        ("¾ in", 19.05),
        ("3½ in", 88.9),
        ("3 ½″", 88.9),
        ("⅛", 3.175),
        ("2'-6\"", 762.0),
        ("2' 6\"", 762.0),
        ("2′6″", 762.0),
        ("2 ft 6 in", 762.0),
        ("2 ft 6 1/2 in", 774.7),
        ("2'6", 762.0),
        ("2 feet", 609.6),
        ("8,5 cm", 85.0),
        ("0,375 in", 9.525),
        ("-1/2", -12.7),
        ("−1/2 in", -12.7),
        ("+4 mm", 4.0),
        (".5 in", 12.7),
        ("0", 0.0),
        ("-0 in", 0.0),
        ("7/4 in", 44.45),
        ("5 in.", 127.0),
        ("5''", 127.0),
        ("  7  ", 177.8),
        ("300 cm", 3000.0),
        ("0.3 millimetres", 0.3),
    ];

    #[test]
    fn lengths_are_read_as_people_write_them() {
        for (text, mm) in WRITTEN {
            let length = read_length(text, Unit::Inch).unwrap_or_else(|error| panic!("{error}"));
            assert!((length.as_mm() - mm).abs() < 1e-9, "{text} gave {length:?}");
        }
    }

    #[test]
    fn a_bare_number_takes_the_unit() {
        assert_eq!(read_length("7", Unit::Millimetre), Ok(Length::mm(7.0)));
        assert_eq!(read_length("7", Unit::Centimetre), Ok(Length::mm(70.0)));
        assert_eq!(length_of_number(7.0, Unit::Inch), Ok(Length::inches(7.0)));
    }

    #[test]
    fn what_is_no_length_is_refused_with_an_example() {
        for text in [
            "", " ", "five", "5 3/", "/8", "5 3/0", "5 11/8", "1e3", "nan", "inf", "5 5", "--5", "2' x", "5.", "5 in 3",
        ] {
            let error = read_length(text, Unit::Inch).expect_err(text);
            assert!(matches!(error, LengthError::Unreadable { .. }), "{text}: {error}");
            assert!(error.to_string().contains("5 3/8"), "{text}: {error}");
        }
        let long = "9".repeat(10_000);
        assert!(read_length(&long, Unit::Inch).expect_err("long").to_string().chars().count() < 200);
    }

    #[test]
    fn wrong_units_wide_ranges_and_double_meanings_are_told_apart() {
        assert!(matches!(read_length("5 yd", Unit::Inch), Err(LengthError::UnknownUnit { unit, .. }) if unit == "yd"));
        assert!(matches!(read_length("1,250 mm", Unit::Inch), Err(LengthError::TwoWays { .. })));
        for text in ["3001 mm", "119 in", "-400 cm", "0.0001 mm"] {
            assert!(matches!(read_length(text, Unit::Inch), Err(LengthError::OutOfRange { .. })), "{text}");
        }
        for number in [f64::NAN, f64::INFINITY, 1e300, 1e-300] {
            assert!(length_of_number(number, Unit::Inch).is_err(), "{number}");
        }
    }

    #[test]
    fn lengths_are_shown_rounded() {
        let cases = [
            (136.525, Unit::Inch, "5 3/8 in"),
            (-12.7, Unit::Inch, "-1/2 in"),
            (0.2, Unit::Inch, "0 in"),
            (-0.2, Unit::Inch, "0 in"),
            (25.3, Unit::Inch, "1 in"),
            (120.0, Unit::Millimetre, "120 mm"),
            (3.175, Unit::Millimetre, "3.2 mm"),
            (-0.01, Unit::Millimetre, "0 mm"),
            (123.46, Unit::Centimetre, "12.35 cm"),
            (120.0, Unit::Centimetre, "12 cm"),
        ];
        for (mm, unit, text) in cases {
            assert_eq!(show_length(Length::mm(mm), unit), text);
        }
    }

    fn units() -> impl Strategy<Value = Unit> {
        prop_oneof![Just(Unit::Inch), Just(Unit::Millimetre), Just(Unit::Centimetre)]
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn a_written_length_reads_back_identically(mm in -3000.0..3000.0f64, unit in units(), other in units()) {
            let text = write_length(Length::mm(mm), unit);
            prop_assert_eq!(read_length(&text, other), Ok(Length::mm(mm)), "{}", text);
        }

        #[test]
        fn sixty_fourths_read_well_in_every_unit(parts in -7000i32..7000, unit in units()) {
            let text = write_length(Length::inches(f64::from(parts) / 64.0), unit);
            assert!(text.len() <= "-109 23/64 in".len(), "{text}");
        }

        #[test]
        fn sixty_fourths_stay_fractions(parts in -7000i32..7000) {
            let length = Length::inches(f64::from(parts) / 64.0);
            let text = write_length(length, Unit::Inch);
            prop_assert_eq!(read_length(&text, Unit::Millimetre), Ok(length));
            assert!(!text.contains('.'), "{text}");
        }

        #[test]
        fn a_shown_length_is_within_half_a_step(mm in -2900.0..2900.0f64, unit in units()) {
            let shown = read_length(&show_length(Length::mm(mm), unit), unit).expect("shown");
            let half_step = match unit { Unit::Inch => 25.4 / 32.0, _ => 0.05 };
            assert!((shown.as_mm() - mm).abs() <= half_step + 1e-9);
        }

        #[test]
        fn any_text_is_answered_without_a_panic(characters in vec(any::<char>(), 0..40), unit in units()) {
            let text: String = characters.into_iter().collect();
            let _ = read_length(&text, unit);
        }
    }
}

//! Reads a length from left to right, one part at a time: sign, quantity, unit.

use super::Unit;

/// What stands behind a quantity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Mark {
    /// A unit of the design.
    Of(Unit),
    /// Feet: inches may follow.
    Feet,
    /// Nothing that is known.
    None,
}

/// The words and signs of each unit; a longer sign stands before its own beginning.
const MARKS: [(Mark, &[&str]); 4] = [
    (Mark::Of(Unit::Inch), &["inches", "inch", "in", "''", "\"", "″", "”"]),
    (Mark::Of(Unit::Millimetre), &["millimetres", "millimetre", "millimeters", "millimeter", "mm"]),
    (Mark::Of(Unit::Centimetre), &["centimetres", "centimetre", "centimeters", "centimeter", "cm"]),
    (Mark::Feet, &["feet", "foot", "ft", "'", "′", "’"]),
];

/// Fractions that are one character (Unicode, block Number Forms and Latin-1).
const FRACTIONS: [(char, f64, f64); 19] = [
    ('½', 1.0, 2.0),
    ('⅓', 1.0, 3.0),
    ('⅔', 2.0, 3.0),
    ('¼', 1.0, 4.0),
    ('¾', 3.0, 4.0),
    ('⅕', 1.0, 5.0),
    ('⅖', 2.0, 5.0),
    ('⅗', 3.0, 5.0),
    ('⅘', 4.0, 5.0),
    ('⅙', 1.0, 6.0),
    ('⅚', 5.0, 6.0),
    ('⅐', 1.0, 7.0),
    ('⅛', 1.0, 8.0),
    ('⅜', 3.0, 8.0),
    ('⅝', 5.0, 8.0),
    ('⅞', 7.0, 8.0),
    ('⅑', 1.0, 9.0),
    ('⅒', 1.0, 10.0),
    ('↉', 0.0, 3.0),
];

/// The text that is still to be read.
pub(super) struct Scan<'a> {
    rest: &'a str,
    two_ways: bool,
}

impl<'a> Scan<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        Self { rest: text.trim(), two_ways: false }
    }

    /// Nothing is left.
    pub(super) fn at_end(&self) -> bool {
        self.rest.is_empty()
    }

    /// What is left.
    pub(super) const fn rest(&self) -> &'a str {
        self.rest
    }

    /// A comma was read that may part thousands as well as decimals.
    pub(super) const fn two_ways(&self) -> bool {
        self.two_ways
    }

    /// Takes a leading sign and says whether it was a minus.
    pub(super) fn sign(&mut self) -> bool {
        let minus = self.take_any(&["-", "−"]);
        if !minus {
            self.take_any(&["+"]);
        }
        self.skip_spaces();
        minus
    }

    /// Takes a number: whole, decimal, fraction, or whole and fraction.
    pub(super) fn quantity(&mut self) -> Option<f64> {
        let whole_digits = self.digits();
        if let Some(decimals) = self.decimals(whole_digits)? {
            return format!("{whole_digits}.{decimals}").parse().ok();
        }
        if whole_digits.is_empty() {
            return self.single_character_fraction();
        }
        let whole: f64 = whole_digits.parse().ok()?;
        if self.take_any(&["/", "⁄"]) {
            return self.denominator().map(|bottom| whole / bottom);
        }
        Some(whole + self.fraction_behind().unwrap_or(0.0))
    }

    /// Takes a unit, with the spaces round it; nothing is taken when none is known.
    pub(super) fn mark(&mut self) -> Mark {
        self.skip_spaces();
        let Some((mark, sign)) = MARKS
            .iter()
            .flat_map(|(mark, signs)| signs.iter().map(move |sign| (*mark, *sign)))
            .find(|(_, sign)| self.begins(sign))
        else {
            return Mark::None;
        };
        self.advance(sign.len());
        if sign.chars().all(char::is_alphabetic) {
            self.take_any(&["."]);
        }
        self.skip_spaces();
        mark
    }

    /// Takes the inches behind feet: `-6"`, `6 in`, `6 1/2`.
    pub(super) fn inches(&mut self) -> Option<f64> {
        self.take_any(&["-", "–"]);
        self.skip_spaces();
        let inches = self.quantity()?;
        match self.mark() {
            Mark::Of(Unit::Inch) | Mark::None => Some(inches),
            _ => None,
        }
    }

    /// A fraction behind a whole number, after a space or a hyphen; nothing is taken when there is none.
    fn fraction_behind(&mut self) -> Option<f64> {
        let before = self.rest;
        if !self.take_any(&["-", "–"]) {
            self.skip_spaces();
        }
        let taken = self.single_character_fraction().or_else(|| {
            let top = self.digits();
            let part = self.take_any(&["/", "⁄"]);
            let top: f64 = top.parse().ok()?;
            let bottom = self.denominator().filter(|&bottom| part && top < bottom)?;
            Some(top / bottom)
        });
        if taken.is_none() {
            self.rest = before;
        }
        taken
    }

    /// The decimals behind a point or comma. `Some(None)`: there is no point; `None`: there is one and nothing behind it.
    fn decimals(&mut self, whole: &str) -> Option<Option<&'a str>> {
        let comma = self.rest.starts_with(',');
        if !self.take_any(&[".", ","]) {
            return Some(None);
        }
        let decimals = self.digits();
        self.two_ways |= comma && decimals.len() == 3 && whole.contains(|digit| digit != '0');
        (!decimals.is_empty()).then_some(Some(decimals))
    }

    fn denominator(&mut self) -> Option<f64> {
        self.digits().parse().ok().filter(|&bottom: &f64| bottom > 0.0)
    }

    fn single_character_fraction(&mut self) -> Option<f64> {
        let first = self.rest.chars().next()?;
        let (_, top, bottom) = FRACTIONS.iter().find(|(sign, _, _)| *sign == first)?;
        self.advance(first.len_utf8());
        Some(top / bottom)
    }

    fn digits(&mut self) -> &'a str {
        let end = self.rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(self.rest.len());
        let (digits, rest) = self.rest.split_at(end);
        self.rest = rest;
        digits
    }

    fn skip_spaces(&mut self) {
        self.rest = self.rest.trim_start();
    }

    fn take_any(&mut self, signs: &[&str]) -> bool {
        let taken = signs.iter().find_map(|sign| self.rest.strip_prefix(sign));
        self.rest = taken.unwrap_or(self.rest);
        taken.is_some()
    }

    /// Whether the rest begins with a unit's word (in either case, not inside a longer word) or sign.
    fn begins(&self, sign: &str) -> bool {
        let Some(head) = self.rest.get(..sign.len()) else { return false };
        let behind = self.rest.get(sign.len()..).and_then(|rest| rest.chars().next());
        let word = sign.chars().all(char::is_alphabetic);
        head.eq_ignore_ascii_case(sign) && !(word && behind.is_some_and(char::is_alphabetic))
    }

    fn advance(&mut self, bytes: usize) {
        self.rest = self.rest.get(bytes..).unwrap_or("");
    }
}

//! Cutting a wrap into as few equal strips as the sheet allows.
//!
//! Free seams lie evenly about the middle of the front strip, so that they fall as far from the front as their number
//! allows; pinned seams stay where the person put them, and each stretch between two pins is cut evenly.

use crate::design::model::Sheet;

/// What a sheet yields for a strip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SheetYield {
    /// Longest strip, with its overlap, mm.
    pub longest: f64,
    /// The strip lies along the sheet's height rather than its width.
    pub turned: bool,
    /// The strip's height is within what the sheet prints.
    pub high_enough: bool,
}

/// The longest strip of a height that a sheet prints, the strip lying either way.
#[must_use]
pub fn sheet_yield(sheet: &Sheet, height: f64) -> SheetYield {
    let [width, tall] = sheet.printable.map(crate::measure::Length::as_mm);
    let ways = [(width, tall, false), (tall, width, true)];
    // Half a hundredth of a millimetre: a strip typed as high as the sheet must not fail by rounding.
    let fits = ways.into_iter().filter(|&(_, across, _)| height <= across + 0.005);
    match fits.max_by(|a, b| a.0.total_cmp(&b.0)) {
        Some((longest, _, turned)) => SheetYield { longest, turned, high_enough: true },
        None => SheetYield { longest: width.max(tall), turned: tall > width, high_enough: false },
    }
}

/// The stretch to be cut, in tape readings, and how printed length follows from them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// Its two ends; all round when they are a whole turn apart.
    pub span: (f64, f64),
    /// It runs all round and meets itself.
    pub closed: bool,
    /// Longest strip in tape readings, its overlap taken off.
    pub longest: f64,
    /// The reading that the middle strip is centred on.
    pub centre: f64,
}

/// Most strips that a wrap may have; more means that the sheet or the overlap is a mistake.
const MOST: f64 = 500.0;

/// Readings of the seams, from left to right, and whether each is pinned. An open stretch's two ends are no seams.
#[must_use]
pub fn seams(cut: &Cut, pins: &[f64]) -> Vec<(f64, bool)> {
    let (from, to) = cut.span;
    let around = to - from;
    let mut pinned: Vec<f64> =
        pins.iter().map(|&pin| within(pin, cut)).filter(|&pin| cut.closed || (pin > from && pin < to)).collect();
    pinned.sort_by(f64::total_cmp);
    pinned.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    let Some(&first) = pinned.first() else {
        return free_seams(cut);
    };
    let mut seams = Vec::new();
    let ends: Vec<f64> = if cut.closed {
        pinned.iter().copied().chain([first + around]).collect()
    } else {
        [from].into_iter().chain(pinned.iter().copied()).chain([to]).collect()
    };
    for (&left, &right) in ends.iter().zip(ends.iter().skip(1)) {
        let is_pin = cut.closed || left > from;
        seams.extend(is_pin.then_some((left, true)));
        seams.extend(evenly(left, right, cut.longest).map(|seam| (seam, false)));
    }
    let mut seams: Vec<(f64, bool)> = seams.into_iter().map(|(seam, pin)| (within(seam, cut), pin)).collect();
    seams.sort_by(|a, b| a.0.total_cmp(&b.0));
    seams
}

/// A reading brought into the stretch, by whole turns when it is closed: the back counts as its right end.
fn within(reading: f64, cut: &Cut) -> f64 {
    let (from, to) = cut.span;
    if !cut.closed {
        return reading;
    }
    let along = (reading - from).rem_euclid(to - from);
    if along <= 1e-9 { to } else { from + along }
}

fn free_seams(cut: &Cut) -> Vec<(f64, bool)> {
    let (from, to) = cut.span;
    if !cut.closed {
        return evenly(from, to, cut.longest).map(|seam| (seam, false)).collect();
    }
    let count = strips_in(to - from, cut.longest);
    let width = (to - from) / count;
    // Half a strip either side of the centre: one strip lies square in front, and the seams are even about the back.
    let mut seams: Vec<f64> =
        (0..count as u32).map(|n| within(cut.centre + width * (f64::from(n) + 0.5), cut)).collect();
    seams.sort_by(f64::total_cmp);
    seams.into_iter().map(|seam| (seam, false)).collect()
}

fn strips_in(length: f64, longest: f64) -> f64 {
    (length / longest.max(0.1) - 1e-9).ceil().clamp(1.0, MOST)
}

/// The seams that cut from `left` to `right` into as few even strips as possible.
fn evenly(left: f64, right: f64, longest: f64) -> impl Iterator<Item = f64> {
    let count = strips_in(right - left, longest);
    (1..count as u32).map(move |n| left + (right - left) * f64::from(n) / count)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Length;

    const LETTER: Sheet =
        Sheet::plain([Length::inches(8.5), Length::inches(11.0)], [Length::inches(8.0), Length::inches(10.5)]);

    fn round(around: f64, longest: f64) -> Cut {
        Cut { span: (-around / 2.0, around / 2.0), closed: true, longest, centre: 0.0 }
    }

    #[test]
    fn a_six_inch_cake_needs_three_letter_sheets_fed_the_long_way() {
        // common practice, no source: a 6 in cake printed 4 3/4 in high; half an inch of icing all round makes it 7 in
        let found = sheet_yield(&LETTER, 4.75 * 25.4);
        assert!(found.turned && found.high_enough);
        assert_eq!(found.longest, 10.5 * 25.4);
        let around = std::f64::consts::PI * 7.0 * 25.4;
        assert_eq!(seams(&round(around, found.longest), &[]).len(), 3);
        // Planned from the pan, the third sheet is missing: the strips would come out short.
        assert_eq!(seams(&round(std::f64::consts::PI * 6.0 * 25.4, found.longest), &[]).len(), 2);
    }

    #[test]
    fn free_seams_lie_evenly_about_the_back_and_never_in_front() {
        for count in 1..9_u32 {
            let found = seams(&round(600.0, 600.0 / f64::from(count) + 1e-6), &[]);
            assert_eq!(found.len(), count as usize);
            for &(seam, _) in &found {
                let mirror = if seam > 299.999 { 300.0 } else { -seam };
                assert!(found.iter().any(|&(other, _)| (other - mirror).abs() < 1e-6), "{found:?}");
                assert!(seam.abs() >= 300.0 / f64::from(count) - 1e-6, "{found:?}");
            }
        }
    }

    #[test]
    fn pins_stay_and_what_lies_between_is_cut_evenly() {
        let found = seams(&round(600.0, 210.0), &[100.0]);
        let readings: Vec<f64> = found.iter().map(|seam| seam.0).collect();
        assert_eq!(readings, vec![-300.0 + 200.0, 100.0, 300.0]);
        assert_eq!(found.iter().filter(|seam| seam.1).count(), 1);
        let open = Cut { span: (-90.0, 90.0), closed: false, longest: 70.0, centre: 0.0 };
        assert_eq!(seams(&open, &[]).len(), 2);
        assert_eq!(seams(&open, &[60.0]).len(), 3);
    }

    #[test]
    fn a_strip_higher_than_the_sheet_is_said_to_be() {
        assert!(!sheet_yield(&LETTER, 300.0).high_enough);
    }
}

//! The ruler under a side, which reads 0 at front centre, the smaller one up its right end, and the bar that shows the scale.

use glam::DVec2;

use super::side::Side;
use crate::art::{Stretch, Typeface};
use crate::measure::{MM_PER_INCH, Unit};
use crate::proof::chart::{Align, Chart, Hand};
use crate::proof::ink::{INK, MUTED};

/// Marks of a ruler closer than this on the page run together, mm.
const CLOSEST: f64 = 0.3;
/// Numbers of a ruler stand at least so far apart, mm.
const NUMBERS_APART: f64 = 6.0;
/// Height of the ruler under a side with its words, mm.
pub(super) const HEIGHT: f64 = 12.5;

/// How a ruler is marked.
struct Marks {
    /// From the finest mark to the coarsest: every so many mm of the cake, so long on the page.
    steps: Vec<(f64, f64)>,
    /// Numbers at every so many units.
    number_every: f64,
    /// Millimetres of one unit.
    unit: f64,
}

impl Marks {
    fn new(unit: Unit, scale: f64) -> Self {
        let (unit, steps): (f64, &[(f64, f64)]) = match unit {
            Unit::Inch => {
                (MM_PER_INCH, &[(1.0 / 16.0, 0.9), (1.0 / 8.0, 1.3), (1.0 / 4.0, 1.7), (1.0 / 2.0, 2.2), (1.0, 3.0)])
            }
            Unit::Centimetre => (10.0, &[(0.1, 1.0), (0.5, 1.8), (1.0, 3.0)]),
            Unit::Millimetre => (1.0, &[(1.0, 1.0), (5.0, 1.8), (10.0, 3.0)]),
        };
        let steps = steps.iter().map(|&(step, long)| (step * unit, long)).filter(|(step, _)| step * scale >= CLOSEST);
        let every = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0].into_iter();
        let number_every = every.clone().find(|every| every * unit * scale >= NUMBERS_APART).unwrap_or(500.0);
        Self { steps: steps.collect(), number_every, unit }
    }

    /// Distances from 0 up to `reach` mm at which marks stand, with their lengths on the page; each once.
    fn up_to(&self, reach: f64) -> Vec<(f64, f64)> {
        let Some(&(finest, _)) = self.steps.first() else { return Vec::new() };
        let count = (reach / finest + 1e-6).floor().max(0.0) as u32;
        let long = |at: f64| {
            let on = |step: f64| (at / step - (at / step).round()).abs() < 1e-6;
            self.steps.iter().filter(|(step, _)| on(*step)).map(|(_, long)| *long).fold(0.0, f64::max)
        };
        (0..=count).map(|n| f64::from(n) * finest).map(|at| (at, long(at))).collect()
    }

    /// Distances from 0 up to `reach` mm at which numbers stand, with what they say.
    fn numbers(&self, reach: f64) -> Vec<(f64, String)> {
        let every = self.number_every * self.unit;
        let count = (reach / every + 1e-6).floor().max(0.0) as u32;
        (0..=count).map(|n| (f64::from(n) * every, format!("{}", f64::from(n) * self.number_every))).collect()
    }
}

/// The ruler under a side, from `top` (page y) down: marks, numbers, and which side of the cake faces where.
pub(super) fn along(chart: &mut Chart, side: &Side, top: f64) {
    let marks = Marks::new(side.unit, side.scale);
    let half = side.around() / 2.0;
    let (left, right) = side.ends();
    chart.line([DVec2::new(left, top), DVec2::new(right, top)], Stretch::solid(0.3, INK));
    let both = |at: f64| if at > 0.0 { vec![-at, at] } else { vec![at] };
    for (at, long) in marks.up_to(half) {
        for reading in both(at) {
            let from = DVec2::new(side.x(reading), top);
            chart.line([from, from + DVec2::Y * long], Stretch::solid(if long > 2.0 { 0.2 } else { 0.12 }, INK));
        }
    }
    for (at, number) in marks.numbers(half - NUMBERS_APART / side.scale / 2.0) {
        for reading in both(at) {
            let hand = if at > 0.0 { Hand::text(2.4) } else { Hand::strong(3.0) };
            chart.text((DVec2::new(side.x(reading), top + 6.0), Align::Middle), number.clone(), hand);
        }
    }
    let hand = Hand::strong(2.6).coloured(MUTED);
    for (reading, word, align) in quarters(side) {
        chart.text((DVec2::new(side.x(reading), top + 10.6), align), word, hand);
    }
}

/// Front, right, back and left: where the tape faces that way.
fn quarters(side: &Side) -> [(f64, &'static str, Align); 5] {
    let outline = &side.tier.outline;
    let far = outline.reach() * 10.0;
    let half = side.around() / 2.0;
    [
        (-half, "back", Align::Left),
        (outline.nearest(DVec2::NEG_X * far), "left", Align::Middle),
        (0.0, "front centre", Align::Middle),
        (outline.nearest(DVec2::X * far), "right", Align::Middle),
        (half, "back", Align::Right),
    ]
}

/// The ruler up the right end of a side: 0 at the tier's foot.
pub(super) fn up(chart: &mut Chart, side: &Side) {
    let marks = Marks::new(side.unit, side.scale);
    let (x, height) = (side.ends().1 + 2.0, side.tier.height.as_mm());
    chart.line([DVec2::new(x, side.y(0.0)), DVec2::new(x, side.y(height))], Stretch::solid(0.3, INK));
    for (at, long) in marks.up_to(height) {
        let from = DVec2::new(x, side.y(at));
        chart.line([from, from + DVec2::X * long], Stretch::solid(if long > 2.0 { 0.2 } else { 0.12 }, INK));
    }
    for (at, number) in marks.numbers(height) {
        chart.text((DVec2::new(x + 3.8, side.y(at) + 0.9), Align::Left), number, Hand::text(2.4));
    }
}

/// A bar of so many whole units with its right end at `end`, and what it says.
pub(super) fn scale_bar(chart: &mut Chart, end: DVec2, unit: Unit, scale: f64) {
    let (mm, word, steps) = match unit {
        Unit::Inch => (MM_PER_INCH, "in", [1.0, 2.0, 4.0, 8.0]),
        Unit::Centimetre => (10.0, "cm", [2.0, 5.0, 10.0, 20.0]),
        Unit::Millimetre => (1.0, "mm", [20.0, 50.0, 100.0, 200.0]),
    };
    let count = steps.into_iter().find(|count| count * mm * scale >= 20.0).unwrap_or(400.0);
    let length = count * mm * scale;
    let quarter = DVec2::X * length / 4.0;
    for n in 0..4 {
        let low = end - quarter * (4.0 - f64::from(n)) - DVec2::Y * 1.2;
        let high = low + quarter + DVec2::Y * 1.2;
        if n % 2 == 0 {
            chart.block([low, high], INK);
        }
        chart.edge([low, high], Stretch::solid(0.2, INK));
    }
    let says = if scale == 1.0 { "true size".to_owned() } else { format!("1 : {:.1}", 1.0 / scale) };
    let hand = Hand { face: Typeface::Text, ..Hand::text(2.5) };
    chart.text((end - DVec2::new(length + 2.0, 0.2), Align::Right), format!("{says}, the bar is {count} {word}"), hand);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_inch_has_its_sixteenths_while_they_can_be_told_apart() {
        let marks = Marks::new(Unit::Inch, 0.3).up_to(MM_PER_INCH);
        assert_eq!(marks.len(), 17);
        let longest: Vec<f64> = marks.iter().filter(|mark| mark.1 > 2.5).map(|mark| mark.0).collect();
        assert!(longest.len() == 2 && (longest[1] - MM_PER_INCH).abs() < 1e-9, "{longest:?}");
        assert_eq!(Marks::new(Unit::Inch, 0.1).up_to(MM_PER_INCH).len(), 9);
    }

    #[test]
    fn numbers_keep_apart() {
        let numbers = |unit, scale| Marks::new(unit, scale).numbers(300.0);
        assert_eq!(numbers(Unit::Inch, 0.3)[1], (MM_PER_INCH, "1".to_owned()));
        assert_eq!(numbers(Unit::Inch, 0.1)[1], (5.0 * MM_PER_INCH, "5".to_owned()));
        assert_eq!(numbers(Unit::Millimetre, 0.3)[1], (20.0, "20".to_owned()));
        assert_eq!(numbers(Unit::Centimetre, 0.3)[1], (20.0, "2".to_owned()));
    }
}

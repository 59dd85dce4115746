//! A ruler laid round an outline, some way outside it: what lies outside is longer.

use super::outline::{Outline, Side};

/// The line `out` mm outside an outline, its corners rounded, measured against the outline's own tape.
///
/// A line outside turns through the same angles on larger radii, so it is longer by `out` times the angle turned through;
/// all round a convex outline that is `L + 2π·out`. In a cleft the two sides meet earlier, by about `out·tan` of half the
/// angle each.
#[derive(Clone, Debug)]
pub struct Ruler {
    around: f64,
    round: f64,
    /// One a side of the outline, in order.
    marks: Vec<Mark>,
}

/// Where a side starts, on the tape and on the line outside, and how much longer it is there.
#[derive(Clone, Copy, Debug)]
struct Mark {
    start: f64,
    /// Length of the line outside from reading 0 to this start, the way round this corner included.
    length: f64,
    /// Millimetres of the line outside to one of the tape.
    rate: f64,
}

impl Ruler {
    /// The ruler `out` mm outside an outline.
    #[must_use]
    pub fn new(outline: &Outline, out: f64) -> Self {
        let mut length = 0.0;
        let mut marks = Vec::with_capacity(outline.sides().len());
        for (joint, side) in outline.joints().zip(outline.sides()) {
            length += match joint.turn {
                turn if turn >= 0.0 => turn * out,
                turn => 2.0 * (turn / 2.0).max(-1.5).tan() * out,
            };
            let rate = match *side {
                Side::Line { .. } => 1.0,
                Side::Arc { radius, sweep, .. } => 1.0 + sweep.signum() * out / radius,
            };
            marks.push(Mark { start: joint.start, length, rate });
            length += rate * side.length();
        }
        Self { around: outline.perimeter(), round: length, marks }
    }

    /// Length of the line outside from front centre to a reading; readings run on past the back, either way.
    ///
    /// The way round a corner belongs to what lies to its right.
    #[must_use]
    pub fn at(&self, along: f64) -> f64 {
        if self.around <= 0.0 {
            return 0.0;
        }
        let turns = (along / self.around).floor();
        let rest = along - turns * self.around;
        let index = self.marks.partition_point(|mark| mark.start < rest);
        let within = index.checked_sub(1).and_then(|index| self.marks.get(index));
        turns * self.round + within.map_or(0.0, |mark| mark.length + mark.rate * (rest - mark.start))
    }
}

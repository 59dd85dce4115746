//! The lines that a place snaps to, with their names.

use glam::DVec2;

use super::Neighbour;
use crate::cake::{Cake, CakeTier};
use crate::design::model::Surface;

/// A line across one direction of a seat.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Line {
    /// Its reading, mm.
    pub at: f64,
    /// What it is, in words.
    pub words: String,
}

/// Lines across one direction of a seat, the more welcome first.
pub(super) struct Lines {
    lines: Vec<Line>,
    /// Once round, where readings begin anew.
    around: Option<f64>,
}

impl Lines {
    /// None at all.
    pub(super) const fn none() -> Self {
        Self { lines: Vec::new(), around: None }
    }

    /// Only the middle.
    pub(super) fn middle() -> Self {
        Self { lines: vec![line(0.0, "centre")], around: None }
    }

    /// Upright lines round a side.
    pub(super) fn along(tier: &CakeTier, others: &[Neighbour<'_>]) -> Self {
        let around = tier.outline.perimeter();
        let mut lines = landmarks(around);
        lines.extend(others.iter().map(|other| line(other.at.x, format!("in line with “{}”", other.name))));
        lines.extend(even(others, |other| tier.outline.reading(other.at.x), Some(around)));
        Self { lines, around: Some(around) }
    }

    /// Level lines up a side; the piece reaches from `low` to `high` about its place.
    pub(super) fn up(tier: &CakeTier, others: &[Neighbour<'_>], (low, high): (f64, f64)) -> Self {
        let mut lines: Vec<Line> =
            others.iter().map(|other| line(other.at.y, format!("level with “{}”", other.name))).collect();
        lines.push(line(tier.height.as_mm() / 2.0, "half way up"));
        for course in tier.courses.iter().filter(|course| course.height() > 0.0) {
            let name = &course.name;
            lines.push(line((course.bottom + course.top) / 2.0, format!("in the middle of “{name}”")));
            for (edge, word) in [(course.top, "upper"), (course.bottom, "lower")] {
                if edge > 0.0 {
                    lines.push(line(edge, format!("on the {word} edge of “{name}”")));
                }
            }
            if high > low {
                lines.push(line(course.top - low, format!("standing on “{name}”")));
                lines.push(line(course.bottom - high, format!("up to “{name}”")));
            }
        }
        Self { lines, around: None }
    }

    /// Lines across a top or the board in one of its directions.
    pub(super) fn plan(others: &[Neighbour<'_>], of: impl Fn(DVec2) -> f64) -> Self {
        let mut lines = vec![line(0.0, "centre")];
        lines.extend(others.iter().map(|other| line(of(other.at), format!("in line with “{}”", other.name))));
        lines.extend(even(others, |other| of(other.at), None));
        Self { lines, around: None }
    }

    /// Where a seam likes to be: at the back, at a corner, behind a piece.
    pub(super) fn seam(cake: &Cake, tier: &CakeTier) -> Self {
        let around = tier.outline.perimeter();
        let mut lines = landmarks(around);
        lines.extend(tier.outline.corners(0.5).into_iter().map(|at| line(at, "at a corner")));
        let on_side = cake.pieces.iter().filter_map(|placed| {
            let side = placed.side.filter(|side| cake.tiers.get(side.tier).is_some_and(|on| on.name == tier.name))?;
            let piece = cake.designed(placed).filter(|piece| piece.seat.surface == Surface::Side)?;
            Some(line(side.along, format!("behind “{}”", piece.name)))
        });
        lines.extend(on_side);
        Self { lines, around: Some(around) }
    }

    /// The line nearest to a reading, within `strength`; of equal ones the more welcome.
    pub(super) fn nearest(self, value: f64, strength: f64) -> Option<Line> {
        let around = self.around;
        let away = |line: &Line| match around {
            Some(around) => ((line.at - value + around / 2.0).rem_euclid(around) - around / 2.0).abs(),
            None => (line.at - value).abs(),
        };
        let near = self.lines.into_iter().filter(|line| away(line) <= strength);
        // A hair's difference is none: `min_by` keeps the first of equal ones.
        near.min_by(|a, b| ((away(a) * 100.0).round()).total_cmp(&(away(b) * 100.0).round()))
    }
}

fn line(at: f64, words: impl Into<String>) -> Line {
    Line { at, words: words.into() }
}

/// Front centre, the back, and the quarter points between them.
fn landmarks(around: f64) -> Vec<Line> {
    vec![
        line(0.0, "front centre"),
        line(around / 2.0, "the back"),
        line(around / 4.0, "a quarter to the right"),
        line(-around / 4.0, "a quarter to the left"),
    ]
}

/// Lines that make a row even: half way between two neighbours, and as far beyond the last as it is from the one before.
fn even(others: &[Neighbour<'_>], of: impl Fn(&Neighbour<'_>) -> f64, around: Option<f64>) -> Vec<Line> {
    let mut row: Vec<(f64, &str)> = others.iter().map(|other| (of(other), other.name)).collect();
    row.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut lines = Vec::new();
    let first_again = around.and_then(|around| row.first().map(|(at, name)| (at + around, *name)));
    let chain: Vec<(f64, &str)> = row.iter().copied().chain(first_again.filter(|_| row.len() > 1)).collect();
    for ((a, one), (b, other)) in chain.iter().zip(chain.iter().skip(1)) {
        if b - a < 1.0 {
            continue;
        }
        lines.push(line((a + b) / 2.0, format!("evenly between “{one}” and “{other}”")));
        lines.push(line(2.0 * b - a, format!("as far from “{other}” as “{one}” is")));
        lines.push(line(2.0 * a - b, format!("as far from “{one}” as “{other}” is")));
    }
    lines
}

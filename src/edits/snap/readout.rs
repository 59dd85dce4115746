//! The readout at the pointer: how far up, how far along, how far from the neighbours.

use glam::DVec2;

use crate::cake::{Cake, CakePiece};
use crate::design::model::{At, Surface, Target};
use crate::edits::choose::{outline_on_seat, placed, to_side};
use crate::measure::tape_reading;
use crate::measure::{Length, show_length};

/// Neighbours farther than this are none, mm.
const NEAR: f64 = 150.0;

/// Neighbours that are told.
const MOST_GAPS: usize = 2;

/// Where a piece is, in words and figures.
#[derive(Clone, Debug, PartialEq)]
pub struct Readout {
    /// `2 1/4 in up`, or `1 in to the front`.
    pub up: String,
    /// `5 in right` of front centre, or of the middle.
    pub along: String,
    /// The nearest neighbours on the same seat, the nearest first.
    pub gaps: Vec<Gap>,
}

/// How far a neighbour is.
#[derive(Clone, Debug, PartialEq)]
pub struct Gap {
    /// The neighbour.
    pub to: String,
    /// Between the two outlines; zero where they overlap.
    pub by: Length,
    /// `3/8 in to “sign”`, `over “sign”`.
    pub words: String,
}

impl std::fmt::Display for Readout {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "{} · {}", self.up, self.along)?;
        self.gaps.iter().try_for_each(|gap| write!(out, " · {}", gap.words))
    }
}

/// What the readout says of a piece as it sits; `None` for one that is hidden or not there.
#[must_use]
pub fn readout(cake: &Cake, piece: &str) -> Option<Readout> {
    let placed = placed(cake, piece)?;
    let designed = cake.designed(placed)?;
    let says = |length: Length| show_length(length, cake.design.unit);
    let (up, along) = match (crate::edits::middle(designed), &designed.seat.on) {
        (At::Tape(at), Target::Tier(name)) => {
            let around = cake.tier(name).map_or(1.0, |tier| tier.outline.perimeter());
            (format!("{} up", says(at.up)), tape_reading(at.along.as_mm(), around, cake.design.unit))
        }
        (At::Tape(at), _) => (format!("{} up", says(at.up)), sided(at.along, ["right", "left"], says)),
        (At::Plan(at), _) => (sided(at.z, ["to the front", "to the back"], says), sided(at.x, ["right", "left"], says)),
    };
    Some(Readout { up, along, gaps: gaps(cake, placed, says) })
}

fn sided(length: Length, [more, less]: [&str; 2], says: impl Fn(Length) -> String) -> String {
    let word = if length < Length::ZERO { less } else { more };
    format!("{} {word}", says(length.abs()))
}

fn gaps(cake: &Cake, placed: &CakePiece, says: impl Fn(Length) -> String) -> Vec<Gap> {
    let Some(own) = cake.designed(placed) else { return Vec::new() };
    let outline = outline_on_seat(cake, placed);
    let around = match (&own.seat.on, own.seat.surface) {
        (Target::Tier(name), Surface::Side) => cake.tier(name).map(|tier| tier.outline.perimeter()),
        _ => None,
    };
    let gap = |other: &CakePiece| {
        let piece = cake.designed(other).filter(|piece| piece.seat == own.seat && other.index != placed.index)?;
        let mut ring = outline_on_seat(cake, other);
        if let Some(around) = around {
            // The shorter way round.
            let by = ((centre(&outline).x - centre(&ring).x) / around).round() * around;
            ring.iter_mut().for_each(|corner| corner.x += by);
        }
        let by = between(&outline, &ring, NEAR)?;
        let words = if by > 0.0 {
            format!("{} to “{}”", says(Length::mm(by)), piece.name)
        } else {
            format!("over “{}”", piece.name)
        };
        Some(Gap { to: piece.name.clone(), by: Length::mm(by), words })
    };
    let mut gaps: Vec<Gap> = cake.pieces.iter().filter_map(gap).collect();
    gaps.sort_by(|a, b| a.by.as_mm().total_cmp(&b.by.as_mm()));
    gaps.truncate(MOST_GAPS);
    gaps
}

fn centre(ring: &[DVec2]) -> DVec2 {
    ring.iter().sum::<DVec2>() / ring.len().max(1) as f64
}

/// How far two simple rings are apart, mm, zero where they overlap; `None` beyond `most`.
fn between(one: &[DVec2], other: &[DVec2], most: f64) -> Option<f64> {
    let bounds = |ring: &[DVec2]| {
        ring.iter().fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), at| (low.min(*at), high.max(*at)))
    };
    let ((low, high), (from, to)) = (bounds(one), bounds(other));
    if (from - high).max(low - to).max_element() > most {
        return None;
    }
    let sides = |ring: &[DVec2]| ring.iter().copied().zip(ring.iter().copied().cycle().skip(1)).collect::<Vec<_>>();
    let crosses = |(a, b): (DVec2, DVec2), (c, d): (DVec2, DVec2)| {
        let side = |p: DVec2, q: DVec2, r: DVec2| (q - p).perp_dot(r - p);
        side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
    };
    let (ours, theirs) = (sides(one), sides(other));
    let inside =
        |ring: &[DVec2], at: &[DVec2]| at.first().is_some_and(|at| crate::edits::choose::distance(ring, *at) <= 0.0);
    if inside(one, other) || inside(other, one) || ours.iter().any(|a| theirs.iter().any(|b| crosses(*a, *b))) {
        return Some(0.0);
    }
    let nearest = |sides: &[(DVec2, DVec2)], ring: &[DVec2]| {
        ring.iter().flat_map(|at| sides.iter().map(|side| to_side(*at, *side))).fold(f64::INFINITY, f64::min)
    };
    let by = nearest(&ours, other).min(nearest(&theirs, one));
    (by <= most).then_some(by)
}

//! An outline: the edge of a tier or board seen from above, as a closed chain of lines and arcs.
//!
//! Unit: mm. Frame: the tier's plan, `DVec2 { x: to the right, y: z, towards the customer }`. The chain starts at front
//! centre and runs to the right, so arc length along it is the `along` of the tape:
//!
//! ```text
//!            back  ±L/2
//!          .---------.
//!  -L/4   |           |  +L/4          x ->
//!          '---------'                 z v
//!            front 0  -> along
//! ```

use std::f64::consts::TAU;

use glam::DVec2;

use super::ruler::Ruler;
use crate::art::Join;

/// A turn inward by more than this is a cleft, radians.
const CLEFT: f64 = 0.2;

/// One side of an outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Side {
    /// A straight side.
    Line {
        /// Its first end.
        from: DVec2,
        /// Its second end.
        to: DVec2,
    },
    /// A round side about `centre`; bearings are measured from front (+z) to the right (+x), in radians.
    Arc {
        /// Middle of the circle.
        centre: DVec2,
        /// Of the circle, > 0.
        radius: f64,
        /// Bearing of its first end.
        start: f64,
        /// Bearing run through: positive bulges outward, negative inward.
        sweep: f64,
    },
}

/// A place on an outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Where.
    pub point: DVec2,
    /// Unit normal, away from the cake.
    pub outward: DVec2,
}

/// The unit vector at a bearing: 0 is front (+z), a quarter turn is right (+x).
#[must_use]
pub fn bearing(radians: f64) -> DVec2 {
    DVec2::new(radians.sin(), radians.cos())
}

/// The outward side of a direction of travel.
pub(super) fn outward_of(direction: DVec2) -> DVec2 {
    DVec2::new(-direction.y, direction.x)
}

/// How far the outline turns from one direction of travel to the next, radians; positive at a corner that stands out.
pub(super) fn turn_between(before: DVec2, after: DVec2) -> f64 {
    // The chain runs clockwise in (x, z) taken as ordinary axes, so an outward corner turns clockwise.
    -before.perp_dot(after).atan2(before.dot(after))
}

impl Side {
    /// Arc length, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        match *self {
            Self::Line { from, to } => from.distance(to),
            Self::Arc { radius, sweep, .. } => radius * sweep.abs(),
        }
    }

    /// The place `distance` mm from its first end.
    #[must_use]
    pub fn at(&self, distance: f64) -> Spot {
        match *self {
            Self::Line { from, to } => {
                let direction = (to - from).normalize_or_zero();
                Spot { point: from + direction * distance, outward: outward_of(direction) }
            }
            Self::Arc { centre, radius, start, sweep } => {
                let away = bearing(start + sweep.signum() * distance / radius);
                Spot { point: centre + away * radius, outward: away * sweep.signum() }
            }
        }
    }

    /// Its first end.
    #[must_use]
    pub fn first(&self) -> DVec2 {
        match *self {
            Self::Line { from, .. } => from,
            Self::Arc { centre, radius, start, .. } => centre + bearing(start) * radius,
        }
    }

    /// Its second end.
    #[must_use]
    pub fn last(&self) -> DVec2 {
        match *self {
            Self::Line { to, .. } => to,
            Self::Arc { centre, radius, start, sweep } => centre + bearing(start + sweep) * radius,
        }
    }

    /// Directions of travel at its two ends, unit.
    pub(super) fn directions(&self) -> (DVec2, DVec2) {
        match *self {
            Self::Line { from, to } => {
                let direction = (to - from).normalize_or_zero();
                (direction, direction)
            }
            Self::Arc { start, sweep, .. } => {
                let along = |angle: f64| DVec2::new(angle.cos(), -angle.sin()) * sweep.signum();
                (along(start), along(start + sweep))
            }
        }
    }

    /// The distance from its first end of the point on it nearest to `place`.
    fn nearest(&self, place: DVec2) -> f64 {
        match *self {
            Self::Line { from, to } => {
                let direction = (to - from).normalize_or_zero();
                (place - from).dot(direction).clamp(0.0, from.distance(to))
            }
            Self::Arc { centre, radius, start, sweep } => {
                let away = place - centre;
                let run = (away.x.atan2(away.y) - start) * sweep.signum();
                let run = run.rem_euclid(TAU);
                let past = if run > sweep.abs() + (TAU - sweep.abs()) / 2.0 { 0.0 } else { run.min(sweep.abs()) };
                radius * past
            }
        }
    }

    /// Twice the signed area swept from the origin, mm² (Green's theorem), positive for our direction of travel.
    fn swept(&self) -> f64 {
        let chord = -self.first().perp_dot(self.last());
        match *self {
            Self::Line { .. } => chord,
            // Chord triangle plus the circular segment between chord and arc.
            Self::Arc { radius, sweep, .. } => chord + radius * radius * (sweep - sweep.sin()),
        }
    }
}

/// A closed chain of sides, starting at front centre and running to the right.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    sides: Vec<Side>,
    /// Tape reading at which each side starts, 0-based.
    starts: Vec<f64>,
    perimeter: f64,
}

impl Outline {
    /// An outline from its sides; sides of no length are dropped.
    #[must_use]
    pub fn new(sides: Vec<Side>) -> Self {
        let sides: Vec<Side> = sides.into_iter().filter(|side| side.length() > 1e-9).collect();
        let mut perimeter = 0.0;
        let starts = sides
            .iter()
            .map(|side| {
                let start = perimeter;
                perimeter += side.length();
                start
            })
            .collect();
        Self { sides, starts, perimeter }
    }

    /// Its sides in order.
    #[must_use]
    pub fn sides(&self) -> &[Side] {
        &self.sides
    }

    /// Each side with the reading (0-based, to the right from front centre) at which it starts.
    pub fn sides_with_starts(&self) -> impl Iterator<Item = (&Side, f64)> {
        self.sides.iter().zip(self.starts.iter().copied())
    }

    /// Once round, mm.
    #[must_use]
    pub const fn perimeter(&self) -> f64 {
        self.perimeter
    }

    /// Enclosed area, mm².
    #[must_use]
    pub fn area(&self) -> f64 {
        self.sides.iter().map(Side::swept).sum::<f64>() / 2.0
    }

    /// A reading brought into the tape's range (-L/2, L/2].
    #[must_use]
    pub fn reading(&self, along: f64) -> f64 {
        let round = along.rem_euclid(self.perimeter);
        if round > self.perimeter / 2.0 { round - self.perimeter } else { round }
    }

    /// The place at a tape reading; readings run on past the back.
    #[must_use]
    pub fn at(&self, along: f64) -> Spot {
        let round = along.rem_euclid(self.perimeter);
        let index = self.starts.partition_point(|&start| start <= round).saturating_sub(1);
        match (self.sides.get(index), self.starts.get(index)) {
            (Some(side), Some(start)) => side.at(round - start),
            _ => Spot { point: DVec2::ZERO, outward: DVec2::Y },
        }
    }

    /// The tape reading of the place on the outline nearest to `place`.
    #[must_use]
    pub fn nearest(&self, place: DVec2) -> f64 {
        let candidates = self.sides_with_starts().map(|(side, start)| {
            let distance = side.nearest(place);
            (side.at(distance).point.distance_squared(place), start + distance)
        });
        let best = candidates.min_by(|a, b| a.0.total_cmp(&b.0));
        self.reading(best.map_or(0.0, |(_, along)| along))
    }

    /// How far outside the outline a place lies, mm; negative inside.
    #[must_use]
    pub fn beyond(&self, place: DVec2) -> f64 {
        let away = place.distance(self.at(self.nearest(place)).point);
        if self.encloses(place) { -away } else { away }
    }

    /// Is `place` inside or on the edge?
    #[must_use]
    pub fn contains(&self, place: DVec2) -> bool {
        self.beyond(place) <= 1e-9
    }

    /// Does it bulge outward everywhere?
    #[must_use]
    pub fn is_convex(&self) -> bool {
        let inward = |side: &Side| matches!(side, Side::Arc { sweep, .. } if *sweep < 0.0);
        !self.sides.iter().any(inward) && self.joints().all(|joint| joint.turn > -1e-6)
    }

    /// Least and greatest x and z.
    #[must_use]
    pub fn bounds(&self) -> (DVec2, DVec2) {
        let extremes = self.sides.iter().flat_map(|side| {
            let turns = match *side {
                Side::Line { .. } => Vec::new(),
                Side::Arc { centre, radius, start, sweep } => (-8..=8)
                    .map(|quarter| f64::from(quarter) * TAU / 4.0)
                    .filter(|angle| *angle > start.min(start + sweep) && *angle < start.max(start + sweep))
                    .map(|angle| centre + bearing(angle) * radius)
                    .collect(),
            };
            turns.into_iter().chain([side.first()])
        });
        extremes.fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
    }

    /// The same outline, larger by `factor` about its centre.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Self {
        let sides = self.sides.iter().map(|side| match *side {
            Side::Line { from, to } => Side::Line { from: from * factor, to: to * factor },
            Side::Arc { centre, radius, start, sweep } => {
                Side::Arc { centre: centre * factor, radius: radius * factor, start, sweep }
            }
        });
        Self::new(sides.collect())
    }

    /// Tape readings of the sharp vertical corners, where the outline turns by more than `least` radians at once.
    #[must_use]
    pub fn corners(&self, least: f64) -> Vec<f64> {
        self.joints().filter(|joint| joint.turn.abs() > least).map(|joint| self.reading(joint.start)).collect()
    }

    /// The same, and the middles of corners that turn so far on an arc of under `tight` mm radius, as paste drapes over them.
    #[must_use]
    pub fn draped_corners(&self, least: f64, tight: f64) -> Vec<f64> {
        let draped = self.sides_with_starts().filter_map(|(side, start)| match *side {
            Side::Arc { radius, sweep, .. } if radius < tight && sweep.abs() > least => {
                Some(self.reading(start + side.length() / 2.0))
            }
            _ => None,
        });
        self.corners(least).into_iter().chain(draped).collect()
    }

    /// The furthest that any place of the outline lies from its centre, mm.
    #[must_use]
    pub fn reach(&self) -> f64 {
        let furthest = |side: &Side| {
            let ends = side.first().length().max(side.last().length());
            match *side {
                Side::Line { .. } => ends,
                Side::Arc { centre, radius, start, sweep } => {
                    let past = (centre.x.atan2(centre.y) - start) * sweep.signum();
                    let bulges = sweep > 0.0 && past.rem_euclid(TAU) <= sweep;
                    if bulges || centre.length() < 1e-9 { centre.length() + radius } else { ends }
                }
            }
        };
        self.sides.iter().map(furthest).fold(0.0, f64::max)
    }

    /// Arc length from one reading to another further right on a line `out` mm outside the outline, its corners rounded.
    ///
    /// As its [`Ruler`] measures it; all round, a line through clefts is measured on the offset outline itself.
    #[must_use]
    pub fn run(&self, (from, to): (f64, f64), out: f64) -> f64 {
        let around = self.perimeter;
        if around <= 0.0 || to <= from {
            return 0.0;
        }
        let whole = to - from > around - 1e-6;
        if whole && self.joints().any(|joint| joint.turn < -CLEFT) {
            return self.offset(out, Join::Round).perimeter();
        }
        let ruler = Ruler::new(self, out);
        ruler.at(to) - ruler.at(from)
    }

    /// Where each side starts and how far the outline turns there from the side before.
    pub(super) fn joints(&self) -> impl Iterator<Item = Joint> {
        let before = self.sides.iter().cycle().skip(self.sides.len().saturating_sub(1));
        before.zip(self.sides_with_starts()).map(|(before, (side, start))| {
            let (arriving, leaving) = (before.directions().1, side.directions().0);
            Joint { start, arriving, leaving, turn: turn_between(arriving, leaving) }
        })
    }
}

/// Where two sides meet.
#[derive(Clone, Copy, Debug)]
pub(super) struct Joint {
    /// Reading at which the second side starts, 0-based.
    pub start: f64,
    /// Direction of travel at the end of the first side.
    pub arriving: DVec2,
    /// Direction of travel at the start of the second side.
    pub leaving: DVec2,
    /// From one to the other, radians; positive at a corner that stands out.
    pub turn: f64,
}

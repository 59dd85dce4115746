//! Moving an outline outward: icing keeps corners sharp (mitred), paste rounds them.

use glam::DVec2;

use super::meet::trimmed;
use super::outline::{Joint, Outline, Side, outward_of};
use crate::art::{Join, offset_ring};

/// A corner is where the outline turns by more than this at once, radians.
const CORNER: f64 = 1e-6;
/// Curves are cut into straight pieces no further than this from the true curve, mm, where polygons are needed.
const FLAT: f64 = 0.002;

impl Outline {
    /// The outline `distance` mm further out, its corners mitred or rounded.
    ///
    /// It is moved exactly, side by side, so that Steiner's formulas hold to rounding (`L + 2πt`, `A + L·t + πt²` for round
    /// corners of a convex outline). Where a side would vanish in a cleft, the outline is moved as a polygon.
    #[must_use]
    pub fn offset(&self, distance: f64, join: Join) -> Self {
        if distance.abs() < 1e-9 {
            return self.clone();
        }
        self.offset_sides(distance, join).unwrap_or_else(|| self.offset_polygon(distance, join))
    }

    /// Side by side; `None` where a side would vanish.
    fn offset_sides(&self, distance: f64, join: Join) -> Option<Self> {
        if distance < 0.0 {
            return None;
        }
        let mut moved: Vec<Side> = self.sides().iter().map(|side| moved(side, distance)).collect::<Option<_>>()?;
        let joints: Vec<Joint> = self.joints().collect();
        for (index, (joint, corner)) in joints.iter().zip(self.sides().iter().map(Side::first)).enumerate() {
            if joint.turn < -CORNER {
                let before = (index + moved.len() - 1) % moved.len();
                let (cut, rest) = trimmed(moved.get(before)?, moved.get(index)?, corner)?;
                *moved.get_mut(before)? = cut;
                *moved.get_mut(index)? = rest;
            }
        }
        let mut sides: Vec<Side> = Vec::new();
        let mut closing = None;
        for (index, (side, joint)) in moved.into_iter().zip(&joints).enumerate() {
            let corner = self.sides().get(index)?.first();
            // A corner at front centre is split there, so that the chain still starts in front.
            let pieces = if index == 0 { 2 } else { 1 };
            let mut turned = turned_corner(corner, joint, (distance, join), pieces).into_iter();
            if index == 0 {
                closing = turned.next();
            }
            sides.extend(turned);
            sides.push(side);
        }
        sides.extend(closing);
        Some(Self::new(sides))
    }

    fn offset_polygon(&self, distance: f64, join: Join) -> Self {
        // Regions have y up (away from the customer); plans have z down the page.
        let ring: Vec<DVec2> = self.flat(FLAT).into_iter().map(|at| DVec2::new(at.x, -at.y)).collect();
        let moved = offset_ring(&ring, distance, join);
        Self::from_ring(&moved.into_iter().map(|at| DVec2::new(at.x, -at.y)).collect::<Vec<_>>())
    }

    /// Corner places of a polygon that runs within `tolerance` mm of the outline, in its order.
    #[must_use]
    pub fn flat(&self, tolerance: f64) -> Vec<DVec2> {
        self.sides()
            .iter()
            .flat_map(|side| {
                let steps = steps(side, tolerance);
                (0..steps).map(move |step| side.at(side.length() * f64::from(step) / f64::from(steps)).point)
            })
            .collect()
    }

    /// An outline from the corners of a polygon in the outline's direction, begun anew at front centre.
    #[must_use]
    pub fn from_ring(ring: &[DVec2]) -> Self {
        let next = |index: usize| ring.get((index + 1) % ring.len().max(1)).copied();
        let crossing = |(index, &from): (usize, &DVec2)| {
            let to = next(index)?;
            let crosses = (from.x <= 0.0 && to.x > 0.0).then(|| from.x / (from.x - to.x))?;
            Some((index, from.lerp(to, crosses)))
        };
        let front = ring.iter().enumerate().filter_map(crossing).max_by(|a, b| a.1.y.total_cmp(&b.1.y));
        let Some((index, front)) = front else {
            return Self::new(Vec::new());
        };
        let (head, tail) = ring.split_at((index + 1).min(ring.len()));
        let corners: Vec<DVec2> = tail.iter().chain(head).copied().filter(|at| at.distance(front) > 1e-9).collect();
        let closed: Vec<DVec2> = [front].into_iter().chain(corners).chain([front]).collect();
        let pairs = closed.iter().zip(closed.iter().skip(1));
        Self::new(pairs.map(|(&from, &to)| Side::Line { from, to }).collect())
    }
}

/// Straight pieces needed for a side to stay within `tolerance` mm of it (sagitta of a chord).
pub(super) fn steps(side: &Side, tolerance: f64) -> u32 {
    match *side {
        Side::Line { .. } => 1,
        Side::Arc { radius, sweep, .. } => {
            let step = widest_turn(radius, tolerance);
            // Bounded: an arc has at most a whole turn and a tolerance is never below a micrometre.
            (sweep.abs() / step.max(1e-3)).ceil().clamp(1.0, 10_000.0) as u32
        }
    }
}

/// The turn of a chord that strays so far from its circle (its sagitta), radians; half a turn for a smaller circle.
pub(super) fn widest_turn(radius: f64, tolerance: f64) -> f64 {
    2.0 * (1.0 - (tolerance / radius).min(1.0)).acos()
}

/// A side moved out; `None` where an inward arc would vanish.
pub(super) fn moved(side: &Side, distance: f64) -> Option<Side> {
    Some(match *side {
        Side::Line { from, to } => {
            let away = outward_of((to - from).normalize_or_zero()) * distance;
            Side::Line { from: from + away, to: to + away }
        }
        Side::Arc { centre, radius, start, sweep } => {
            let radius = radius + distance * sweep.signum();
            (radius > 1e-6).then_some(Side::Arc { centre, radius, start, sweep })?
        }
    })
}

/// What an outward corner becomes when its sides move out: a round arc in so many pieces, or two straight ends that meet.
fn turned_corner(corner: DVec2, joint: &Joint, (distance, join): (f64, Join), pieces: u32) -> Vec<Side> {
    if joint.turn <= CORNER {
        return Vec::new();
    }
    let (before, after) = (outward_of(joint.arriving), outward_of(joint.leaving));
    match join {
        Join::Round => {
            let sweep = joint.turn / f64::from(pieces);
            let start = |piece: u32| before.x.atan2(before.y) + sweep * f64::from(piece);
            (0..pieces).map(|n| Side::Arc { centre: corner, radius: distance, start: start(n), sweep }).collect()
        }
        Join::Mitre => {
            let (from, to) = (corner + before * distance, corner + after * distance);
            let point = from + joint.arriving * (distance * (joint.turn / 2.0).tan());
            vec![Side::Line { from, to: point }, Side::Line { from: point, to }]
        }
    }
}

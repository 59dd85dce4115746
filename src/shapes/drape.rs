//! How something lies round an outline: over a corner, across a cleft.
//!
//! ```text
//!   over a corner: round it          across a cleft: bridged by an arc
//!        ______                       \     ___     /
//!             \  line                  \__/     \__/
//!     ------.  |                        \   \ /   /
//!     cake  |  |                         cake v cake
//! ```

use glam::DVec2;

use super::offset::{moved, steps};
use super::outline::{Joint, Outline, Side, Spot, outward_of};
use crate::art::Join;

/// A turn by less than this is no corner, radians.
const SMOOTH: f64 = 1e-6;

/// So far to either side of a reading (mm) is looked when it lies on a corner.
const BESIDE: f64 = 1e-3;

impl Outline {
    /// The line `out` mm outside the outline (> 0) on which a soft strip's middle lies: corners rounded, clefts bridged by
    /// arcs of radius `ease` mm.
    ///
    /// The outline is moved out by `out + ease` and back by `ease` (a morphological closing): where two sides met in a cleft,
    /// the way back leaves an arc about the place where they met.
    #[must_use]
    pub fn draped(&self, out: f64, ease: f64) -> Self {
        let far = self.offset(out + ease, Join::Round);
        far.back(ease).unwrap_or_else(|| self.offset(out, Join::Round))
    }

    /// The outline moved in by `distance`; what turned inward at once becomes an arc. `None` where a side would vanish.
    fn back(&self, distance: f64) -> Option<Self> {
        let joints: Vec<Joint> = self.joints().collect();
        if joints.iter().any(|joint| joint.turn > SMOOTH) {
            return None;
        }
        let mut sides = Vec::with_capacity(2 * joints.len());
        let mut closing = None;
        for (index, (side, joint)) in self.sides().iter().zip(&joints).enumerate() {
            if joint.turn < -SMOOTH {
                let bridge = |share: f64, from: f64| {
                    let inward = -outward_of(joint.arriving);
                    let start = inward.x.atan2(inward.y) + joint.turn * from;
                    Side::Arc { centre: side.first(), radius: distance, start, sweep: joint.turn * share }
                };
                // A cleft at front centre is split there, so that the chain still starts in front.
                if index == 0 {
                    closing = Some(bridge(0.5, 0.0));
                    sides.push(bridge(0.5, 0.5));
                } else {
                    sides.push(bridge(1.0, 0.0));
                }
            }
            sides.push(moved(side, -distance)?);
        }
        sides.extend(closing);
        Some(Self::new(sides))
    }

    /// The place at a reading, looking midway between the two sides where they meet in a corner.
    #[must_use]
    pub fn facing(&self, along: f64) -> Spot {
        let spot = self.at(along);
        let [left, right] = [along - BESIDE, along + BESIDE].map(|beside| self.at(beside).outward);
        let outward = if left.dot(right) > 0.999 { spot.outward } else { (left + right).normalize_or(spot.outward) };
        Spot { outward, ..spot }
    }

    /// Readings on this line between which straight pieces follow it closely enough for something that lies on it.
    #[must_use]
    pub fn bends(&self, (from, to): (f64, f64)) -> Vec<f64> {
        let around = self.perimeter();
        if around <= 0.0 || !(to - from).is_finite() {
            return Vec::new();
        }
        let turns =
            (from / around).floor() as i64..=((to / around).floor() as i64).min((from / around).floor() as i64 + 4);
        let within = |reading: &f64| *reading > from && *reading < to;
        turns.flat_map(|turn| self.folds().map(move |at| at + turn as f64 * around)).filter(within).collect()
    }

    /// Readings once round where it bends: ends of sides, and places along the arcs.
    fn folds(&self) -> impl Iterator<Item = f64> {
        self.sides_with_starts().flat_map(|(side, start)| {
            let (length, pieces) = (side.length(), pieces(side));
            (0..pieces).map(move |piece| start + length * f64::from(piece) / f64::from(pieces))
        })
    }
}

/// Straight pieces in which a side is followed.
fn pieces(side: &Side) -> u32 {
    match side {
        Side::Line { .. } => 1,
        Side::Arc { sweep, .. } => steps(side, OFF).max((sweep.abs() / WIDEST).ceil() as u32).min(2_000),
    }
}

/// Furthest that a straight piece of what lies on an arc runs from it, mm.
const OFF: f64 = 0.02;
/// Widest turn from one straight piece to the next, radians.
const WIDEST: f64 = 0.14;

/// A stiff thing is felt for every so many mm of its edge …
const FELT: f64 = 1.0;
/// … at no more places of one side than this.
const MOST_FELT: f64 = 200.0;
/// Halvings of the way out.
const HALVINGS: u32 = 24;
/// What lies so little inside an outline (mm) touches it.
const TOUCH: f64 = 0.01;

/// How far a stiff thing must stand out from a spot to touch the outline and not enter it, mm. Its section there is a ring of
/// places: to the right along the spot, and out of it.
#[must_use]
pub fn stand_off(outline: &Outline, (spot, ring): (&Spot, &[DVec2])) -> f64 {
    if outline.is_convex() {
        return 0.0;
    }
    let right = DVec2::new(spot.outward.y, -spot.outward.x);
    let sides = ring.iter().zip(ring.iter().cycle().skip(1));
    let felt: Vec<DVec2> = sides
        .flat_map(|(from, to)| {
            let steps = (from.distance(*to) / FELT).ceil().clamp(1.0, MOST_FELT) as u32;
            (0..steps).map(move |step| from.lerp(*to, f64::from(step) / f64::from(steps)))
        })
        .map(|at| spot.point + right * at.x + spot.outward * at.y)
        .collect();
    let enters = |out: f64| felt.iter().any(|at| outline.beyond(*at + spot.outward * out) < -TOUCH);
    let (mut low, mut high) = (0.0, outline.reach());
    if !enters(low) {
        return 0.0;
    }
    for _ in 0..HALVINGS {
        let middle = (low + high) / 2.0;
        *if enters(middle) { &mut low } else { &mut high } = middle;
    }
    high
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;
    use crate::shapes::forms;

    #[test]
    fn a_strip_goes_round_a_corner_on_an_arc_and_keeps_its_length() {
        let square = forms::rectangle(100.0, 100.0, 0.0);
        let line = square.draped(3.0, 8.0);
        assert!((line.perimeter() - (400.0 + 2.0 * PI * 3.0)).abs() < 1e-9);
        let corner = square.facing(50.0);
        assert!((corner.outward - DVec2::splat(0.5_f64.sqrt())).length() < 1e-6);
        assert!(line.at(line.nearest(corner.point + corner.outward * 3.0)).outward.distance(corner.outward) < 1e-3);
    }

    #[test]
    fn a_cleft_is_bridged_without_entering_the_cake() {
        for outline in [forms::petal(6, 190.0), forms::petal(5, 160.0), forms::heart(180.0)] {
            let (out, ease) = (2.0, 12.0);
            let line = outline.draped(out, ease);
            let mut before = line.at(0.0);
            for step in 1..=4000 {
                let spot = line.at(line.perimeter() * f64::from(step) / 4000.0);
                let nearest = outline.at(outline.nearest(spot.point)).point;
                assert!(nearest.distance(spot.point) > out - 1e-6 && outline.beyond(spot.point) > 0.0, "{spot:?}");
                assert!(before.point.distance(spot.point) < 0.4 && before.outward.dot(spot.outward) > 0.8, "{spot:?}");
                before = spot;
            }
            assert!(line.perimeter() < outline.offset(out, Join::Round).perimeter() + 1e-9);
        }
    }

    #[test]
    fn a_stiff_plate_touches_and_does_not_enter() {
        let plate = |half: f64| [DVec2::new(-half, 0.0), DVec2::new(half, 0.0)];
        let round = forms::round(160.0);
        assert!(stand_off(&round, (&round.facing(30.0), &plate(35.0))).abs() < 1e-9);
        let square = forms::rectangle(100.0, 100.0, 0.0);
        assert!(stand_off(&square, (&square.facing(50.0), &plate(35.0))).abs() < 1e-6);
        let petal = forms::petal(6, 190.0);
        let cleft = petal.facing(petal.corners(0.3)[0]);
        for half in [6.0, 20.0, 35.0] {
            let off = stand_off(&petal, (&cleft, &plate(half)));
            let right = DVec2::new(cleft.outward.y, -cleft.outward.x);
            let places = (-100..=100).map(|step| right * (half * f64::from(step) / 100.0) + cleft.outward * off);
            let nearest = places.map(|at| petal.beyond(cleft.point + at)).fold(f64::MAX, f64::min);
            assert!(off > 0.5 && (-0.02..0.03).contains(&nearest), "{half}: {off} {nearest}");
        }
        // A post goes deeper into a cleft than a plate as wide.
        let post: Vec<DVec2> =
            (0..32).map(|n| DVec2::new(0.0, 10.0) + DVec2::from_angle(f64::from(n) * PI / 16.0) * 10.0).collect();
        assert!(stand_off(&petal, (&cleft, &post)) < stand_off(&petal, (&cleft, &plate(10.0))) - 0.5);
    }
}

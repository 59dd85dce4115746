//! How deep two solids run into each other.
//!
//! The most that f_A + f_B comes to is looked for in a box that holds all they share: the cell that promises most is cut in
//! two, until no cell promises more than was found. What a cell promises: depths change by no more than the way between two
//! places, and no place lies deeper than it is away from any place of the surface.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use glam::DVec3;

use super::{Depth, Solid, Standing};

/// Two solids that share space.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overlap {
    /// How deep they run into each other, mm; found within [`FINE`] and [`SHARE`], or a little less in the hardest cases.
    pub depth: f64,
    /// A place in both, where they do.
    pub at: DVec3,
}

/// A depth is found to so many mm …
const FINE: f64 = 0.05;
/// … and to this share of itself.
const SHARE: f64 = 0.01;
/// Most cells looked at for one pair.
const MOST_CELLS: usize = 4_000;
/// Corners of a mesh that are looked at first.
const MOST_CORNERS: usize = 200;
/// Halvings of the last way uphill.
const HALVINGS: u32 = 12;

/// How deep two solids run into each other, if by more than `least` mm.
#[must_use]
pub fn overlap(a: &Standing, b: &Standing, least: f64) -> Option<Overlap> {
    let found = match (&*a.solid, &*b.solid) {
        (Solid::Ball(radius), _) => ball_in(a, *radius, b),
        (_, Solid::Ball(radius)) => ball_in(b, *radius, a),
        _ => Search { pair: [a, b], best: Overlap { depth: least, at: DVec3::NAN } }.run(),
    };
    (found.depth > least && found.at.is_finite()).then_some(found)
}

/// All of a ball's places add the same up to its surface: its middle tells.
fn ball_in(ball: &Standing, radius: f64, other: &Standing) -> Overlap {
    let middle = (ball.low + ball.high) / 2.0;
    let Depth { inside, nearest } = other.depth(middle);
    let at = if inside < 0.0 { nearest } else { middle };
    Overlap { depth: radius + inside, at }
}

struct Search<'a> {
    pair: [&'a Standing; 2],
    best: Overlap,
}

/// A box of places with the most that any of them may come to.
struct Cell {
    middle: DVec3,
    half: DVec3,
    most: f64,
}

impl Search<'_> {
    fn run(mut self) -> Overlap {
        let [a, b] = self.pair;
        let (low, high) = (a.low.max(b.low), a.high.min(b.high));
        if low.cmpgt(high).any() {
            return self.best;
        }
        self.look_at_corners(a, b, (low, high));
        self.look_at_corners(b, a, (low, high));
        let mut cells = BinaryHeap::new();
        cells.extend(self.cell((low + high) / 2.0, (high - low) / 2.0));
        for _ in 0..MOST_CELLS {
            let Some(cell) = cells.pop() else { break };
            if cell.most <= self.enough() {
                break;
            }
            let step = longest(cell.half);
            for middle in [cell.middle - step / 2.0, cell.middle + step / 2.0] {
                cells.extend(self.cell(middle, cell.half - step / 2.0));
            }
        }
        if self.best.at.is_finite() {
            self.climb((high - low).max_element() / 64.0);
        }
        self.best
    }

    /// Looks at some corners of one solid's mesh in the other: thin things show best there. A corner lies on its own surface,
    /// so the other's depth is all there is.
    fn look_at_corners(&mut self, one: &Standing, other: &Standing, (low, high): (DVec3, DVec3)) {
        let within = |at: &DVec3| at.cmpge(low).all() && at.cmple(high).all();
        let corners: Vec<DVec3> = one.corners().filter(within).collect();
        for &at in corners.iter().step_by(corners.len() / MOST_CORNERS + 1) {
            let depth = other.depth(at).inside;
            if depth > self.best.depth {
                self.best = Overlap { depth, at };
            }
        }
    }

    /// What a cell must promise to be looked into.
    fn enough(&self) -> f64 {
        self.best.depth * (1.0 + SHARE) + FINE
    }

    /// Looks at the middle of a cell; the cell, if more may be found in it.
    fn cell(&mut self, middle: DVec3, half: DVec3) -> Option<Cell> {
        let depths = self.look(middle);
        let reach = half.length();
        if depths.iter().any(|depth| depth.inside < -reach) {
            return None;
        }
        let each: f64 = depths.iter().map(|depth| most_of_one(depth, middle, half)).sum();
        let most = each.min(most_of_both(&depths, middle, half));
        (most > self.enough()).then_some(Cell { middle, half, most })
    }

    fn look(&mut self, at: DVec3) -> [Depth; 2] {
        let depths = self.pair.map(|standing| standing.depth(at));
        let [one, other] = depths.map(|depth| depth.inside);
        if one + other > self.best.depth && one.min(other) >= 0.0 {
            self.best = Overlap { depth: one + other, at };
        }
        depths
    }

    /// From the best place found uphill in ever smaller steps.
    fn climb(&mut self, mut step: f64) {
        for _ in 0..HALVINGS {
            let before = self.best.depth;
            for way in [DVec3::X, DVec3::Y, DVec3::Z] {
                let from = self.best.at;
                self.look(from + way * step);
                self.look(from - way * step);
            }
            if self.best.depth <= before {
                step /= 2.0;
            }
        }
    }
}

/// The longest half side of a box, as a way.
fn longest(half: DVec3) -> DVec3 {
    if half.x >= half.y.max(half.z) {
        DVec3::X * half.x
    } else if half.y >= half.z {
        DVec3::Y * half.y
    } else {
        DVec3::Z * half.z
    }
}

/// The deepest that a place of a cell may lie in a solid, from how its middle lies.
fn most_of_one(depth: &Depth, middle: DVec3, half: DVec3) -> f64 {
    let by_way = depth.inside + half.length();
    by_way.min(((middle - depth.nearest).abs() + half).length())
}

/// The most that both depths of a place of a cell may add up to: the ways to two places of the surfaces are longest, both
/// together, from a corner of the cell (their sum is convex).
fn most_of_both(depths: &[Depth; 2], middle: DVec3, half: DVec3) -> f64 {
    let corners = (0..8_u8).map(|corner| {
        let sign = |bit: u8| if corner & bit == 0 { 1.0 } else { -1.0 };
        middle + half * DVec3::new(sign(1), sign(2), sign(4))
    });
    let ways = corners.map(|corner| depths.iter().map(|depth| corner.distance(depth.nearest)).sum());
    ways.fold(0.0, f64::max)
}

impl PartialEq for Cell {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Cell {}

impl PartialOrd for Cell {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Cell {
    fn cmp(&self, other: &Self) -> Ordering {
        self.most.total_cmp(&other.most)
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use glam::{DAffine3, DQuat};

    use super::*;
    use crate::shapes::build::{sphere, tube_round};
    use crate::shapes::{block, forms};

    fn at(solid: &Arc<Solid>, place: DVec3) -> Standing {
        Standing::new(solid.clone(), DAffine3::from_translation(place))
    }

    fn brick(size: DVec3) -> Arc<Solid> {
        let mesh = block(&forms::rectangle(size.x, size.z, 0.0), (-size.y / 2.0, size.y / 2.0), 0.0);
        Arc::new(Solid::skin(Arc::new(mesh)).unwrap())
    }

    #[test]
    fn balls_run_into_each_other_by_their_radii_less_their_distance() {
        let ball = Arc::new(Solid::Ball(10.0));
        let meshed = Arc::new(Solid::skin(Arc::new(sphere(10.0))).unwrap());
        for apart in [0.0, 3.0, 12.0, 19.0] {
            let place = DVec3::new(0.6, 0.0, 0.8) * apart;
            for (one, other) in [(&ball, &ball), (&ball, &meshed), (&meshed, &meshed)] {
                let found = overlap(&at(one, DVec3::ZERO), &at(other, place), 0.1).unwrap();
                assert!((found.depth - (20.0 - apart)).abs() < 0.3, "{apart}: {found:?} {one:?} {other:?}");
            }
        }
        assert_eq!(overlap(&at(&ball, DVec3::ZERO), &at(&ball, DVec3::X * 20.0), 0.1), None);
        assert_eq!(overlap(&at(&meshed, DVec3::ZERO), &at(&meshed, DVec3::X * 20.1), 0.1), None);
    }

    #[test]
    fn bricks_run_in_by_their_least_way_out() {
        let (one, other) = (brick(DVec3::new(40.0, 20.0, 30.0)), brick(DVec3::new(40.0, 20.0, 30.0)));
        for (move_by, depth) in [
            (DVec3::new(35.0, 3.0, 2.0), 5.0),
            (DVec3::new(1.0, 18.5, 2.0), 1.5),
            (DVec3::new(30.0, 12.0, 28.0), 2.0),
            (DVec3::ZERO, 20.0),
        ] {
            let found = overlap(&at(&one, DVec3::ZERO), &at(&other, move_by), 0.5).unwrap();
            assert!((found.depth - depth).abs() < 0.06 + 0.01 * depth, "{move_by}: {found:?}");
        }
        for apart in [DVec3::X * 40.0, DVec3::Y * 20.3, DVec3::new(41.0, 2.0, 0.0)] {
            assert_eq!(overlap(&at(&one, DVec3::ZERO), &at(&other, apart), 0.5), None, "{apart}");
        }
    }

    #[test]
    fn a_corner_in_a_face_runs_in_by_its_own_way() {
        let floor = brick(DVec3::new(200.0, 50.0, 200.0));
        let cube = brick(DVec3::splat(20.0));
        // Stood on its corner: half its space diagonal below its middle.
        let turn = DQuat::from_rotation_arc(DVec3::ONE.normalize(), DVec3::NEG_Y);
        let up = 25.0 + 10.0 * 3.0_f64.sqrt() - 4.0;
        let stood = Standing::new(cube, DAffine3::from_rotation_translation(turn, DVec3::new(11.0, up, -7.0)));
        let found = overlap(&at(&floor, DVec3::ZERO), &stood, 0.5).unwrap();
        assert!((found.depth - 4.0).abs() < 0.1, "{found:?}");
    }

    #[test]
    fn the_hole_of_a_ring_is_free() {
        let line: Vec<DVec3> = (0..64)
            .map(|n| DQuat::from_rotation_y(f64::from(n) / 64.0 * std::f64::consts::TAU) * (DVec3::X * 40.0))
            .collect();
        let ring = Arc::new(Solid::skin(Arc::new(tube_round(&line, 6.0))).unwrap());
        let post = brick(DVec3::new(20.0, 100.0, 2.0));
        assert_eq!(overlap(&at(&ring, DVec3::ZERO), &at(&post, DVec3::ZERO), 0.5), None);
        // A post's side 2 mm into the ring's inner side, from 34 mm on.
        let found = overlap(&at(&ring, DVec3::ZERO), &at(&post, DVec3::X * 26.0), 0.5).unwrap();
        assert!((found.depth - 2.0).abs() < 0.2, "{found:?}");
    }
}

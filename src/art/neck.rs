//! Where a figure is narrower than it should be, so that it would break.
//!
//! A neck is a chord through the figure that is shorter than the least width and cannot be made shorter by moving its ends
//! a little, with enough of the figure on either side of it. That finds what an opening by half the width finds (a disc of
//! that size can't pass), and notches from both sides as well, through which two overlapping discs still fill the opening.
//!
//! ```text
//!     ________        ________
//!    |        \______/        |      the chord at the waist is a neck;
//!    |         __|___         |      chords near a sharp corner can be made shorter by moving
//!    |________/      \________|      them outward, and so are none
//! ```

use std::collections::BTreeMap;

use glam::DVec2;

use super::offset::simplify_ring;
use super::region::{Region, Ring, ring_area, ring_edges};

/// Places of an outline at which necks are looked for; where there would be more, it is looked at more coarsely.
const MOST_PLACES: usize = 8_000;
/// Sides that lean towards each other by less than this (sine, about 2°) count as level, so that an even bar is a neck.
const LEVEL: f64 = 0.035;

/// A place where a figure is narrower than it should be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Neck {
    /// The nearest places of its two sides.
    pub sides: [DVec2; 2],
    /// Area of what hangs on it, the smaller part where it is whole without; `None` for a wall between a hole and another
    /// rim, where nothing would fall off.
    pub severs: Option<f64>,
}

impl Neck {
    /// How wide it is.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.sides[0].distance(self.sides[1])
    }

    /// The middle between its sides.
    #[must_use]
    pub fn middle(&self) -> DVec2 {
        self.sides[0].midpoint(self.sides[1])
    }
}

impl Region {
    /// Where the figure is narrower than `least`, the narrowest first; one for each stretch that is. What hangs on a neck,
    /// and a hole beside a thin wall, counts from an area of `least`² on. Widths are true to a fiftieth of `least`.
    #[must_use]
    pub fn necks(&self, least: f64) -> Vec<Neck> {
        if !(least.is_finite() && least > 0.0) {
            return Vec::new();
        }
        let rim = Rim::of(self, least);
        let chords: Vec<Neck> = (0..rim.places.len()).filter_map(|place| rim.chord(place)).collect();
        let mut necks = one_a_stretch(chords, least);
        necks.sort_by(|one, other| {
            let low = |neck: &Neck| (neck.middle().y, neck.middle().x);
            one.width()
                .total_cmp(&other.width())
                .then(low(one).partial_cmp(&low(other)).unwrap_or(std::cmp::Ordering::Equal))
        });
        necks
    }
}

/// One place of an outline, with the edge that begins there.
#[derive(Clone, Copy, Debug)]
struct Place {
    at: DVec2,
    ring: usize,
    /// The places before and after it on its ring.
    before: usize,
    after: usize,
    /// Twice the area swept from the ring's first place up to here, as seen from it.
    swept: f64,
}

/// An outline cut into short edges, found by where they are.
struct Rim {
    least: f64,
    places: Vec<Place>,
    /// First place and area of each ring.
    rings: Vec<(DVec2, f64)>,
    /// Places by the square they are in.
    squares: BTreeMap<(i64, i64), Vec<usize>>,
}

impl Rim {
    fn of(region: &Region, least: f64) -> Self {
        let mut rim = Self { least, places: Vec::new(), rings: Vec::new(), squares: BTreeMap::new() };
        for ring in short_edged(&region.rings, least) {
            rim.add(&ring);
        }
        for (number, place) in rim.places.iter().enumerate() {
            rim.squares.entry(square(place.at, least)).or_default().push(number);
        }
        rim
    }

    fn add(&mut self, ring: &[DVec2]) {
        let Some(&first) = ring.first() else { return };
        let (start, count, mut swept) = (self.places.len(), ring.len(), 0.0);
        for (number, (at, next)) in ring_edges(ring).enumerate() {
            self.places.push(Place {
                at,
                ring: self.rings.len(),
                before: start + (number + count - 1) % count,
                after: start + (number + 1) % count,
                swept,
            });
            swept += (at - first).perp_dot(next - first);
        }
        self.rings.push((first, swept / 2.0));
    }

    fn place(&self, number: usize) -> Option<&Place> {
        self.places.get(number)
    }

    /// Every edge that a chord from a place can reach, by the place where it begins.
    fn near(&self, at: DVec2) -> impl Iterator<Item = usize> + '_ {
        let (column, row) = square(at, self.least);
        let around = (-1..=1).flat_map(move |right| (-1..=1).map(move |up| (column + right, row + up)));
        around.filter_map(|square| self.squares.get(&square)).flatten().copied()
    }

    /// The shortest chord that begins at a place and is a neck.
    fn chord(&self, number: usize) -> Option<Neck> {
        let from = self.place(number)?;
        let mut ends: Vec<(f64, usize, DVec2)> = self
            .near(from.at)
            .filter_map(|edge| {
                let at = self.end(number, edge)?;
                Some((from.at.distance(at), edge, at))
            })
            .collect();
        ends.sort_by(|one, other| one.0.total_cmp(&other.0).then(one.1.cmp(&other.1)));
        let (_, edge, to) = ends.into_iter().find(|&(_, edge, to)| !self.blocked(number, edge, to))?;
        let severs = self.severed(number, edge, to)?;
        Some(Neck { sides: [from.at, to], severs })
    }

    /// Where a chord from a place ends on an edge, if it can't be made shorter by moving either end.
    fn end(&self, number: usize, edge: usize) -> Option<DVec2> {
        let (from, start) = (self.place(number)?, self.place(edge)?);
        if edge == number || start.after == number {
            return None;
        }
        let stop = self.place(start.after)?;
        let along = stop.at - start.at;
        let share = (from.at - start.at).dot(along) / along.length_squared();
        let to = start.at + along * share.clamp(0.0, 1.0);
        let length = from.at.distance(to);
        if !(length < self.least && length > 1e-6 * self.least) {
            return None;
        }
        let toward = (to - from.at) / length;
        let ends_well = if share <= 0.0 {
            self.props(edge, -toward)
        } else if share >= 1.0 {
            self.props(start.after, -toward)
        } else {
            along.perp_dot(-toward) > 0.0
        };
        (ends_well && self.props(number, toward)).then_some(to)
    }

    /// Whether a direction leads from a place into the figure, away from both edges there.
    fn props(&self, number: usize, toward: DVec2) -> bool {
        let way = |to: &Place, from: &Place| (to.at - from.at).normalize_or_zero();
        let ways = self
            .place(number)
            .and_then(|here| Some((way(self.place(here.after)?, here), way(self.place(here.before)?, here))));
        let Some((onward, back)) = ways else { return false };
        let turn = |other: DVec2| onward.angle_to(other).rem_euclid(std::f64::consts::TAU);
        onward.dot(toward) <= LEVEL && back.dot(toward) <= LEVEL && turn(toward) < turn(back)
    }

    /// Whether another edge lies across a chord.
    fn blocked(&self, number: usize, edge: usize, to: DVec2) -> bool {
        let Some(from) = self.place(number) else { return true };
        let side = |one: DVec2, other: DVec2, at: DVec2| (other - one).perp_dot(at - one);
        self.near(from.at).any(|other| {
            let Some((start, stop)) = self.place(other).and_then(|start| Some((start, self.place(start.after)?)))
            else {
                return false;
            };
            let own = other == number || other == from.before || other == edge;
            let crosses = side(from.at, to, start.at) * side(from.at, to, stop.at) < 0.0
                && side(start.at, stop.at, from.at) * side(start.at, stop.at, to) < 0.0;
            !own && crosses
        })
    }

    /// What a chord cuts off: `None` where it is too little to matter, `Some(None)` where it opens a hole instead.
    fn severed(&self, number: usize, edge: usize, to: DVec2) -> Option<Option<f64>> {
        let (from, start) = (self.place(number)?, self.place(edge)?);
        let (first, whole) = *self.rings.get(from.ring)?;
        let enough = self.least * self.least;
        if from.ring != start.ring {
            let (_, other) = *self.rings.get(start.ring)?;
            let smallest =
                [whole, other].into_iter().filter(|area| *area < 0.0).fold(f64::MAX, |least, area| least.min(-area));
            return (smallest >= enough).then_some(None);
        }
        // From the place along its ring to the edge, across to the chord's end, and back along the chord.
        let round = if edge < number { 2.0 * whole } else { 0.0 };
        let cross = |one: DVec2, other: DVec2| (one - first).perp_dot(other - first);
        let one = (start.swept - from.swept + round + cross(start.at, to) + cross(to, from.at)) / 2.0;
        let other = whole - one;
        // On a hole's rim, one part is what hangs into the hole, the other what is left of the hole.
        let hangs = if whole > 0.0 { one.min(other) } else { one.max(other) };
        (hangs >= enough).then_some(Some(hangs))
    }
}

/// Edges are at most this share of the least width long.
const LONGEST: f64 = 0.5;

/// The rings with as few places as show every neck, and no edge longer than it should be.
fn short_edged(rings: &[Ring], least: f64) -> Vec<Ring> {
    let longest = least * LONGEST;
    let cut = |fine: f64| -> Vec<Ring> {
        let smooth = rings.iter().map(|ring| simplify_ring(ring, fine)).filter(|ring| ring.len() > 2);
        smooth.filter(|ring| ring_area(ring) != 0.0).map(|ring| divided(&ring, longest)).collect()
    };
    let mut fine = least * 0.004;
    loop {
        let rings = cut(fine);
        // Once every ring has four corners or so, there is nothing left to leave out.
        if rings.iter().map(Vec::len).sum::<usize>() <= MOST_PLACES || fine > least {
            return rings;
        }
        fine *= 2.0;
    }
}

/// The ring with places between those of its long edges.
fn divided(ring: &[DVec2], longest: f64) -> Ring {
    let edges = ring_edges(ring).flat_map(|(from, to)| {
        let steps = (from.distance(to) / longest).ceil().clamp(1.0, 10_000.0) as u32;
        (0..steps).map(move |step| from.lerp(to, f64::from(step) / f64::from(steps)))
    });
    edges.collect()
}

/// The square that a place is in; large enough that an edge within `least` of it begins in this one or one beside it.
fn square(at: DVec2, least: f64) -> (i64, i64) {
    let [column, row] = (at / (least * (1.0 + LONGEST))).floor().to_array();
    (column as i64, row as i64)
}

/// Of chords side by side, the narrowest; where many are as narrow, the one that most hangs on.
fn one_a_stretch(mut chords: Vec<Neck>, least: f64) -> Vec<Neck> {
    chords.sort_by(|one, other| one.middle().x.total_cmp(&other.middle().x));
    let mut stretch: Vec<usize> = (0..chords.len()).collect();
    for (number, one) in chords.iter().enumerate() {
        for (later, other) in chords.iter().enumerate().skip(number + 1) {
            if other.middle().x - one.middle().x > least {
                break;
            }
            if one.middle().distance(other.middle()) <= least {
                join(&mut stretch, number, later);
            }
        }
    }
    let mut stretches: BTreeMap<usize, Vec<Neck>> = BTreeMap::new();
    for (number, chord) in chords.iter().enumerate() {
        stretches.entry(root(&stretch, number)).or_default().push(*chord);
    }
    stretches.into_values().filter_map(|chords| weakest(&chords)).collect()
}

fn root(stretch: &[usize], mut number: usize) -> usize {
    while let Some(&up) = stretch.get(number).filter(|up| **up != number) {
        number = up;
    }
    number
}

fn join(stretch: &mut [usize], one: usize, other: usize) {
    let (one, other) = (root(stretch, one), root(stretch, other));
    if let Some(up) = stretch.get_mut(one.max(other)) {
        *up = one.min(other);
    }
}

fn weakest(chords: &[Neck]) -> Option<Neck> {
    let narrowest = chords.iter().map(Neck::width).fold(f64::MAX, f64::min);
    let load = |neck: &Neck| neck.severs.unwrap_or(0.0);
    let narrow = chords.iter().filter(|chord| chord.width() <= narrowest * 1.02);
    narrow.max_by(|one, other| load(one).total_cmp(&load(other)).then(other.width().total_cmp(&one.width()))).copied()
}

#[cfg(test)]
mod tests {
    use std::f64::consts::TAU;

    use super::*;

    fn figure(corners: &[(f64, f64)]) -> Region {
        Region::from_paths_non_zero(&[corners.iter().map(|&at| at.into()).collect()])
    }

    fn star(points: u32, [outer, inner]: [f64; 2]) -> Region {
        let corner = |n: u32| {
            DVec2::from_angle(f64::from(n) * TAU / f64::from(2 * points))
                * if n.is_multiple_of(2) { outer } else { inner }
        };
        Region::from_paths_non_zero(&[(0..2 * points).map(corner).collect()])
    }

    #[test]
    fn sharp_corners_are_no_necks() {
        for region in [
            star(5, [40.0, 16.0]),
            star(12, [40.0, 30.0]),
            figure(&[(0.0, 0.0), (60.0, 0.0), (30.0, 8.0)]),
            Region::rectangle(50.0, 30.0, 0.0),
            Region::disc(20.0),
            // Battlements smaller than the width that is looked for.
            figure(&[(0., 0.), (40., 0.), (40., 20.), (38., 20.), (38., 18.), (34., 18.), (34., 20.), (0., 20.)]),
        ] {
            assert_eq!(region.necks(5.0), []);
        }
    }

    #[test]
    fn a_waist_is_a_neck_whether_it_is_a_notch_or_a_curve() {
        // Two notches from above and below that leave 3 mm: a disc of 5 mm touches both tips from either side, and so an
        // opening would leave the figure whole.
        let notched = figure(&[(0., 0.), (20., 8.5), (40., 0.), (40., 20.), (20., 11.5), (0., 20.)]);
        let [neck] = notched.necks(5.0)[..] else { panic!("{:?}", notched.necks(5.0)) };
        assert!((neck.width() - 3.0).abs() < 0.05 && neck.middle().distance(DVec2::new(20.0, 10.0)) < 0.1, "{neck:?}");
        // Half of the figure hangs on it.
        assert!((neck.severs.unwrap() / notched.area() - 0.5).abs() < 0.01);
        assert_eq!(notched.necks(2.9), []);
        // An hour-glass: half its width is 2 + x²/40.
        let side = |n: i32| DVec2::new(f64::from(n), 2.0 + f64::from(n * n) / 40.0);
        let upper = (-20..=20).map(side);
        let curved = Region::from_paths_non_zero(&[upper
            .clone()
            .chain(upper.rev().map(|at| DVec2::new(at.x, -at.y)))
            .collect()]);
        let [neck] = curved.necks(5.0)[..] else { panic!("{:?}", curved.necks(5.0)) };
        assert!((neck.width() - 4.0).abs() < 0.05 && neck.middle().length() < 0.6, "{neck:?}");
    }

    #[test]
    fn a_bar_between_two_discs_is_one_neck_and_a_thin_arm_breaks_at_its_root() {
        let bar = |from: f64, to: f64, half: f64| figure(&[(from, -half), (to, -half), (to, half), (from, half)]);
        let left = Region::disc(15.0);
        let joined = left.union(&Region::disc(10.0).moved(DVec2::X * 50.0)).union(&bar(0.0, 50.0, 1.5));
        let [neck] = joined.necks(5.0)[..] else { panic!("{:?}", joined.necks(5.0)) };
        assert!((neck.width() - 3.0).abs() < 0.06 && (14.0..41.0).contains(&neck.middle().x), "{neck:?}");
        let mast = left.union(&bar(0.0, 50.0, 1.0));
        let [neck] = mast.necks(5.0)[..] else { panic!("{:?}", mast.necks(5.0)) };
        assert!((neck.width() - 2.0).abs() < 0.05 && neck.middle().x < 18.0, "{neck:?}");
        assert!((neck.severs.unwrap() / 70.0 - 1.0).abs() < 0.1);
        // Short enough, it is a detail.
        assert_eq!(left.union(&bar(0.0, 20.0, 1.0)).necks(5.0), []);
    }

    #[test]
    fn a_wall_beside_a_hole_is_thin_and_a_pin_hole_is_not_looked_at() {
        let holed = |radius: f64, from: f64| {
            let rings = [Region::disc(20.0), Region::disc(radius).moved(DVec2::X * from)];
            Region::from_paths_even_odd(&rings.map(|mut disc| disc.rings.remove(0)))
        };
        let [wall] = holed(10.0, 8.0).necks(5.0)[..] else { panic!("{:?}", holed(10.0, 8.0).necks(5.0)) };
        assert!(
            (wall.width() - 2.0).abs() < 0.1 && wall.severs.is_none() && wall.middle().distance(DVec2::X * 19.0) < 1.0
        );
        assert_eq!(holed(10.0, 4.0).necks(5.0), []);
        assert_eq!(holed(1.0, 17.0).necks(5.0), []);
    }

    #[test]
    fn what_hangs_into_a_hole_hangs_on_its_neck() {
        // A frame with a keyhole-shaped plug that stands into its opening on a stalk 2 mm wide.
        let frame = Region::from_paths_even_odd(&[
            Region::rectangle(80.0, 80.0, 0.0).rings.remove(0),
            Region::rectangle(60.0, 60.0, 0.0).rings.remove(0),
        ]);
        let plug = Region::disc(8.0).union(&figure(&[(-1.0, -31.0), (1.0, -31.0), (1.0, 0.0), (-1.0, 0.0)]));
        let [neck] = frame.union(&plug).necks(5.0)[..] else { panic!("{:?}", frame.union(&plug).necks(5.0)) };
        assert!((neck.width() - 2.0).abs() < 0.05);
        let hangs = neck.severs.unwrap();
        assert!(hangs > plug.area() * 0.8 && hangs < plug.area() * 1.05, "{hangs} of {}", plug.area());
    }

    #[test]
    fn a_rough_edge_makes_no_necks_and_odd_widths_find_nothing() {
        let wobble =
            |n: u32| DVec2::from_angle(f64::from(n) * TAU / 3000.0) * (30.0 + 0.15 * f64::from(n * 7919 % 13) / 13.0);
        let rough = Region::from_paths_non_zero(&[(0..3000).map(wobble).collect()]);
        assert_eq!(rough.necks(5.0), []);
        for least in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert_eq!(rough.necks(least), []);
        }
        assert_eq!(Region::default().necks(5.0), []);
        // Far more corners than are looked at: it ends.
        let fine = |n: u32| DVec2::from_angle(f64::from(n) * TAU / 200_000.0) * (30.0 + f64::from(n % 97) / 10.0);
        let _ = Region { rings: vec![(0..200_000).map(fine).collect()] }.necks(5.0);
    }
}

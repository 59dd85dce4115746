//! Growing, shrinking and uniting regions.
//!
//! Clipper works on whole numbers. The grid is a power of two chosen so that the largest coordinate takes 31 bits: on a
//! figure of 300 mm one step is about 3e-7 mm, and no coordinate can leave the range in which it answers at all.

use clipper2_rust::{
    ClipType, ClipperOffset, EndType, FillRule, JoinType, Path64, PathD, Paths64, Point64, PointD, PolyFace64,
    PolyTree64, area, boolean_op_64, boolean_op_tree_64, poly_tree_to_faces64, simplify_path,
};
use glam::DVec2;

use super::region::{Face, Region, Ring, ring_area};

/// How an offset goes round a corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Join {
    /// With an arc, as paste drapes.
    Round,
    /// To a sharp corner, as icing is scraped; corners sharper than 11.5° are cut off.
    Mitre,
}

/// Which places closed paths fill.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fill {
    /// Those that an odd number of paths goes round.
    EvenOdd,
    /// Those that paths go round in one sense more often than in the other.
    NonZero,
}

impl From<Fill> for FillRule {
    fn from(fill: Fill) -> Self {
        match fill {
            Fill::EvenOdd => Self::EvenOdd,
            Fill::NonZero => Self::NonZero,
        }
    }
}

impl Region {
    /// The figure moved outward by `distance` all round (holes shrink), or inward when it is negative.
    ///
    /// Arcs are so fine that the area is true to 1e-5, and never coarser than 0.005 units. A distance that is no number
    /// leaves the figure as it is.
    ///
    /// Every connected part is moved by itself and the parts united after: a moved outline crosses itself, and the work
    /// grows with the square of the crossings. Lettering is done in a fifth of the time.
    #[must_use]
    pub fn offset(&self, distance: f64, join: Join) -> Self {
        if !distance.is_finite() {
            return self.clone();
        }
        let grid = Grid::for_rings(&self.rings, distance);
        let chord = self.arc_tolerance(distance) * grid.steps;
        let parts = match self.rings.as_slice() {
            [ring] => vec![(grid.whole_ring(ring), Paths64::new())],
            rings => grid.whole_faces(rings).into_iter().map(|face| (face.outer, face.holes)).collect(),
        };
        let paths: Paths64 = parts.iter().flat_map(|part| moved(part, distance * grid.steps, (join, chord))).collect();
        if distance > 0.0 && parts.len() > 1 {
            grid.region(&boolean_op_64(ClipType::Union, FillRule::NonZero, &paths, &Paths64::new()))
        } else {
            grid.region(&paths)
        }
    }

    /// How far a chord may fall short of its arc. Chords of an arc of radius d that miss it by s lose 4/3·π·d·s of area
    /// on a full turn; that loss is held to 4e-6 of the offset figure's area (Steiner: A + L·d + π·d²).
    fn arc_tolerance(&self, distance: f64) -> f64 {
        let radius = distance.abs().max(f64::MIN_POSITIVE);
        let area = self.area() + self.perimeter() * distance + std::f64::consts::PI * radius * radius;
        (area * 3e-6 / (std::f64::consts::PI * radius)).clamp(radius * 4e-6, 0.005_f64.max(radius * 4e-6))
    }

    /// The figure with every hole smaller than `area` filled.
    #[must_use]
    pub fn close_holes_under(&self, area: f64) -> Self {
        let kept = |ring: &&Ring| !(-area..0.0).contains(&ring_area(ring));
        let rings: Vec<Ring> = self.rings.iter().filter(kept).cloned().collect();
        // What stood inside a filled hole is swallowed by it.
        Self::from_paths_non_zero(&rings)
    }

    /// What this figure or the other one covers.
    #[must_use]
    pub fn union(&self, other: &Self) -> Self {
        let rings: Vec<Ring> = self.rings.iter().chain(&other.rings).cloned().collect();
        Self::from_paths_non_zero(&rings)
    }

    /// What this figure and the other one both cover.
    #[must_use]
    pub fn common(&self, other: &Self) -> Self {
        self.combined(other, ClipType::Intersection)
    }

    /// What this figure covers and the other one doesn't.
    #[must_use]
    pub fn without(&self, other: &Self) -> Self {
        self.combined(other, ClipType::Difference)
    }

    fn combined(&self, other: &Self, how: ClipType) -> Self {
        let both = Grid::for_rings(self.rings.iter().chain(&other.rings), 0.0);
        let (subjects, clips) = (both.whole(&self.rings), both.whole(&other.rings));
        both.region(&boolean_op_64(how, FillRule::NonZero, &subjects, &clips))
    }
}

/// One connected part, moved by so many grid steps with arcs that miss theirs by at most `chord`.
fn moved((outer, holes): &(Path64, Paths64), distance: f64, (join, chord): (Join, f64)) -> Paths64 {
    let (join, mitre_limit) = match join {
        Join::Round => (JoinType::Round, 2.0),
        Join::Mitre => (JoinType::Miter, 10.0),
    };
    // A hole no larger than a disc of this radius has no place so far from its rim: it vanishes.
    let vanishes = |hole: &Path64| distance > 0.0 && area(hole).abs() <= std::f64::consts::PI * distance * distance;
    let mut clipper = ClipperOffset::new(mitre_limit, chord, false, false);
    let kept = holes.iter().filter(|hole| !vanishes(hole));
    clipper.add_paths(&std::iter::once(outer).chain(kept).cloned().collect(), join, EndType::Polygon);
    let mut solution = Paths64::new();
    clipper.execute(distance, &mut solution);
    solution
}

/// The outline that runs `distance` outside one closed ring (inside, when negative), counter-clockwise; where the offset
/// falls apart, its largest part. Empty when nothing is left.
#[must_use]
pub fn offset_ring(ring: &[DVec2], distance: f64, join: Join) -> Ring {
    let offset = Region::from_paths_non_zero(&[ring.to_vec()]).offset(distance, join);
    offset.rings.into_iter().max_by(|a, b| ring_area(a).total_cmp(&ring_area(b))).unwrap_or_default()
}

/// A closed ring with fewer corners, about `tolerance` from where they were.
pub(super) fn simplify_ring(ring: &[DVec2], tolerance: f64) -> Ring {
    let path: PathD = ring.iter().map(|at| PointD::new(at.x, at.y)).collect();
    simplify_path(&path, tolerance, true).iter().map(|at| DVec2::new(at.x, at.y)).collect()
}

/// The whole-number grid of one calculation.
#[derive(Clone, Copy, Debug)]
pub(super) struct Grid {
    /// Grid steps to one unit; a power of two, so that going there and back loses nothing more.
    steps: f64,
}

impl Grid {
    /// The grid for these rings, grown by up to `distance` (mitres reach ten times as far).
    pub(super) fn for_rings<'a>(rings: impl IntoIterator<Item = &'a Ring>, distance: f64) -> Self {
        let coordinates =
            rings.into_iter().flatten().map(|at| at.abs().max_element()).filter(|reach| reach.is_finite());
        let reach = coordinates.fold(distance.abs() * 10.0, f64::max).clamp(1e-9, 1e12);
        Self { steps: (31.0 - reach.log2().ceil()).exp2() }
    }

    fn whole(self, rings: &[Ring]) -> Paths64 {
        rings.iter().map(|ring| self.whole_ring(ring)).collect()
    }

    fn whole_ring(self, ring: &Ring) -> Path64 {
        let point = |at: &DVec2| {
            let at = (*at * self.steps).round();
            // In range: `for_rings` saw every finite coordinate, and clamps at 1e12 units.
            Point64::new(at.x as i64, at.y as i64)
        };
        let inside = |at: &&DVec2| at.is_finite() && at.abs().max_element() <= 1e12;
        ring.iter().filter(inside).map(point).collect()
    }

    fn ring(self, path: &Path64) -> Ring {
        path.iter().map(|at| DVec2::new(at.x as f64, at.y as f64) / self.steps).collect()
    }

    fn region(self, paths: &Paths64) -> Region {
        Region { rings: paths.iter().map(|path| self.ring(path)).collect() }
    }

    pub(super) fn unite(self, rings: &[Ring], fill: Fill) -> Region {
        self.region(&boolean_op_64(ClipType::Union, fill.into(), &self.whole(rings), &Paths64::new()))
    }

    pub(super) fn faces(self, rings: &[Ring]) -> Vec<Face> {
        let face = |face: PolyFace64| Face {
            outer: self.ring(&face.outer),
            holes: face.holes.iter().map(|hole| self.ring(hole)).collect(),
        };
        self.whole_faces(rings).into_iter().map(face).collect()
    }

    fn whole_faces(self, rings: &[Ring]) -> Vec<PolyFace64> {
        let mut tree = PolyTree64::new();
        boolean_op_tree_64(ClipType::Union, FillRule::NonZero, &self.whole(rings), &Paths64::new(), &mut tree);
        let mut faces = poly_tree_to_faces64(&tree);
        faces.sort_by_key(|face| face.outer.iter().map(|at| (at.y, at.x)).min());
        faces
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::{PI, TAU};

    use proptest::prelude::{Strategy, prop, prop_assert, proptest};

    use super::*;

    fn polygon(sides: u32, radius: f64) -> Region {
        let corner = |n| DVec2::from_angle(f64::from(n) * TAU / f64::from(sides)) * radius;
        Region { rings: vec![(0..sides).map(corner).collect()] }
    }

    /// A convex polygon: corners on a circle at rising angles.
    fn convex() -> impl Strategy<Value = Region> {
        (prop::collection::vec(0.15..1.0_f64, 3..20), 10.0..150.0_f64).prop_map(|(gaps, radius)| {
            let total: f64 = gaps.iter().sum();
            let mut turn = 0.0;
            let corner = |gap: &f64| {
                turn += gap / total * TAU;
                DVec2::from_angle(turn) * radius
            };
            Region { rings: vec![gaps.iter().map(corner).collect()] }
        })
    }

    proptest! {
        #[test]
        fn round_offset_of_a_convex_figure_obeys_steiner(figure in convex(), distance in 0.1..20.0_f64) {
            // Steiner's formula: A' = A + L·t + π·t², L' = L + 2π·t
            let grown = figure.offset(distance, Join::Round);
            let area = figure.area() + figure.perimeter() * distance + PI * distance * distance;
            let around = figure.perimeter() + TAU * distance;
            prop_assert!((grown.area() / area - 1.0).abs() < 1e-5, "{} {area}", grown.area());
            prop_assert!((grown.perimeter() / around - 1.0).abs() < 1e-4);
        }

        #[test]
        fn growing_then_shrinking_a_convex_figure_gives_it_back(figure in convex(), distance in 0.1..20.0_f64) {
            let back = figure.offset(distance, Join::Round).offset(-distance, Join::Round);
            prop_assert!((back.area() / figure.area() - 1.0).abs() < 1e-3);
        }
    }

    #[test]
    fn mitred_offset_keeps_sharp_corners() {
        // A square of side s grows to (s + 2t)²; a regular hexagon keeps its shape, its apothem grows by t.
        let square = Region::rectangle(100.0, 100.0, 0.0).offset(6.35, Join::Mitre);
        assert!((square.area() - 112.7_f64.powi(2)).abs() < 1e-4);
        assert_eq!(square.rings[0].len(), 4);
        let hexagon = polygon(6, 80.0);
        let apothem = 80.0 * (PI / 6.0).cos();
        let grown = hexagon.offset(5.0, Join::Mitre);
        assert!((grown.area() / hexagon.area() / ((apothem + 5.0) / apothem).powi(2) - 1.0).abs() < 1e-8);
    }

    #[test]
    fn holes_shrink_and_vanish() {
        let plate = Region::from_paths_even_odd(&[polygon(4, 50.0).rings.remove(0), polygon(64, 3.0).rings.remove(0)]);
        assert_eq!(plate.offset(1.0, Join::Round).rings.len(), 2);
        assert_eq!(plate.offset(4.0, Join::Round).rings.len(), 1);
        assert_eq!(plate.close_holes_under(100.0).rings.len(), 1);
        assert_eq!(plate.close_holes_under(1.0).rings.len(), 2);
        assert!(plate.offset(-60.0, Join::Round).is_empty());
    }

    #[test]
    fn concave_corner_stays_sharp_under_a_round_join() {
        // An L of two 20 × 10 arms: growing by t adds L·t + (5/4 of a turn of round corners)/2·t² - t² in the notch
        let corner = [(0., 0.), (20., 0.), (20., 10.), (10., 10.), (10., 20.), (0., 20.)];
        let figure = Region { rings: vec![corner.map(DVec2::from).to_vec()] };
        let expected = 300.0 + 80.0 * 2.0 + 5.0 / 4.0 * PI * 4.0 - 4.0;
        assert!((figure.offset(2.0, Join::Round).area() / expected - 1.0).abs() < 1e-5);
        let ring = offset_ring(&figure.rings[0], 2.0, Join::Round);
        assert!(ring.iter().any(|at| at.distance(DVec2::new(12.0, 12.0)) < 1e-6));
    }

    #[test]
    fn union_and_common_part_of_two_discs() {
        // Lens of two discs of radius r whose centres are d apart: 2r²·acos(d/2r) - d/2·sqrt(4r² - d²)
        let (left, right) = (Region::disc(10.0), Region::disc(10.0).moved(DVec2::new(12.0, 0.0)));
        let lens = 200.0 * 0.6_f64.acos() - 6.0 * (400.0_f64 - 144.0).sqrt();
        assert!((left.common(&right).area() / lens - 1.0).abs() < 1e-4);
        assert!((left.union(&right).area() / (200.0 * PI - lens) - 1.0).abs() < 1e-5);
        assert!((left.without(&right).area() / (100.0 * PI - lens) - 1.0).abs() < 1e-4);
    }

    #[test]
    fn odd_distances_do_no_harm() {
        let disc = Region::disc(10.0);
        assert_eq!(disc.offset(f64::NAN, Join::Round), disc);
        assert!(Region::default().offset(3.0, Join::Round).is_empty());
        assert!((disc.offset(0.0, Join::Round).area() / disc.area() - 1.0).abs() < 1e-9);
        assert!((disc.offset(1e7, Join::Round).area() / (PI * 10_000_010.0_f64.powi(2)) - 1.0).abs() < 1e-5);
    }
}

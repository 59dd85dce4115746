//! A plane figure with holes: what is cut from paste.
//!
//! Frame: x to the right, y **up**. Outer rings run counter-clockwise (positive area), holes clockwise. Units are the
//! maker's: mm for pieces, pixels for a traced picture, user units for a drawing.

use glam::DVec2;

use super::offset::{Fill, Grid};

/// A ring of corners; the last one joins the first.
pub type Ring = Vec<DVec2>;

/// A plane figure with holes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Region {
    /// Outer rings counter-clockwise, holes clockwise; rings don't cross.
    pub rings: Vec<Ring>,
}

/// One connected part of a region.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Face {
    /// Its outer ring, counter-clockwise.
    pub outer: Ring,
    /// Its holes, clockwise.
    pub holes: Vec<Ring>,
}

impl Region {
    /// The figure that closed paths fill by the even-odd rule. Corners that are not finite are left out.
    #[must_use]
    pub fn from_paths_even_odd(paths: &[Ring]) -> Self {
        Grid::for_rings(paths, 0.0).unite(paths, Fill::EvenOdd)
    }

    /// The figure that closed paths fill by the non-zero rule. Corners that are not finite are left out.
    #[must_use]
    pub fn from_paths_non_zero(paths: &[Ring]) -> Self {
        Grid::for_rings(paths, 0.0).unite(paths, Fill::NonZero)
    }

    /// A rectangle centred on the origin. `corner_radius` is cut down to half the shorter side.
    #[must_use]
    pub fn rectangle(width: f64, height: f64, corner_radius: f64) -> Self {
        let half = DVec2::new(width, height).abs() / 2.0;
        let radius = corner_radius.clamp(0.0, half.min_element());
        let corners = [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)];
        let steps = if radius > 0.0 { ARC_STEPS / 4 } else { 0 };
        let ring = corners.into_iter().enumerate().flat_map(|(quarter, (right, up))| {
            let centre = (half - radius) * DVec2::new(right, up);
            let first = quarter as f64 * std::f64::consts::FRAC_PI_2;
            (0..=steps).map(move |step| {
                let turn = first + f64::from(step) / f64::from(steps.max(1)) * std::f64::consts::FRAC_PI_2;
                centre + DVec2::from_angle(turn) * radius
            })
        });
        // Where two arcs share their centre, one ends where the next begins.
        let mut ring: Ring = ring.collect();
        let same = |one: DVec2, other: DVec2| one.distance(other) <= 1e-9 * half.max_element();
        ring.dedup_by(|next, last| same(*next, *last));
        if ring.first().zip(ring.last()).is_some_and(|(&first, &last)| same(first, last)) {
            ring.pop();
        }
        Self::one(ring)
    }

    /// A disc centred on the origin: a regular polygon of the disc's own area.
    #[must_use]
    pub fn disc(radius: f64) -> Self {
        let step = std::f64::consts::TAU / f64::from(ARC_STEPS);
        // A regular n-gon of circumradius R covers n/2·R²·sin(2π/n); R is chosen so that this is π·r².
        let reach = radius.abs() * (step / step.sin()).sqrt();
        Self::one((0..ARC_STEPS).map(|n| DVec2::from_angle(f64::from(n) * step) * reach).collect())
    }

    fn one(ring: Ring) -> Self {
        let region = Self { rings: vec![ring] };
        if region.area() > 0.0 { region } else { Self::default() }
    }

    /// Whether nothing is left of it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.rings.is_empty()
    }

    /// Area without the holes.
    #[must_use]
    pub fn area(&self) -> f64 {
        self.rings.iter().map(|ring| ring_area(ring)).sum()
    }

    /// Length of all edges, those of holes too.
    #[must_use]
    pub fn perimeter(&self) -> f64 {
        self.edges().map(|(from, to)| from.distance(to)).sum()
    }

    /// Centre of mass of a plate of this figure; `None` for an empty one.
    ///
    /// Sum over edges of (a + b)·(a × b) / 6, over the area (Green's theorem); taken about the middle of the bounds,
    /// where it loses no digits.
    #[must_use]
    pub fn centroid(&self) -> Option<DVec2> {
        let (low, high) = self.bounds()?;
        let middle = (low + high) / 2.0;
        let area = self.area();
        let moment: DVec2 = self
            .edges()
            .map(|(from, to)| (from - middle, to - middle))
            .map(|(from, to)| (from + to) * from.perp_dot(to) / 6.0)
            .sum();
        (area > 0.0).then(|| middle + moment / area)
    }

    /// Least and greatest corner; `None` for an empty region.
    #[must_use]
    pub fn bounds(&self) -> Option<(DVec2, DVec2)> {
        let mut corners = self.rings.iter().flatten().copied();
        let first = corners.next()?;
        Some(corners.fold((first, first), |(low, high), at| (low.min(at), high.max(at))))
    }

    /// The figure `factor` times as large about the origin.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Self {
        self.map(|at| at * factor.abs())
    }

    /// The figure moved by `by`.
    #[must_use]
    pub fn moved(&self, by: DVec2) -> Self {
        self.map(|at| at + by)
    }

    fn map(&self, place: impl Fn(DVec2) -> DVec2) -> Self {
        Self { rings: self.rings.iter().map(|ring| ring.iter().copied().map(&place).collect()).collect() }
    }

    /// Whether a place lies in the figure and in none of its holes. On an edge either answer may come.
    #[must_use]
    pub fn contains(&self, place: DVec2) -> bool {
        let crosses = |&(from, to): &(DVec2, DVec2)| {
            let spans = (from.y > place.y) != (to.y > place.y);
            spans && place.x < from.x + (to.x - from.x) * (place.y - from.y) / (to.y - from.y)
        };
        self.edges().filter(crosses).count() % 2 == 1
    }

    /// Its connected parts, each with its own holes, sorted by place: lowest first, then leftmost.
    #[must_use]
    pub fn faces(&self) -> Vec<Face> {
        Grid::for_rings(&self.rings, 0.0).faces(&self.rings)
    }

    /// All edges, in the sense of their rings.
    pub fn edges(&self) -> impl Iterator<Item = (DVec2, DVec2)> + '_ {
        self.rings.iter().flat_map(|ring| ring_edges(ring))
    }
}

/// Corners of a full circle: flat to 2e-5 of its radius.
const ARC_STEPS: u32 = 512;

/// Edges of one ring, the closing one last.
pub(super) fn ring_edges(ring: &[DVec2]) -> impl Iterator<Item = (DVec2, DVec2)> + '_ {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}

/// Signed area of one ring (the shoelace formula), positive when it runs counter-clockwise.
pub(super) fn ring_area(ring: &[DVec2]) -> f64 {
    let Some(&first) = ring.first() else { return 0.0 };
    ring_edges(ring).map(|(from, to)| (from - first).perp_dot(to - first)).sum::<f64>() / 2.0
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;

    fn square(low: f64, high: f64) -> Ring {
        vec![DVec2::new(low, low), DVec2::new(high, low), DVec2::new(high, high), DVec2::new(low, high)]
    }

    #[test]
    fn disc_has_the_area_and_centre_of_a_disc() {
        let disc = Region::disc(20.0).moved(DVec2::new(500.0, -300.0));
        assert!((disc.area() / (PI * 400.0) - 1.0).abs() < 1e-9);
        assert!((disc.perimeter() / (PI * 40.0) - 1.0).abs() < 1e-4);
        assert!(disc.centroid().unwrap().distance(DVec2::new(500.0, -300.0)) < 1e-9);
    }

    #[test]
    fn rounded_rectangle_has_its_area() {
        // w·h - (4 - π)·r², plane geometry
        let plate = Region::rectangle(60.0, 40.0, 5.0);
        assert!((plate.area() / (2400.0 - (4.0 - PI) * 25.0) - 1.0).abs() < 1e-6);
        assert_eq!(plate.bounds().unwrap(), (DVec2::new(-30.0, -20.0), DVec2::new(30.0, 20.0)));
        assert_eq!(Region::rectangle(60.0, 40.0, 0.0).area(), 2400.0);
        assert_eq!(Region::rectangle(60.0, 40.0, 0.0).rings[0].len(), 4);
        assert!(Region::rectangle(60.0, 0.0, 0.0).is_empty());
        let coin = Region::rectangle(20.0, 20.0, 10.0);
        assert!(coin.edges().all(|(from, to)| from.distance(to) > 0.1));
        assert!((coin.area() / (PI * 100.0) - 1.0).abs() < 1e-4);
    }

    #[test]
    fn even_odd_makes_a_hole_and_non_zero_does_not() {
        let paths = [square(0.0, 10.0), square(3.0, 7.0)];
        let ring = Region::from_paths_even_odd(&paths);
        assert!((ring.area() - 84.0).abs() < 1e-9);
        assert!(ring.contains(DVec2::new(1.0, 5.0)) && !ring.contains(DVec2::new(5.0, 5.0)));
        assert!((Region::from_paths_non_zero(&paths).area() - 100.0).abs() < 1e-9);
    }

    #[test]
    fn rings_come_out_oriented_however_they_went_in() {
        let mut clockwise = square(0.0, 10.0);
        clockwise.reverse();
        let region = Region::from_paths_even_odd(&[clockwise, square(2.0, 4.0)]);
        let mut areas: Vec<f64> = region.rings.iter().map(|ring| ring_area(ring)).collect();
        areas.sort_by(f64::total_cmp);
        assert!((areas[0] + 4.0).abs() < 1e-9 && (areas[1] - 100.0).abs() < 1e-9);
    }

    #[test]
    fn faces_own_their_holes_and_islands_stand_alone() {
        let paths = [square(0.0, 10.0), square(1.0, 9.0), square(3.0, 7.0), square(4.0, 6.0), square(20.0, 21.0)];
        let faces = Region::from_paths_even_odd(&paths).faces();
        let shape: Vec<(f64, usize)> =
            faces.iter().map(|face| (ring_area(&face.outer).round(), face.holes.len())).collect();
        assert_eq!(shape, [(100.0, 1), (16.0, 1), (1.0, 0)]);
    }

    #[test]
    fn a_figure_with_a_hole_balances_beside_it() {
        // 10 × 10 less 2 × 2 at (8, 5): x = (100·5 - 4·8) / 96
        let hole: Ring = square(0.0, 2.0).iter().map(|at| *at + DVec2::new(7.0, 4.0)).collect();
        let centroid = Region::from_paths_even_odd(&[square(0.0, 10.0), hole]).centroid().unwrap();
        assert!(centroid.distance(DVec2::new(468.0 / 96.0, 480.0 / 96.0)) < 1e-9);
    }

    #[test]
    fn corners_that_are_no_numbers_are_left_out() {
        let mut ring = square(0.0, 10.0);
        ring.insert(2, DVec2::new(f64::NAN, 1.0));
        ring.push(DVec2::new(f64::INFINITY, 1.0));
        assert!((Region::from_paths_non_zero(&[ring]).area() - 100.0).abs() < 1e-9);
        assert!(Region::from_paths_non_zero(&[]).is_empty());
    }
}

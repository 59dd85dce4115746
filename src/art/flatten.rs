//! Curves as straight edges: glyphs and drawings come as Bézier curves, regions are made of corners.

use glam::DVec2;

use super::region::Ring;

/// The part of a closed ring within a box, without changing what it goes round there (Sutherland and Hodgman, 1974).
pub(super) fn within(ring: Ring, [low, high]: [DVec2; 2]) -> Ring {
    if ring.iter().all(|at| at.cmpge(low).all() && at.cmple(high).all()) {
        return ring;
    }
    // How far inside of each of the four edges a place lies.
    let edges: [&dyn Fn(DVec2) -> f64; 4] =
        [&|at| at.x - low.x, &|at| high.x - at.x, &|at| at.y - low.y, &|at| high.y - at.y];
    edges.into_iter().fold(ring, |ring, inside| {
        let ends = ring.iter().copied().zip(ring.iter().copied().cycle().skip(1));
        let kept = ends.flat_map(|(from, to)| {
            let (before, after) = (inside(from), inside(to));
            // From the end inside: the other one may be so far off that nothing near would be left of its digits.
            let crossing = ((before < 0.0) != (after < 0.0)).then(|| {
                let (inner, outer) = if before < 0.0 { (to, from) } else { (from, to) };
                let share = before.max(after) / (before - after).abs();
                inner.lerp(outer, share)
            });
            (before >= 0.0).then_some(from).into_iter().chain(crossing)
        });
        kept.collect()
    })
}

/// Collects closed rings from the strokes of a pen, in the pen's own frame.
#[derive(Clone, Debug)]
pub(super) struct Flattener {
    tolerance: f64,
    rings: Vec<Ring>,
    current: Ring,
}

impl Flattener {
    /// A pen whose curves stray at most `tolerance` from the edges that stand for them.
    pub(super) fn new(tolerance: f64) -> Self {
        Self { tolerance, rings: Vec::new(), current: Vec::new() }
    }

    pub(super) fn move_to(&mut self, to: DVec2) {
        self.close();
        self.current.push(to);
    }

    pub(super) fn line_to(&mut self, to: DVec2) {
        self.current.push(to);
    }

    /// A chord of a curve misses it by at most h²/8·max|B″| (interpolation error); B″ = 2·(p₀ - 2p₁ + p₂) here.
    pub(super) fn quad_to(&mut self, control: DVec2, to: DVec2) {
        let from = self.current.last().copied().unwrap_or(to);
        let steps = self.steps((from - 2.0 * control + to).length() / 4.0);
        self.curve(steps, |t| from.lerp(control, t).lerp(control.lerp(to, t), t));
    }

    /// As [`Self::quad_to`], with |B″| ≤ 6·max(|p₀ - 2p₁ + p₂|, |p₁ - 2p₂ + p₃|).
    pub(super) fn cubic_to(&mut self, first: DVec2, second: DVec2, to: DVec2) {
        let from = self.current.last().copied().unwrap_or(to);
        let bend = (from - 2.0 * first + second).length().max((first - 2.0 * second + to).length());
        let steps = self.steps(bend * 0.75);
        self.curve(steps, |t| {
            let middle = first.lerp(second, t);
            let (left, right) = (from.lerp(first, t).lerp(middle, t), middle.lerp(second.lerp(to, t), t));
            left.lerp(right, t)
        });
    }

    /// Ends the ring; the pen's path is taken as closed whether it says so or not.
    pub(super) fn close(&mut self) {
        let ring = std::mem::take(&mut self.current);
        if ring.len() > 2 {
            self.rings.push(ring);
        }
    }

    /// All rings drawn so far.
    pub(super) fn finish(mut self) -> Vec<Ring> {
        self.close();
        self.rings
    }

    fn steps(&self, error_of_one: f64) -> u32 {
        // At most 1,000, so that a wild curve stays bounded; NaN and negative become 1.
        (error_of_one / self.tolerance).sqrt().ceil().clamp(1.0, 1000.0) as u32
    }

    fn curve(&mut self, steps: u32, at: impl Fn(f64) -> DVec2) {
        self.current.extend((1..=steps).map(|step| at(f64::from(step) / f64::from(steps))));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn curves_stray_no_further_than_the_tolerance() {
        // A quarter circle as a cubic: k = 4/3·(√2 - 1), true to 2.8e-4 of the radius (well known bound).
        let k = 4.0 / 3.0 * (2.0_f64.sqrt() - 1.0);
        let mut pen = Flattener::new(1e-3);
        pen.move_to(DVec2::ZERO);
        pen.line_to(DVec2::X);
        pen.cubic_to(DVec2::new(1.0, k), DVec2::new(k, 1.0), DVec2::Y);
        let ring = pen.finish().remove(0);
        for edge in ring[1..].windows(2) {
            let middle = (edge[0] + edge[1]).length() / 2.0;
            assert!((middle - 1.0).abs() < 1e-3 + 2.8e-4);
        }
        assert!(ring.len() < 25);
    }

    #[test]
    fn a_ring_is_cut_at_a_box_however_far_it_reaches() {
        let corners = [(-1e20, 2.0), (5.0, 2.0), (5.0, 1e30), (-1e20, 1e30)].map(DVec2::from).to_vec();
        let kept = within(corners, [DVec2::ZERO, DVec2::splat(10.0)]);
        assert_eq!(super::super::region::ring_area(&kept), 40.0);
        let outside = [(20.0, 2.0), (25.0, 2.0), (25.0, 5.0)].map(DVec2::from).to_vec();
        assert!(within(outside, [DVec2::ZERO, DVec2::splat(10.0)]).is_empty());
        let inside = [(2.0, 2.0), (5.0, 2.0), (5.0, 5.0)].map(DVec2::from).to_vec();
        assert_eq!(within(inside.clone(), [DVec2::ZERO, DVec2::splat(10.0)]), inside);
    }

    #[test]
    fn a_parabola_ends_where_it_should_and_wild_numbers_stay_bounded() {
        let mut pen = Flattener::new(1e-9);
        pen.move_to(DVec2::ZERO);
        pen.quad_to(DVec2::new(f64::NAN, 1e300), DVec2::X);
        pen.cubic_to(DVec2::splat(1e308), DVec2::splat(-1e308), DVec2::Y);
        let ring = pen.finish().remove(0);
        assert_eq!(ring.last(), Some(&DVec2::Y));
        assert!(ring.len() <= 2001);
    }
}

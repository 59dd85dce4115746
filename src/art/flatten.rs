//! Curves as straight edges: glyphs and drawings come as Bézier curves, regions are made of corners.

use glam::DVec2;

use super::region::Ring;

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

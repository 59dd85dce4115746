//! What of a seam is left in sight: a comb of places up its height, one for each eye level.

use glam::DVec2;

use super::eyes::LEVELS;

/// Places up a seam: as many as a machine word has bits.
const TEETH: f64 = 64.0;

/// A seam's height with what is hidden of it at each eye level, one bit a place from its foot up.
#[derive(Clone, Debug)]
pub(super) struct Comb {
    low: f64,
    per_mm: f64,
    hidden: [u64; LEVELS],
}

impl Comb {
    /// A seam from one height to another, all of it in sight.
    pub fn new((low, high): (f64, f64)) -> Self {
        Self { low, per_mm: TEETH / (high - low).max(1e-6), hidden: [0; LEVELS] }
    }

    /// Nothing is left to hide.
    pub fn is_hidden(&self) -> bool {
        self.hidden.iter().all(|&level| level == u64::MAX)
    }

    /// The share of the height that is seen, over all eye levels.
    pub fn seen(&self) -> f64 {
        let hidden: u32 = self.hidden.iter().map(|level| level.count_ones()).sum();
        1.0 - f64::from(hidden) / (TEETH * LEVELS as f64)
    }

    /// Hides what lies in the shadow of an edge between two places (mm ahead, mm up), for sight lines of these slopes.
    pub fn shade(&mut self, [a, b]: [DVec2; 2], slopes: &[f64; LEVELS]) {
        for (level, slope) in self.hidden.iter_mut().zip(slopes) {
            let tooth = |place: DVec2| {
                let up = place.y - place.x * slope;
                ((up - self.low) * self.per_mm - 0.5).ceil().clamp(0.0, TEETH) as u32
            };
            let (a, b) = (tooth(a), tooth(b));
            let (first, count) = (a.min(b), a.abs_diff(b));
            if count > 0 {
                *level |= (u64::MAX >> (64 - count)) << first;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_edge_hides_its_shadow_at_each_eye_level() {
        let slopes = [0.0, 0.1, 0.2, 0.5, 1.0];
        let mut comb = Comb::new((10.0, 74.0));
        comb.shade([DVec2::new(5.0, 42.0), DVec2::new(5.0, 20.0)], &slopes);
        // 22 mm of 64 at every level, moved down by 0, 0.5, 1, 2.5 and 5 mm.
        assert!((comb.seen() - (1.0 - 22.0 / 64.0)).abs() < 1.0 / 64.0);
        assert_eq!(comb.hidden.map(u64::trailing_zeros), [10, 9, 9, 7, 5]);
        comb.shade([DVec2::new(0.0, 10.0), DVec2::new(30.0, 200.0)], &slopes);
        assert!(comb.is_hidden() && comb.seen() == 0.0);
    }
}

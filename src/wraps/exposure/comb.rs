//! What of a seam is left in sight: a comb of places up its height, one for each eye level.

use glam::DVec2;

use super::eyes::LEVELS;

/// Places up a seam: as many as a machine word has bits.
const TEETH: f64 = 64.0;
/// Added to a small number, it leaves the number, rounded, in the lowest bits: far quicker here than a conversion.
const ROUND: f64 = 6_755_399_441_055_744.0;
/// So that a place whose middle a shadow just reaches counts from below too.
const HAIR: f64 = 1e-9;

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

    /// Does all of it stand above whatever is no higher than this? Sight lines that rise lift no shadow.
    pub fn is_above(&self, top: f64, slopes: &[f64; LEVELS]) -> bool {
        top <= self.low && slopes.iter().all(|&slope| slope >= 0.0)
    }

    /// The share of the height that is seen, over all eye levels.
    pub fn seen(&self) -> f64 {
        let hidden: u32 = self.hidden.iter().map(|level| level.count_ones()).sum();
        1.0 - f64::from(hidden) / (TEETH * LEVELS as f64)
    }

    /// Hides what lies in a shadow: from so high to so high, for each slope of the sight lines.
    pub fn hide(&mut self, slopes: &[f64; LEVELS], shadow: impl Fn(f64) -> (f64, f64)) {
        let (low, per_mm) = (self.low, self.per_mm);
        for (level, slope) in self.hidden.iter_mut().zip(slopes) {
            *level |= teeth(shadow(*slope), (low, per_mm));
        }
    }

    /// Hides what lies in the shadow of an edge, from one place (mm ahead, mm up) to another.
    pub fn hide_edge(&mut self, slopes: &[f64; LEVELS], [a, b]: [DVec2; 2]) {
        self.hide(slopes, |slope| {
            let (a, b) = (a.y - a.x * slope, b.y - b.x * slope);
            (a.min(b), a.max(b))
        });
    }

    /// Is anything in such a shadow still in sight?
    pub fn shows(&self, slopes: &[f64; LEVELS], shadow: impl Fn(f64) -> (f64, f64)) -> bool {
        let scale = (self.low, self.per_mm);
        self.hidden.iter().zip(slopes).any(|(level, slope)| teeth(shadow(*slope), scale) & !level != 0)
    }
}

/// The places between two heights, of a comb that starts `low` and has so many places to a millimetre.
fn teeth((from, to): (f64, f64), (low, per_mm): (f64, f64)) -> u64 {
    // A place counts when its middle lies between; counted from below, so that shadows that touch leave no gap.
    let tooth = |up: f64| (((up - low) * per_mm - HAIR).clamp(0.0, TEETH) + ROUND).to_bits() as u32 & 127;
    below(tooth(to)) & !below(tooth(from))
}

/// The places below a number of them.
const fn below(count: u32) -> u64 {
    if count < 64 { (1 << count) - 1 } else { u64::MAX }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_edge_hides_its_shadow_at_each_eye_level() {
        let slopes = [0.0, 0.1, 0.2, 0.5, 1.0];
        let mut comb = Comb::new((10.0, 74.0));
        comb.hide(&slopes, |slope| (20.0 - 5.0 * slope, 42.0 - 5.0 * slope));
        // 22 mm of 64 at every level, moved down by 0, 0.5, 1, 2.5 and 5 mm.
        assert!((comb.seen() - (1.0 - 22.0 / 64.0)).abs() < 1.0 / 64.0);
        assert_eq!(comb.hidden.map(u64::trailing_zeros), [10, 9, 9, 7, 5]);
        assert!(comb.shows(&slopes, |_| (30.0, 60.0)) && !comb.shows(&slopes, |_| (21.0, 30.0)));
        comb.hide(&slopes, |_| (-5.0, 200.0));
        assert!(comb.is_hidden() && comb.seen() == 0.0);
    }
}

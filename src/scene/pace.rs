//! How fine a moving picture may be so that it keeps up with the hand.

use std::time::Duration;

/// Slower than this a picture lags behind the hand.
const SLOW: Duration = Duration::from_millis(70);

/// Faster than this there is time for a finer one.
const FAST: Duration = Duration::from_millis(22);

/// Slow frames in a row after which the picture becomes coarser, and fast ones after which it becomes finer.
const PATIENCE: (u32, u32) = (2, 12);

/// Shares of the full width and height, from fine to coarse.
const SHARES: [f64; 5] = [1.0, 0.7, 0.5, 0.35, 0.25];

/// The pace of a moving picture.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Pace {
    step: usize,
    slow: u32,
    fast: u32,
}

impl Pace {
    /// The pace of a processor that imitates a graphics card, until it is known better.
    pub(super) const SOFT: Self = Self { step: 2, slow: 0, fast: 0 };

    /// The size of the next frame of a picture of `size` px.
    pub(super) fn size(self, (width, height): (u32, u32)) -> (u32, u32) {
        let share = SHARES.get(self.step).copied().unwrap_or(1.0);
        let side = |side: u32| ((f64::from(side) * share).round() as u32).max(1);
        (side(width), side(height))
    }

    /// Notes how long a frame took.
    pub(super) fn note(&mut self, took: Duration) {
        self.slow = if took > SLOW { self.slow + 1 } else { 0 };
        self.fast = if took < FAST { self.fast + 1 } else { 0 };
        if self.slow >= PATIENCE.0 {
            *self = Self { step: (self.step + 1).min(SHARES.len() - 1), ..Self::default() };
        } else if self.fast >= PATIENCE.1 {
            *self = Self { step: self.step.saturating_sub(1), ..Self::default() };
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slow_picture_becomes_coarser_and_a_fast_one_finer_again() {
        let mut pace = Pace::default();
        assert_eq!(pace.size((1000, 600)), (1000, 600));
        for _ in 0..40 {
            pace.note(Duration::from_millis(200));
        }
        assert_eq!(pace.size((1000, 600)), (250, 150));
        for _ in 0..100 {
            pace.note(Duration::from_millis(40));
        }
        assert_eq!(pace.size((1000, 600)), (250, 150));
        for _ in 0..100 {
            pace.note(Duration::from_millis(5));
        }
        assert_eq!(pace.size((3, 1)), (3, 1));
    }
}

//! How fine a moving picture may be so that it keeps up with the hand.

use std::time::Duration;

/// Slow frames in a row after which the picture becomes coarser.
const SLOW_IN_A_ROW: u32 = 2;

/// Fast frames in a row after which a finer picture is tried: at first, and at most.
const PATIENCE: (u32, u32) = (12, 960);

/// Shares of the full width and height, from fine to coarse.
const SHARES: [f64; 4] = [1.0, 0.7, 0.5, 0.35];

/// The pace of a moving picture.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pace {
    /// A frame that takes longer lags behind; one that takes less leaves time for a finer picture.
    limits: (Duration, Duration),
    step: usize,
    slow: u32,
    fast: u32,
    patience: u32,
    /// Whether this step is finer than one that kept up, and has not kept up itself yet.
    is_tried: bool,
}

impl Pace {
    /// With a graphics card: sixty frames a second. A screen gives the next frame when it is ready for it, so that one that
    /// takes its sixtieth may have had time to spare.
    pub(super) const CARD: Self = Self::new((20, 18), 0);

    /// The same without a screen that makes a late frame wait for the next sixtieth.
    pub(super) const CARD_ALONE: Self = Self::new((16, 14), 0);

    /// With a processor that imitates one, until it is known better.
    pub(super) const SOFT: Self = Self::new((60, 40), 2);

    const fn new((slow, fast): (u64, u64), step: usize) -> Self {
        let limits = (Duration::from_millis(slow), Duration::from_millis(fast));
        Self { limits, step, slow: 0, fast: 0, patience: PATIENCE.0, is_tried: false }
    }

    /// The size of the next frame of a picture of `size` px.
    pub(super) fn size(self, (width, height): (u32, u32)) -> (u32, u32) {
        let share = SHARES.get(self.step).copied().unwrap_or(1.0);
        let side = |side: u32| ((f64::from(side) * share).round() as u32).max(1);
        (side(width), side(height))
    }

    /// Notes how long a frame took.
    pub(super) fn note(&mut self, took: Duration) {
        self.slow = if took > self.limits.0 { self.slow + 1 } else { 0 };
        self.fast = if took < self.limits.1 { self.fast + 1 } else { 0 };
        if self.slow >= SLOW_IN_A_ROW {
            // What was tried in vain is tried less often.
            let patience = if self.is_tried { (2 * self.patience).min(PATIENCE.1) } else { self.patience };
            let step = (self.step + 1).min(SHARES.len() - 1);
            *self = Self { step, slow: 0, fast: 0, patience, is_tried: false, ..*self };
        } else if self.fast >= self.patience {
            let finer = self.step.saturating_sub(1);
            *self = Self { step: finer, slow: 0, fast: 0, is_tried: finer != self.step, ..*self };
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn keep(pace: &mut Pace, frames: u32, took: impl Fn((u32, u32)) -> u64) {
        for _ in 0..frames {
            pace.note(Duration::from_millis(took(pace.size((1000, 600)))));
        }
    }

    #[test]
    fn a_slow_picture_becomes_coarser_and_a_fast_one_finer_again() {
        let mut pace = Pace::SOFT;
        assert_eq!(pace.size((1000, 600)), (500, 300));
        keep(&mut pace, 40, |_| 200);
        assert_eq!(pace.size((1000, 600)), (350, 210));
        keep(&mut pace, 100, |_| 40);
        assert_eq!(pace.size((1000, 600)), (350, 210));
        keep(&mut pace, 100, |_| 5);
        assert_eq!(pace.size((3, 1)), (3, 1));
    }

    #[test]
    fn what_can_not_be_kept_up_is_tried_less_and_less_often() {
        let mut pace = Pace::CARD;
        let took = |(width, _): (u32, u32)| if width > 700 { 33 } else { 16 };
        keep(&mut pace, 2, took);
        assert_eq!(pace.size((1000, 600)), (700, 420));
        let slow = |pace: &mut Pace| {
            let mut slow = 0;
            for _ in 0..1000 {
                let ms = took(pace.size((1000, 600)));
                slow += u32::from(ms > 20);
                pace.note(Duration::from_millis(ms));
            }
            slow
        };
        let (first, second) = (slow(&mut pace), slow(&mut pace));
        assert!(first <= 14 && second <= 4, "{first} {second}");
        assert_eq!(pace.size((1000, 600)), (700, 420));
    }
}

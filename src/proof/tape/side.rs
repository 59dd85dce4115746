//! One tier's side on the page: from tape readings to places.

use glam::DVec2;

use crate::art::Ring;
use crate::cake::CakeTier;
use crate::measure::Unit;

/// A side that turns by more than this (radians) on less than this radius (mm) has a corner there: our own choice.
const CORNER_TURN: f64 = 0.35;
const CORNER_RADIUS: f64 = 15.0;

/// The unrolled side of a tier, laid on a page. Front centre stands on the page's axis.
#[derive(Clone, Copy, Debug)]
pub(super) struct Side<'a> {
    pub tier: &'a CakeTier,
    pub unit: Unit,
    /// Millimetres of the page to one of the cake.
    pub scale: f64,
    /// Page x of front centre.
    pub axis: f64,
    /// Page y of the tier's foot.
    pub foot: f64,
}

impl Side<'_> {
    /// Once round, mm of the cake.
    pub fn around(&self) -> f64 {
        self.tier.outline.perimeter()
    }

    /// Page x of a tape reading.
    pub fn x(&self, along: f64) -> f64 {
        self.axis + along * self.scale
    }

    /// Page y of a height above the tier's foot.
    pub fn y(&self, up: f64) -> f64 {
        self.foot - up * self.scale
    }

    /// The place on the page of a place on the side.
    pub fn at(&self, along: f64, up: f64) -> DVec2 {
        DVec2::new(self.x(along), self.y(up))
    }

    /// Page x of the tape's two ends: both are the back.
    pub fn ends(&self) -> (f64, f64) {
        let half = self.around() / 2.0;
        (self.x(-half), self.x(half))
    }

    /// Upper left and lower right corner of the whole side.
    pub fn frame(&self) -> [DVec2; 2] {
        let half = self.around() / 2.0;
        [self.at(-half, self.tier.height.as_mm()), self.at(half, 0.0)]
    }

    /// Readings of its upright corners.
    pub fn corners(&self) -> Vec<f64> {
        self.tier.outline.draped_corners(CORNER_TURN, CORNER_RADIUS)
    }

    /// A ring of the side (along, up) on the page.
    pub fn ring(&self, ring: &[DVec2]) -> Ring {
        ring.iter().map(|at| self.at(at.x, at.y)).collect()
    }

    /// The parts of a stretch that lie on the tape, as readings within half the tape either way: one, or two where it runs
    /// over the back. Each with the share of the stretch at which it starts and ends.
    pub fn parts(&self, (from, to): (f64, f64)) -> Vec<Part> {
        let (around, half) = (self.around(), self.around() / 2.0);
        let length = to - from;
        let on_tape = [-1.0, 0.0, 1.0].map(|turn: f64| {
            let (low, high) = ((from + turn * around).max(-half), (to + turn * around).min(half));
            let share = |reading: f64| ((reading - turn * around - from) / length).clamp(0.0, 1.0);
            (high - low > 1e-6).then(|| Part { from: low, to: high, shares: (share(low), share(high)) })
        });
        on_tape.into_iter().flatten().collect()
    }
}

/// A part of a stretch that lies on the tape in one go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Part {
    /// Reading of its left end, mm.
    pub from: f64,
    /// Reading of its right end, mm.
    pub to: f64,
    /// Which share of the stretch it is, from and to.
    pub shares: (f64, f64),
}

impl Part {
    /// The stretch goes on to the left of it, over the back.
    pub fn goes_on_left(&self) -> bool {
        self.shares.0 > 1e-9
    }

    /// The stretch goes on to the right of it, over the back.
    pub fn goes_on_right(&self) -> bool {
        self.shares.1 < 1.0 - 1e-9
    }
}

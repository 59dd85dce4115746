//! Portions: how many slices a tier is cut into.
//!
//! * Round: rings as deep as the slice, from the outside in, each cut into whole slices by their width along the middle of
//!   the ring; the core counts by its area. Counting on the outer edge instead would give 22 to 46 % more.
//! * Square and rectangle: rows × columns, whichever way round gives more.
//! * Other shapes: area by area of the slice, rounded down.
//!
//! Counted on the pan's size, as published charts are, and for a tier 4 in tall.

use std::f64::consts::{PI, TAU};

use crate::cake::CakeTier;
use crate::design::model::{Slice, TierShape};
use crate::measure::Length;

/// The height that charts count slices for (wedding slice 1 × 2 × 4 in).
const CHART_HEIGHT: Length = Length::inches(4.0);
/// A count that rounding alone would make one too small is not.
const SLACK: f64 = 1e-9;

/// Width and depth of a slice.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SliceSize {
    /// Along the cut edge.
    pub width: Length,
    /// From the outside in.
    pub depth: Length,
}

impl From<Slice> for SliceSize {
    fn from(slice: Slice) -> Self {
        match slice {
            Slice::Party => Self { width: Length::inches(1.5), depth: Length::inches(2.0) },
            Slice::Wedding => Self { width: Length::inches(1.0), depth: Length::inches(2.0) },
            Slice::Own(width, depth) => Self { width, depth },
        }
    }
}

/// Slices of a tier, by the way its shape is cut.
#[must_use]
pub fn portions(tier: &CakeTier, slice: SliceSize) -> u32 {
    let (width, depth) = (slice.width.as_mm().max(1.0), slice.depth.as_mm().max(1.0));
    let (low, high) = tier.pan.bounds();
    let size = high - low;
    match tier.shape {
        TierShape::Round => rings(size.x / 2.0, (width, depth)),
        TierShape::Square | TierShape::Rectangle => {
            let rows = |across: f64, deep: f64| whole(across / width) * whole(deep / depth);
            rows(size.x, size.y).max(rows(size.y, size.x))
        }
        _ => whole(tier.pan.area() / (width * depth)),
    }
}

/// Slices by volume, for a tier taller than charts count; `None` for one that is not.
#[must_use]
pub fn portions_by_volume(tier: &CakeTier, slice: SliceSize) -> Option<u32> {
    let taller = tier.height / CHART_HEIGHT;
    (taller > 1.0 + SLACK).then(|| whole(f64::from(portions(tier, slice)) * taller))
}

fn rings(mut radius: f64, (width, depth): (f64, f64)) -> u32 {
    let mut slices = 0;
    while radius > depth + SLACK {
        slices += whole(TAU * (radius - depth / 2.0) / width);
        radius -= depth;
    }
    slices + whole(PI * radius * radius / (width * depth))
}

fn whole(count: f64) -> u32 {
    (count + SLACK).floor().clamp(0.0, 1e6) as u32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rings_along_their_middle_reproduce_the_area_based_charts() {
        // Derived by hand for 1 × 2 in slices; a widely copied chart prints 12, 24, 38, 56, 78, 100.
        let counts = [6.0, 8.0, 10.0, 12.0, 14.0, 16.0].map(|across| rings(across / 2.0, (1.0, 2.0)));
        assert_eq!(counts, [13, 24, 38, 55, 75, 98]);
    }
}

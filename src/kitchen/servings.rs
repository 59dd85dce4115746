//! Portions: how many slices a tier is cut into.
//!
//! * Round: rings as deep as the slice, from the outside in, each cut into whole slices by their width along the middle of
//!   the ring; the core counts by its area. Counting on the outer edge instead would give 22 to 46 % more.
//! * Square and rectangle: rows × columns, whichever way round gives more.
//! * Other shapes: area by area of the slice, rounded down.
//!
//! Counted on the pan's size, as published charts are, and for a tier 4 in tall.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use glam::DVec2;

use crate::cake::CakeTier;
use crate::design::model::{Slice, TierShape};
use crate::measure::Length;

/// The height that charts count slices for (wedding slice 1 × 2 × 4 in).
const CHART_HEIGHT: Length = Length::inches(4.0);
/// More cuts than this in a ring or a row are not drawn.
const MOST_CUTS: f64 = 400.0;
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

/// How a tier is cut: from above, about its middle, x to the right, y to the front; mm.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cutting {
    /// The way of cutting, by its name.
    pub method: &'static str,
    /// Slices.
    pub count: u32,
    /// Radii of rings to cut.
    pub rings: Vec<f64>,
    /// Straight cuts.
    pub cuts: Vec<[DVec2; 2]>,
}

/// Slices of a tier, by the way its shape is cut.
#[must_use]
pub fn portions(tier: &CakeTier, slice: SliceSize) -> u32 {
    cutting(tier, slice).count
}

/// How a tier is cut into slices.
#[must_use]
pub fn cutting(tier: &CakeTier, slice: SliceSize) -> Cutting {
    let (width, depth) = (slice.width.as_mm().max(1.0), slice.depth.as_mm().max(1.0));
    let (low, high) = tier.pan.bounds();
    let size = high - low;
    match tier.shape {
        TierShape::Round => rings(size.x / 2.0, (width, depth)),
        TierShape::Square | TierShape::Rectangle => {
            let count = |across: f64, deep: f64| whole(across / width) * whole(deep / depth);
            let turned = count(size.y, size.x) > count(size.x, size.y);
            let (step, count) = if turned {
                (DVec2::new(depth, width), count(size.y, size.x))
            } else {
                (DVec2::new(width, depth), count(size.x, size.y))
            };
            Cutting { method: "in rows and columns", count, cuts: grid(low, high, step), ..Cutting::default() }
        }
        _ => Cutting {
            method: "by area",
            count: whole(tier.pan.area() / (width * depth)),
            cuts: grid(low, high, DVec2::new(width, depth)),
            ..Cutting::default()
        },
    }
}

/// Straight cuts from the front left corner, so far apart; none on the edge itself.
fn grid(low: DVec2, high: DVec2, step: DVec2) -> Vec<[DVec2; 2]> {
    let marks = |from: f64, to: f64, step: f64| {
        let count = ((to - from) / step - 1e-6).floor().clamp(0.0, MOST_CUTS) as u32;
        (1..=count).map(move |number| from + step * f64::from(number))
    };
    let upright = marks(low.x, high.x, step.x).map(|x| [DVec2::new(x, low.y), DVec2::new(x, high.y)]);
    // Rows are counted from the front, which has the greater y.
    let level = marks(-high.y, -low.y, step.y).map(|y| [DVec2::new(low.x, -y), DVec2::new(high.x, -y)]);
    upright.chain(level).collect()
}

/// Slices by volume, for a tier taller than charts count; `None` for one that is not.
#[must_use]
pub fn portions_by_volume(tier: &CakeTier, slice: SliceSize) -> Option<u32> {
    let taller = tier.height / CHART_HEIGHT;
    (taller > 1.0 + SLACK).then(|| whole(f64::from(portions(tier, slice)) * taller))
}

fn rings(mut radius: f64, (width, depth): (f64, f64)) -> Cutting {
    let mut cutting = Cutting { method: "in rings", ..Cutting::default() };
    while radius > depth + SLACK {
        let count = whole(TAU * (radius - depth / 2.0) / width);
        cutting.slice((radius - depth, radius), count);
        radius -= depth;
        cutting.rings.push(radius);
    }
    let core = whole(PI * radius * radius / (width * depth));
    // One slice is the core itself.
    if core == 1 {
        cutting.count += 1;
    } else {
        cutting.slice((0.0, radius), core);
    }
    cutting
}

impl Cutting {
    /// Cuts a ring into equal slices, the first cut at the front.
    fn slice(&mut self, (from, to): (f64, f64), count: u32) {
        self.count += count;
        let turn = |number: u32| DVec2::from_angle(FRAC_PI_2 + TAU * f64::from(number) / f64::from(count.max(1)));
        let drawn = if count > MOST_CUTS as u32 { 0 } else { count };
        self.cuts.extend((0..drawn).map(|number| [turn(number) * from, turn(number) * to]));
    }
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
        let counts = [6.0, 8.0, 10.0, 12.0, 14.0, 16.0].map(|across| rings(across / 2.0, (1.0, 2.0)).count);
        assert_eq!(counts, [13, 24, 38, 55, 75, 98]);
    }

    #[test]
    fn every_slice_has_its_cut() {
        let round = rings(5.0, (1.0, 2.0));
        assert_eq!((round.rings.clone(), round.cuts.len()), (vec![3.0, 1.0], round.count as usize - 1));
        let outer = round.cuts.iter().filter(|[_, to]| (to.length() - 5.0).abs() < 1e-9).count();
        // Along the middle of the outer ring: 2π·4 = 25.1.
        assert_eq!(outer, 25);
        // 10 × 10 in slices of 1 × 2: nine cuts one way, four the other.
        assert_eq!(grid(DVec2::splat(-5.0), DVec2::splat(5.0), DVec2::new(1.0, 2.0)).len(), 13);
    }
}

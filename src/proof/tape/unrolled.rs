//! One side alone, as a working surface: its courses, its prints and its rulers, with the way from a reading to its place and back.
//!
//! Seams and pieces are left to whoever shows it, as they move while they are dragged.

use glam::DVec2;

use super::side::Side;
use super::{courses, ruler};
use crate::cake::Cake;
use crate::measure::{Length, TapePoint};
use crate::proof::chart::Chart;
use crate::wraps::WrapPlan;

/// Room left and right of a side, above it, and below it for the ruler, mm of the page.
const BESIDE: (f64, f64) = (4.0, 13.0);
const ABOVE: f64 = 3.0;
const BELOW: f64 = 1.2 + ruler::HEIGHT;

/// What is above and below a side, its ruler most of all, mm of the page.
pub const RULERS: f64 = ABOVE + BELOW;

/// A side, drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Unrolled {
    /// What is drawn; its size is what it takes.
    pub chart: Chart,
    /// Millimetres of the page to one of the cake.
    pub scale: f64,
    /// Where front centre at the tier's foot stands on the page.
    pub origin: DVec2,
    /// Once round, mm of the cake.
    pub around: f64,
    /// Foot to top, mm of the cake.
    pub height: f64,
}

/// Draws the side of a tier (its number from the board up) into so much room, mm of the page, as large as it goes.
#[must_use]
pub fn unrolled(cake: &Cake, plans: &[WrapPlan], tier: usize, room: DVec2) -> Option<Unrolled> {
    let found = cake.tiers.get(tier)?;
    let (around, height) = (found.outline.perimeter(), found.height.as_mm());
    let inner = (room - DVec2::new(BESIDE.0 + BESIDE.1, RULERS)).max(DVec2::splat(1.0));
    let scale = (inner.x / around).min(inner.y / height.max(1.0));
    let origin = DVec2::new(BESIDE.0 + around * scale / 2.0, ABOVE + height * scale);
    let size = DVec2::new(around * scale + BESIDE.0 + BESIDE.1, height * scale + RULERS);
    let side = Side { tier: found, unit: cake.design.unit, scale, axis: origin.x, foot: origin.y };
    let mut chart = Chart::new(format!("the side of {} unrolled", found.name), size);
    let plans: Vec<&WrapPlan> = plans.iter().filter(|plan| plan.tier == tier).collect();
    courses::draw(&mut chart, &side, (cake, &plans));
    ruler::up(&mut chart, &side);
    ruler::along(&mut chart, &side, side.foot + 1.2);
    Some(Unrolled { chart, scale, origin, around, height })
}

/// How high the drawing of a side is at such a width, mm of the page.
#[must_use]
pub fn unrolled_height(cake: &Cake, tier: usize, width: f64) -> Option<f64> {
    let found = cake.tiers.get(tier)?;
    let scale = (width - BESIDE.0 - BESIDE.1).max(1.0) / found.outline.perimeter();
    Some(found.height.as_mm() * scale + RULERS)
}

impl Unrolled {
    /// The place on the page of a reading, mm.
    #[must_use]
    pub fn place(&self, along: f64, up: f64) -> DVec2 {
        self.origin + DVec2::new(along, -up) * self.scale
    }

    /// What the tape reads at a place on the page.
    #[must_use]
    pub fn reading(&self, place: DVec2) -> TapePoint {
        let at = (place - self.origin) / self.scale;
        TapePoint { along: Length::mm(at.x), up: Length::mm(-at.y) }
    }

    /// Whether a reading lies on the side.
    #[must_use]
    pub fn holds(&self, at: TapePoint) -> bool {
        at.along.as_mm().abs() <= self.around / 2.0 && (0.0..=self.height).contains(&at.up.as_mm())
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::cake::resolve;
    use crate::design::read_design;

    #[test]
    fn a_side_fits_its_room_and_is_read_where_it_is_drawn() {
        let text = "unit = 'in'\n[[tier]]\nname = 'base'\nsize = 8\nheight = 4\n";
        let cake = resolve(&Arc::new(read_design(text, "").unwrap()), &Arc::default()).unwrap();
        for room in [DVec2::new(200.0, 90.0), DVec2::new(800.0, 60.0), DVec2::new(10.0, 10.0)] {
            let side = unrolled(&cake, &[], 0, room).unwrap();
            let size = side.chart.size;
            assert!(size.x <= room.x.max(18.1) + 1e-9 && size.y <= room.y.max(17.8) + 1e-9, "{size} in {room}");
            let at = side.reading(side.place(-100.0, 30.0));
            assert!((at.along.as_mm() + 100.0).abs() < 1e-9 && (at.up.as_mm() - 30.0).abs() < 1e-9);
            assert!(side.holds(at) && !side.holds(side.reading(side.place(0.0, -1.0))));
        }
        assert!(unrolled(&cake, &[], 1, DVec2::splat(100.0)).is_none());
        let wide = unrolled(&cake, &[], 0, DVec2::new(300.0, 900.0)).unwrap().chart.size;
        assert!((unrolled_height(&cake, 0, 300.0).unwrap() - wide.y).abs() < 1e-9 && (wide.x - 300.0).abs() < 1e-9);
    }
}

//! Room beside prints: for their words, and for the legend of the sheet.

use glam::DVec2;

use super::lay::micrometres;
use super::nest::{Item, Rect, Space, room};
use super::plan::{LABEL, LEGEND, Label, Legend, Placed, PrintedSheet};
use super::prints::Print;
use crate::measure::Length;

/// A rectangle of a sheet, mm.
#[derive(Clone, Copy, Debug)]
struct Area {
    low: DVec2,
    high: DVec2,
}

impl Area {
    fn meets(self, other: Self) -> bool {
        self.low.cmplt(other.high).all() && other.low.cmplt(self.high).all()
    }

    fn of(placed: &Placed, bleed: f64) -> Self {
        Self { low: placed.at - bleed, high: placed.at + placed.size + bleed }
    }

    /// Where a print's words stand: the print seen upright, a line below or above it and its bleed.
    fn of_label(placed: &Placed, bleed: f64, label: Label) -> Self {
        let Self { low, high } = Self::of(placed, bleed);
        let below = match label {
            Label::Foot => !placed.turned,
            Label::Head => placed.turned,
        };
        match (placed.turned, below) {
            (false, true) => Self { low: DVec2::new(low.x, high.y), high: high + DVec2::Y * LABEL },
            (false, false) => Self { low: low - DVec2::Y * LABEL, high: DVec2::new(high.x, low.y) },
            // Turned: the foot is at the left, the head at the right.
            (true, false) => Self { low: low - DVec2::X * LABEL, high: DVec2::new(low.x, high.y) },
            (true, true) => Self { low: DVec2::new(high.x, low.y), high: high + DVec2::X * LABEL },
        }
    }
}

fn bleed_of(placed: &Placed, prints: &[(usize, &Print)]) -> f64 {
    prints.iter().find(|(number, _)| *number == placed.print).map_or(0.0, |(_, print)| print.bleed)
}

/// Gives every print the side on which its words have room, if there is one.
pub(super) fn label(sheet: &mut PrintedSheet, prints: &[(usize, &Print)]) {
    let (corner, size) = sheet.printable();
    let mut taken: Vec<Area> = sheet.placed.iter().map(|placed| Area::of(placed, bleed_of(placed, prints))).collect();
    for placed in &mut sheet.placed {
        let bleed = bleed_of(placed, prints);
        for label in [Label::Foot, Label::Head] {
            let area = Area::of_label(placed, bleed, label);
            let inside = area.low.cmpge(corner - 0.01).all() && area.high.cmple(corner + size + 0.01).all();
            // Touching is no meeting: rounding to micrometres is taken off.
            let smaller = Area { low: area.low + 0.01, high: area.high - 0.01 };
            if placed.label.is_none() && inside && !taken.iter().any(|other| other.meets(smaller)) {
                placed.label = Some(label);
                taken.push(area);
            }
        }
    }
}

/// A free place for the legend.
pub(super) fn legend(sheet: &PrintedSheet, prints: &[(usize, &Print)]) -> Option<Legend> {
    let corner = sheet.printable().0;
    // Clear of crop marks.
    let gap = Length::mm(3.5);
    let areas = sheet.placed.iter().flat_map(|placed| {
        let bleed = bleed_of(placed, prints);
        let label = placed.label.map(|label| Area::of_label(placed, bleed, label));
        [Some(Area::of(placed, bleed)), label].into_iter().flatten()
    });
    let whole = |mm: f64| micrometres(Length::mm(mm));
    let taken: Vec<Rect> = areas
        .map(|Area { low, high }| Rect {
            x: whole(low.x - corner.x),
            y: whole(low.y - corner.y),
            width: whole(high.x - low.x),
            height: whole(high.y - low.y),
        })
        .collect();
    let item = Item { width: whole(LEGEND.x), height: whole(LEGEND.y), may_turn: true };
    let space = Space { size: sheet.sheet.printable.map(micrometres), gap: micrometres(gap), reserved: None };
    let (at, turned) = room(&space, &taken, &item)?;
    Some(Legend { at: corner + DVec2::new(at.x as f64, at.y as f64) / 1_000.0, turned })
}

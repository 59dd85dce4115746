//! Crop marks: short lines on the edges of the cut, drawn outside it, so that a ruler can be laid along them.

use glam::DVec2;

use super::lie::Lie;
use crate::packs::pdf::{INK, Page, Pen};
use crate::sheets::{Print, PrintedSheet};

/// Between what is printed and a mark, mm.
const OFF: f64 = 0.7;
/// Longest mark, mm.
const LONGEST: f64 = 2.6;
/// A mark shorter than this helps nobody, mm.
const SHORTEST: f64 = 0.4;

/// Draws the marks of one print. Left out is what the printer does not reach and what would cross words.
pub(super) fn set(page: &mut Page, sheet: &PrintedSheet, (lie, print): (&Lie, &Print), clear: &[[DVec2; 2]]) {
    let length = LONGEST.min(sheet.sheet.gap.as_mm() - 2.0 * OFF);
    if length < SHORTEST {
        return;
    }
    let (corner, size) = sheet.printable();
    let reached = |at: DVec2| at.cmpge(corner - 0.01).all() && at.cmple(corner + size + 0.01).all();
    let crosses = |[from, to]: [DVec2; 2]| {
        let (low, high) = (from.min(to), from.max(to));
        clear.iter().any(|[area_low, area_high]| low.cmple(*area_high).all() && area_low.cmple(high).all())
    };
    let [near, far] = [print.bleed + OFF, print.bleed + OFF + length];
    let foot = lie.at + lie.size;
    for (x, out_x) in [(lie.at.x, -1.0), (foot.x, 1.0)] {
        for (y, out_y) in [(lie.at.y, -1.0), (foot.y, 1.0)] {
            let at = DVec2::new(x, y);
            for out in [DVec2::X * out_x, DVec2::Y * out_y] {
                let mark = [at + out * near, at + out * far];
                if reached(mark[1]) && !crosses(mark) {
                    page.line(mark[0], mark[1], Pen::solid(0.15, INK));
                }
            }
        }
    }
}

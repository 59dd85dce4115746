//! What is drawn over a picture of this cake: its seams and the sizes that matter.

use glam::DVec3;

use super::overlay::{Mark, Side};
use super::places::tape_words;
use super::sight::Sight;
use crate::cake::{Cake, CakeTier};
use crate::design::model::CourseKind;
use crate::measure::{Length, show_length};
use crate::wraps::WrapPlan;

/// A seam line lies this far before the print, mm, so that the print does not hide it.
const BEFORE: f64 = 0.4;

/// Every seam of the cake: of wraps by number, of bands and ropes by name.
#[must_use]
pub fn seam_marks(cake: &Cake, plans: &[WrapPlan], sight: &Sight) -> Vec<Mark> {
    let mut marks = Vec::new();
    for (index, tier) in cake.tiers.iter().enumerate() {
        let around = tier.outline.perimeter();
        let words = |along: f64| tape_words(along, around, cake.design.unit);
        let mut mark = |label: String, along: f64, (bottom, top, outer): (f64, f64, f64)| {
            let path = [bottom, top].map(|up| on_side(tier, along, (up, outer + BEFORE)));
            marks.push(Mark::seam(label, &path, |place| !sight.sees(place)));
        };
        for (number, course) in tier.courses.iter().enumerate() {
            let line = (course.bottom, course.top, course.outer);
            let plan = plans.iter().find(|plan| plan.tier == index && plan.course == number);
            for (count, seam) in plan.iter().flat_map(|plan| &plan.seams).enumerate() {
                let pinned = if seam.pinned { ", pinned" } else { "" };
                mark(format!("{} seam {} · {}{pinned}", course.name, count + 1, words(seam.along)), seam.along, line);
            }
            let ends = matches!(course.kind, CourseKind::Band { .. } | CourseKind::Rope { .. });
            if let Some(along) = course.seam(&tier.outline).filter(|_| ends) {
                mark(format!("{} · ends meet {}", course.name, words(along)), along, line);
            }
        }
    }
    marks
}

/// The sizes that matter: each tier's height and width, the height over everything, the board.
#[must_use]
pub fn size_marks(cake: &Cake) -> Vec<Mark> {
    let says = |length: Length| show_length(length, cake.design.unit);
    let mut marks: Vec<Mark> = cake
        .tiers
        .iter()
        .map(|tier| {
            let up = [0.0, tier.height.as_mm()].map(|up| tier.pose().transform_point3(DVec3::Y * up));
            Mark::size(format!("{} high", says(tier.height)), up, Side::Right)
        })
        .collect();
    if let Some((low, high)) = widest(cake) {
        marks.push(Mark::size(format!("{} across", says(Length::mm(high.x - low.x))), [low, high], Side::Below));
    }
    let (low, high) = crate::cake::extent::overall(cake);
    let whole = [DVec3::Y * low.y, DVec3::Y * high.y];
    marks.push(Mark::size(format!("{} over all", says(Length::mm(high.y - low.y))), whole, Side::Left));
    let board = [DVec3::X * low.x, DVec3::X * high.x].map(|end| end + DVec3::Y * low.y);
    marks.push(Mark::size(format!("{} with the board", says(Length::mm(high.x - low.x))), board, Side::Below));
    marks
}

/// The left and right end of the lowest tier, at its foot.
fn widest(cake: &Cake) -> Option<(DVec3, DVec3)> {
    let tier = cake.tiers.first()?;
    let places = tier.outline.flat(0.5).into_iter().map(|at| tier.pose().transform_point3(DVec3::new(at.x, 0.0, at.y)));
    let (low, high) =
        places.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at.x), high.max(at.x)));
    let foot = tier.foot.as_mm();
    Some((DVec3::new(low, foot, tier.at.y), DVec3::new(high, foot, tier.at.y)))
}

/// A place of a side in the cake's frame: a tape reading, mm up and mm out.
fn on_side(tier: &CakeTier, along: f64, (up, out): (f64, f64)) -> DVec3 {
    let spot = tier.outline.at(along);
    let at = spot.point + spot.outward * out;
    tier.pose().transform_point3(DVec3::new(at.x, up, at.y))
}

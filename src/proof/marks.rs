//! What is drawn over a picture of this cake: its seams and the sizes that matter.

use glam::DVec3;

use super::overlay::{Mark, Side};
use super::sight::Sight;
use super::view::Camera;
use crate::cake::extent::overall;
use crate::cake::{Cake, CakeTier};
use crate::design::model::TierShape;
use crate::measure::{Length, Unit, show_length, tape_reading};
use crate::wraps::{End, Join, WrapPlan, exposure_words, joins};

/// A seam line lies this far before the print, mm, so that the print does not hide it.
const BEFORE: f64 = 0.4;

/// A seam of the cake as a line on its side.
#[derive(Clone, Debug, PartialEq)]
pub struct SeamLine {
    /// Where it is, and how much of it is seen.
    pub join: Join,
    /// Which it is: `waves seam 1`, `lid ends`.
    pub name: String,
    /// From its lower to its upper end, mm, in the cake's frame, just before the side.
    pub path: [DVec3; 2],
}

/// Every seam of the cake: of wraps by number, of bands and ropes by name.
#[must_use]
pub fn seam_lines(cake: &Cake, (plans, ends): (&[WrapPlan], &[End])) -> Vec<SeamLine> {
    let line = |join: Join| {
        let tier = cake.tiers.get(join.tier)?;
        let course = tier.courses.get(join.course)?;
        let path = [course.bottom, course.top].map(|up| on_side(tier, join.along, (up, course.outer + BEFORE)));
        Some(SeamLine { join, name: join.name(&course.name), path })
    };
    joins(plans, ends).into_iter().filter_map(line).collect()
}

/// Every seam, each with its place and how well it is hidden from the customer, in words.
#[must_use]
pub fn seam_marks(cake: &Cake, made: (&[WrapPlan], &[End]), sight: &Sight) -> Vec<Mark> {
    let mark = |SeamLine { join, name, path }: SeamLine| {
        let around = cake.tiers.get(join.tier).map_or(0.0, |tier| tier.outline.perimeter());
        let words = seam_words((join.along, join.exposure), around, cake.design.unit);
        Mark::seam(format!("{name}{} · {words}", join.pinned()), &path, |place| !sight.sees(place))
    };
    seam_lines(cake, made).into_iter().map(mark).collect()
}

/// Where a seam lies on a tape of length `around` and how well it is hidden, in words: `4 1/2 in right, in sight`.
#[must_use]
pub fn seam_words((along, exposure): (f64, f64), around: f64, unit: Unit) -> String {
    let seen = exposure_words(exposure, along, around);
    match tape_reading(along, around, unit) {
        // It need not be told twice.
        reading if reading == "back" && seen == "at the back" => seen.to_owned(),
        reading => format!("{reading}, {seen}"),
    }
}

/// The sizes that matter, seen with a camera: each tier's height and width, the height over everything.
#[must_use]
pub fn size_marks(cake: &Cake, camera: &Camera) -> Vec<Mark> {
    let says = |length: Length| show_length(length, cake.design.unit);
    let (right, _) = camera.direction.axes();
    let mut marks = Vec::new();
    for tier in &cake.tiers {
        let beside = right * tier.outline.reach();
        let foot = tier.pose().translation;
        let up = [foot, foot + DVec3::Y * tier.height.as_mm()].map(|place| place + beside);
        marks.push(Mark::size(format!("{} high", says(tier.height)), up, Side::Right));
    }
    marks.extend(cake.tiers.first().map(|tier| width_mark(tier, right, cake.design.unit)));
    let (low, high) = overall(cake);
    let beside = right * -cake.board.outline.reach();
    let whole = [DVec3::Y * low.y, DVec3::Y * high.y].map(|place| place + beside);
    marks.push(Mark::size(format!("{} over all", says(Length::mm(high.y - low.y))), whole, Side::Left));
    marks
}

/// The lowest tier's width at its foot: across for a round one from any side, else along the side that is faced.
fn width_mark(tier: &CakeTier, right: DVec3, unit: Unit) -> Mark {
    let (low, high) = tier.outline.bounds();
    let pose = tier.pose();
    let from_front = pose.matrix3.inverse() * right;
    let (axis, length) = match tier.shape {
        TierShape::Round => (from_front, tier.across()),
        _ if from_front.x.abs() >= from_front.z.abs() => (DVec3::X * from_front.x.signum(), Length::mm(high.x - low.x)),
        _ => (DVec3::Z * from_front.z.signum(), Length::mm(high.y - low.y)),
    };
    let middle = DVec3::new(low.x + high.x, 0.0, low.y + high.y) / 2.0;
    let end = |way: f64| pose.transform_point3(middle + axis * (way * length.as_mm() / 2.0));
    Mark::size(format!("{} across", show_length(length, unit)), [end(-1.0), end(1.0)], Side::Below)
}

/// A place of a side in the cake's frame: a tape reading, mm up and mm out.
fn on_side(tier: &CakeTier, along: f64, (up, out): (f64, f64)) -> DVec3 {
    let spot = tier.outline.at(along);
    let at = spot.point + spot.outward * out;
    tier.pose().transform_point3(DVec3::new(at.x, up, at.y))
}

//! One wrap, planned: its printed length, its repeat, its strips and seams, and what lies beneath it.

use glam::DVec2;

use super::exposure::Onlookers;
use super::face::{Face, Layout, layout};
use super::judge::judge;
use super::lay::{Laid, On};
use super::mismatch::settle;
use super::planner::{Cutting, FULL_VIEW, Lattice, best};
use super::repeat::Repeat;
use super::under::{UnderStrip, under_strip};
use super::way::{Way, Ways, ways};
use crate::cake::Cake;
use crate::design::model::{CourseKind, Sheet};
use crate::findings::Finding;
use crate::measure::Length;

/// One printed strip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip {
    /// Tape reading of its left seam, mm.
    pub from: f64,
    /// Tape reading of its right seam; beyond half the tape where the strip runs over the back.
    pub to: f64,
    /// Printed width, mm: with the overlap by which it runs under the next one, where there is a next one.
    pub width: f64,
    /// Printed height, mm.
    pub height: f64,
}

/// One seam.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seam {
    /// Tape reading, mm.
    pub along: f64,
    /// The share of sight lines from which it is seen, 0 to 1.
    pub exposure: f64,
    /// Fixed by the person.
    pub pinned: bool,
    /// How ill the art meets itself across it, ΔE00 (see [`super::mismatch`]); `None` without art.
    pub mismatch: Option<f64>,
}

/// A wrap, planned.
#[derive(Clone, Debug, PartialEq)]
pub struct WrapPlan {
    /// Which tier, from the board up.
    pub tier: usize,
    /// Which course of it, from the foot up.
    pub course: usize,
    /// Printed length at the sheet's neutral line, without overlaps, mm.
    pub length: f64,
    /// Printed height, mm.
    pub height: f64,
    /// The strip of paste beneath.
    pub under: Option<UnderStrip>,
    /// The closed repeat.
    pub repeat: Option<Repeat>,
    /// From left to right.
    pub strips: Vec<Strip>,
    /// From left to right.
    pub seams: Vec<Seam>,
    /// Cost of the seams and strips; a seam in full view costs 1.
    pub cost: f64,
    /// Pixels to the inch of the printed art; `None` for drawings, which have no pixels.
    pub ppi: Option<f64>,
    /// Where the two ends of a single picture meet (tape reading, mm), and their mismatch; `None` where none meet.
    pub ends: Option<(f64, f64)>,
    /// Where the art lies on the face.
    pub layout: Layout,
    /// The face the art lies on.
    pub face: Face,
}

/// A wrap laid out and cut, with what is needed to judge it.
#[derive(Debug)]
pub(super) struct Planned {
    pub plan: WrapPlan,
    pub laid: Laid,
    pub lattice: Lattice,
    pub cutting: Cutting,
    pub ways: Ways,
}

/// Plans every wrap of the cake, with what is wrong with each.
#[must_use]
pub fn plan(cake: &Cake) -> (Vec<WrapPlan>, Vec<Finding>) {
    let mut courses = cake.tiers.iter().flat_map(|tier| &tier.courses);
    if courses.any(|course| matches!(course.kind, CourseKind::Wrap(_))) {
        plan_before(cake, &Onlookers::new(cake))
    } else {
        (Vec::new(), Vec::new())
    }
}

/// The same before onlookers who were made earlier.
#[must_use]
pub fn plan_before(cake: &Cake, onlookers: &Onlookers<'_>) -> (Vec<WrapPlan>, Vec<Finding>) {
    let mut plans = Vec::new();
    let mut findings = Vec::new();
    for (tier_index, tier) in cake.tiers.iter().enumerate() {
        for (course_index, course) in tier.courses.iter().enumerate() {
            if let CourseKind::Wrap(wrap) = &course.kind {
                let on = (tier, course, &**wrap);
                let planned = plan_one((cake, onlookers), on, (tier_index, course_index));
                findings.extend(judge(&planned, on, cake.design.unit));
                plans.push(planned.plan);
            }
        }
    }
    (plans, findings)
}

fn plan_one(
    (cake, onlookers): (&Cake, &Onlookers<'_>),
    on: On<'_>,
    (tier_index, course_index): (usize, usize),
) -> Planned {
    let (_, course, wrap) = on;
    let sight = onlookers.course(tier_index, course_index);
    let exposures =
        |along: &[f64]| sight.as_ref().map_or_else(|| vec![1.0; along.len()], |sight| sight.exposures(along));
    let laid = Laid::new(on, &cake.design, &exposures);
    let sheet = cake.design.sheet(wrap.sheet.as_deref());
    let ways = ways(&Sheet { turn: sheet.turn && wrap.turn, ..sheet }, course.height());
    let (lattice, cutting) = cut(&laid, ways);
    let mut seams = seams(&laid, &cutting);
    let (mut layout, mut repeat, face) = printed(cake, on);
    let art = cake.shelf.get(&wrap.art);
    let on_face: Vec<f64> = laid.chosen(&cutting).map(|spot| spot.run).collect();
    let mut ends = None;
    if let Some(settled) = art.map(|art| settle(art, wrap.fit, (layout, &face), &on_face)) {
        layout = settled.layout;
        repeat = repeat.map(|repeat| Repeat { shift: settled.shift, ..repeat });
        ends = settled.ends.map(|(x, mismatch)| (laid.reading(laid.along(x)), mismatch));
        for (seam, mismatch) in seams.iter_mut().zip(settled.mismatches) {
            seam.mismatch = Some(mismatch);
        }
    }
    let ppi = art.and_then(|art| art.pixels()).map(|(width, height)| {
        let per_mm = (f64::from(width) / layout.whole.x).min(f64::from(height) / layout.whole.y);
        per_mm * crate::measure::MM_PER_INCH
    });
    let plan = WrapPlan {
        tier: tier_index,
        course: course_index,
        length: laid.length,
        height: laid.height,
        under: under_strip(on, (&laid, &seams), &exposures),
        repeat,
        strips: strips(&laid, &cutting),
        cost: cutting.cost.sum as f64 / FULL_VIEW
            - laid.weights.waste * laid.sheets(sheet.printable.map(Length::as_mm)),
        seams: seams.into_iter().map(|seam| Seam { along: laid.reading(seam.along), ..seam }).collect(),
        ppi,
        ends,
        layout,
        face,
    };
    Planned { plan, laid, lattice, cutting, ways }
}

/// What is printed, its repeat closed, on the face that it is printed on.
fn printed(cake: &Cake, (_, course, wrap): On<'_>) -> (Layout, Option<Repeat>, Face) {
    let (from, to) = course.span;
    let length = course.length.as_mm();
    // Printed millimetres to one millimetre of the tape.
    let stretch = if to > from { length / (to - from) } else { 1.0 };
    let face = Face {
        size: DVec2::new(length.max(0.1), course.height().max(0.1)),
        focus_x: (wrap.focus_along.as_mm() - from) * stretch,
        closed: wrap.stretch.is_none(),
    };
    let (layout, repeat) = layout(wrap, cake.shelf.get(&wrap.art).map_or(1.0, |art| art.proportion()), face);
    (layout, repeat, face)
}

/// The best cutting over the ways in which the strips may lie on their sheet; along its longer side where both are equal.
fn cut(laid: &Laid, ways: Ways) -> (Lattice, Cutting) {
    let cut = |way: Way| {
        let lattice = laid.lattice(way);
        let cutting = best(&lattice).unwrap_or_default();
        (lattice, cutting)
    };
    let first = cut(ways.ways.0);
    match ways.ways.1.map(cut) {
        Some(second) if second.1.cost < first.1.cost => second,
        _ => first,
    }
}

/// The seams by the course's own readings, from left to right.
fn seams(laid: &Laid, cutting: &Cutting) -> Vec<Seam> {
    laid.chosen(cutting)
        .map(|spot| Seam { along: spot.along, exposure: spot.exposure, pinned: spot.pinned, mismatch: None })
        .collect()
}

/// The strips between seams: from each to the next, round the back, or from end to end of a stretch.
fn strips(laid: &Laid, cutting: &Cutting) -> Vec<Strip> {
    let seams = laid.chosen(cutting).map(|spot| (spot.along, spot.run));
    let ends: Vec<(f64, f64)> = if laid.closed {
        let round = seams.clone().next().map(|(along, run)| (along + laid.around(), run + laid.length));
        seams.chain(round).collect()
    } else {
        let spots = [laid.spots.first(), laid.spots.last()].map(|spot| spot.map(|spot| (spot.along, spot.run)));
        let [left, right] = spots;
        left.into_iter().chain(seams).chain(right).collect()
    };
    let count = ends.len().saturating_sub(1);
    let overlap = |number: usize| if !laid.closed && number + 1 == count { 0.0 } else { laid.overlap };
    let neighbours = ends.iter().zip(ends.iter().skip(1)).enumerate();
    neighbours
        .map(|(number, (left, right))| Strip {
            from: left.0,
            to: right.0,
            width: right.1 - left.1 + overlap(number),
            height: laid.height,
        })
        .collect()
}

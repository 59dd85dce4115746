//! One wrap, planned: its printed length, its repeat, its strips and seams, and what is wrong with them.

use glam::DVec2;

use super::face::{Face, Layout, layout};
use super::mismatch::{ends_differ, settle};
use super::repeat::Repeat;
use super::strips::{Cut, SheetYield, seams, sheet_yield};
use crate::cake::{Cake, CakeCourse, CakeTier, lines_out};
use crate::design::model::{CourseKind, Wrap};
use crate::findings::{Code, Finding};
use crate::measure::{Length, Unit, show_length};

/// Below this many pixels to the inch a print looks soft (common practice, no source).
const COARSE_PPI: f64 = 150.0;
/// Below this many, single pixels are seen at arm's length (common practice, no source).
const ROUGH_PPI: f64 = 100.0;
/// A repeat changed by more than this share is worth saying.
const REPEAT_CHANGE: f64 = 0.05;

/// One printed strip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip {
    /// Tape reading of its left seam, mm.
    pub from: f64,
    /// Tape reading of its right seam; beyond half the tape where the strip runs over the back.
    pub to: f64,
    /// Printed width with its overlap, mm.
    pub width: f64,
    /// Printed height, mm.
    pub height: f64,
}

/// One seam.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seam {
    /// Tape reading, mm.
    pub along: f64,
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
    /// Length of the strip of paste beneath, mm.
    pub under_length: Option<f64>,
    /// The closed repeat.
    pub repeat: Option<Repeat>,
    /// From left to right.
    pub strips: Vec<Strip>,
    /// From left to right.
    pub seams: Vec<Seam>,
    /// Pixels to the inch of the printed art; `None` for drawings, which have no pixels.
    pub ppi: Option<f64>,
    /// Where the two ends of a single picture meet (tape reading, mm), and their mismatch; `None` where none meet.
    pub ends: Option<(f64, f64)>,
    /// Where the art lies on the face.
    pub layout: Layout,
    /// The face the art lies on.
    pub face: Face,
}

/// Plans every wrap of the cake, with what is wrong with each.
#[must_use]
pub fn plan(cake: &Cake) -> (Vec<WrapPlan>, Vec<Finding>) {
    let mut plans = Vec::new();
    let mut findings = Vec::new();
    for (tier_index, tier) in cake.tiers.iter().enumerate() {
        for (course_index, course) in tier.courses.iter().enumerate() {
            if let CourseKind::Wrap(wrap) = &course.kind {
                let planned = plan_one(cake, (tier, course, wrap), (tier_index, course_index));
                findings.extend(judge(&planned.0, &planned.1, (tier, course, wrap), cake.design.unit));
                plans.push(planned.0);
            }
        }
    }
    (plans, findings)
}

type On<'a> = (&'a CakeTier, &'a CakeCourse, &'a Wrap);

fn plan_one(
    cake: &Cake,
    (tier, course, wrap): On<'_>,
    (tier_index, course_index): (usize, usize),
) -> (WrapPlan, SheetYield) {
    let (from, to) = course.span;
    let length = course.length.as_mm();
    let closed = wrap.stretch.is_none();
    // Printed millimetres to one millimetre of the tape.
    let stretch = if to > from { length / (to - from) } else { 1.0 };
    let focus_along = wrap.focus_along.as_mm();
    let face = Face {
        size: DVec2::new(length.max(0.1), course.height().max(0.1)),
        focus_x: (focus_along - from) * stretch,
        closed,
    };
    let art = cake.shelf.get(&wrap.art);
    let (mut layout, mut repeat) = layout(wrap, art.map_or(1.0, |art| art.proportion()), face);
    let found = sheet_yield(&cake.design.sheet(wrap.sheet.as_deref()), course.height());
    let centre = wrap.join_free.map_or(0.0, |free| free.centre.as_mm());
    let longest = (found.longest - wrap.overlap.as_mm()).max(1.0) / stretch;
    let cut = Cut { span: (from, to), closed, longest, centre };
    let pins: Vec<f64> = wrap.pins.iter().map(|pin| pin.as_mm()).collect();
    let mut seams: Vec<Seam> =
        seams(&cut, &pins).into_iter().map(|(along, pinned)| Seam { along, pinned, mismatch: None }).collect();
    let on_face: Vec<f64> = seams.iter().map(|seam| (seam.along - from) * stretch).collect();
    let settled = art.map(|art| settle(art, wrap.fit, (layout, &face), &on_face));
    let mut ends = None;
    if let Some(settled) = settled {
        layout = settled.layout;
        repeat = repeat.map(|repeat| Repeat { shift: settled.shift, ..repeat });
        ends = settled.ends.map(|(x, mismatch)| (tier.outline.reading(from + x / stretch), mismatch));
        for (seam, mismatch) in seams.iter_mut().zip(settled.mismatches) {
            seam.mismatch = Some(mismatch);
        }
    }
    let out = lines_out(&course.kind).0;
    let strips = strips(&seams, &cut, |from, to| Strip {
        from,
        to,
        width: tier.outline.run((from, to), out) + wrap.overlap.as_mm(),
        height: course.height(),
    });
    let under = wrap.under.as_ref().map(|under| tier.outline.run(course.span, under.paste.as_mm() / 2.0));
    let ppi = art.and_then(|art| art.pixels()).map(|(width, height)| {
        let per_mm = (f64::from(width) / layout.whole.x).min(f64::from(height) / layout.whole.y);
        per_mm * crate::measure::MM_PER_INCH
    });
    let plan = WrapPlan {
        tier: tier_index,
        course: course_index,
        length,
        height: course.height(),
        under_length: under,
        repeat,
        strips,
        seams,
        ppi,
        ends,
        layout,
        face,
    };
    (plan, found)
}

/// The strips between seams: from each to the next, round the back, or from end to end of a stretch.
fn strips(seams: &[Seam], cut: &Cut, make: impl Fn(f64, f64) -> Strip) -> Vec<Strip> {
    let (from, to) = cut.span;
    let readings = seams.iter().map(|seam| seam.along);
    let ends: Vec<f64> = if cut.closed {
        let round = seams.first().map(|seam| seam.along + (to - from));
        readings.chain(round).collect()
    } else {
        [from].into_iter().chain(readings).chain([to]).collect()
    };
    ends.iter().zip(ends.iter().skip(1)).map(|(&left, &right)| make(left, right)).collect()
}

fn judge(plan: &WrapPlan, found: &SheetYield, (tier, course, wrap): On<'_>, unit: Unit) -> Vec<Finding> {
    let place = format!("tier '{}', course '{}'", tier.name, course.name);
    let says = |mm: f64| show_length(Length::mm(mm), unit);
    let mut findings = Vec::new();
    if !found.high_enough {
        let sentence =
            format!("the print is {} high, the sheet prints less than that either way round", says(plan.height));
        findings.push(Finding::new(
            Code::PrintTooHigh,
            &place,
            sentence,
            "make the course lower, or choose a larger sheet",
        ));
    }
    if let Some(repeat) = plan.repeat.filter(|repeat| (repeat.scale - 1.0).abs() > REPEAT_CHANGE) {
        let sentence = format!(
            "closing the repeat {} times round changes it by {:+.1} %, to {}",
            repeat.count,
            (repeat.scale - 1.0) * 100.0,
            says(repeat.width)
        );
        let mend = format!("ask for a repeat of {}", says(repeat.width));
        findings.push(Finding::new(Code::RepeatStretched, &place, sentence, mend));
    }
    findings.extend(plan.ppi.and_then(|ppi| resolution(ppi, &place)));
    findings.extend(plan.ends.and_then(|ends| ends_differ(ends, tier.outline.perimeter(), &place, unit)));
    findings.extend(joins_in_free_stretch(plan, tier, wrap, (&place, unit)));
    if wrap.stretch.is_none() {
        let short = plan.length - tier.pan.perimeter();
        let sentence = format!(
            "a strip cut to the pan's {} round would come out {} short",
            says(tier.pan.perimeter()),
            says(short)
        );
        let mend = format!("cut to {}, as measured here", says(plan.length));
        let finding = Finding::new(Code::PanIsNotCake, &place, sentence, mend).by(Length::mm(short));
        findings.extend((short > 1.0).then_some(finding));
    }
    findings
}

/// What is to be said of a print with so many pixels to the inch.
#[must_use]
pub fn resolution(ppi: f64, place: &str) -> Option<Finding> {
    let mend = "use a larger picture, a drawing, or print it smaller";
    if ppi < ROUGH_PPI {
        let sentence = format!("it prints at {ppi:.0} pixels to the inch: edges will look like steps at arm's length");
        return Some(Finding::new(Code::PrintRough, place, sentence, mend));
    }
    let sentence = format!("it prints at {ppi:.0} pixels to the inch: it will look soft close by");
    (ppi < COARSE_PPI).then(|| Finding::new(Code::PrintCoarse, place, sentence, mend))
}

fn joins_in_free_stretch(plan: &WrapPlan, tier: &CakeTier, wrap: &Wrap, (place, unit): (&str, Unit)) -> Vec<Finding> {
    let Some(free) = wrap.join_free else { return Vec::new() };
    let (centre, half) = (free.centre.as_mm(), free.width.as_mm() / 2.0);
    let inside = plan.seams.iter().filter_map(|seam| {
        let by = half - tier.outline.reading(seam.along - centre).abs();
        (by > 0.01).then(|| {
            let sentence = format!(
                "a seam at {} lies {} inside the stretch without joins",
                show_length(Length::mm(seam.along), unit),
                show_length(Length::mm(by), unit)
            );
            let mend = "make the stretch narrower, pin a seam elsewhere, or choose a longer sheet";
            Finding::new(Code::JoinInFreeStretch, place, sentence, mend).by(Length::mm(by))
        })
    });
    inside.collect()
}

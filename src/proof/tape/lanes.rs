//! What belongs to one print, in lanes under the ruler: its strips, the strip of paste beneath, how much a seam would be seen.

use glam::DVec2;

use super::MARGIN;
use super::side::Side;
use crate::art::Stretch;
use crate::measure::{Length, show_length};
use crate::proof::chart::{Align, Chart, Hand};
use crate::proof::ink::{ACCENT, INK, MUTED, PAPER, RULE, TONE};
use crate::proof::marks::seam_words;
use crate::wraps::{CourseSight, WrapPlan};

const STRIP: f64 = 6.0;
const CURVE: f64 = 13.0;
const GAP: f64 = 2.0;
/// Places at which the exposure is asked, mm of the page apart.
const STEP: f64 = 0.5;

/// Height of the lanes of a print, mm.
pub(super) fn height(plan: &WrapPlan) -> f64 {
    let strips = if plan.under.is_some() { 2.0 } else { 1.0 };
    GAP + strips * (STRIP + GAP) + CURVE + GAP * 1.5
}

/// Draws the lanes of a print from `top` (page y) down.
pub(super) fn draw(chart: &mut Chart, side: &Side, (plan, sight): (&WrapPlan, &CourseSight<'_>), top: f64) {
    let Some(course) = side.tier.courses.get(plan.course) else { return };
    let mut top = top + GAP;
    title(chart, side, top + STRIP * 0.66, (&course.name, "strips"));
    for (number, strip) in plan.strips.iter().enumerate() {
        let [width, height] = [strip.width, strip.height].map(|mm| show_length(Length::mm(mm), side.unit));
        bar(chart, side, ((strip.from, strip.to), top), (&format!("{}", number + 1), &format!("{width} × {height}")));
    }
    top += STRIP + GAP;
    if let Some(under) = &plan.under {
        title(chart, side, top + STRIP * 0.66, (&course.name, "paste beneath"));
        // Cut in one length, from its own seam round to itself.
        let ends = under.seam.map_or(course.span, |seam| (seam.along, seam.along + side.around()));
        let mut says = [under.length, under.height].map(|mm| show_length(Length::mm(mm), side.unit)).join(" × ");
        if let Some(seam) = under.seam {
            let words = seam_words((seam.along, seam.exposure), side.around(), side.unit);
            says += &format!(", its ends meet {words}");
        }
        bar(chart, side, (ends, top), ("", &says));
        top += STRIP + GAP;
    }
    curve(chart, side, (plan, sight), (top, course.span));
}

fn title(chart: &mut Chart, side: &Side, baseline: f64, (name, what): (&str, &str)) {
    let right = DVec2::new(side.ends().0 - 2.0, baseline);
    chart.text((right, Align::Right), what, Hand::text(2.5).coloured(MUTED));
    let before = right - DVec2::X * (Hand::text(2.5).width(what) + 1.2);
    let hand = Hand::strong(2.5);
    chart.text((before, Align::Right), hand.fitted(name, before.x - MARGIN), hand);
}

/// A strip as a bar from end to end; where it runs over the back it is open there. Its words stand in its longest part.
fn bar(chart: &mut Chart, side: &Side, ((from, to), top): ((f64, f64), f64), (number, words): (&str, &str)) {
    let parts = side.parts((from, to));
    let longest = parts.iter().map(|part| part.to - part.from).fold(0.0, f64::max);
    let mut told = false;
    for part in &parts {
        // The bars of neighbours keep apart, so that the seam shows between them.
        let inset = |goes_on: bool| if goes_on { 0.0 } else { 0.5 };
        let (left, right) =
            (side.x(part.from) + inset(part.goes_on_left()), side.x(part.to) - inset(part.goes_on_right()));
        let (low, high) = (DVec2::new(left, top), DVec2::new(right, top + STRIP));
        chart.block([low, high], TONE);
        let pen = Stretch::solid(0.25, INK);
        for y in [low.y, high.y] {
            chart.line([DVec2::new(low.x, y), DVec2::new(high.x, y)], pen.clone());
        }
        for (x, goes_on) in [(low.x, part.goes_on_left()), (high.x, part.goes_on_right())] {
            let pen =
                if goes_on { Stretch { dashes: vec![0.5, 0.7], ..Stretch::solid(0.2, MUTED) } } else { pen.clone() };
            chart.line([DVec2::new(x, low.y), DVec2::new(x, high.y)], pen);
        }
        let whole = !told && part.to - part.from >= longest - 1e-6;
        told |= whole;
        label(chart, [low, high], if whole { (number, words) } else { (number, "") });
    }
}

/// A number and words in the middle of a bar; of a size that doesn't fit the width alone, or the number alone.
fn label(chart: &mut Chart, [low, high]: [DVec2; 2], (number, words): (&str, &str)) {
    let (strong, plain) = (Hand::strong(3.2), Hand::text(2.5));
    let first = strong.width(number);
    let gap = if number.is_empty() { 0.0 } else { 1.6 };
    let wide = |words: &str| if words.is_empty() { first } else { first + gap + plain.width(words) };
    let shorter = words.split_once(" × ").map_or("", |(width, _)| width);
    let fits = |words: &&str| wide(words) <= high.x - low.x - 1.5;
    let Some(words) = [words, shorter, ""].into_iter().find(fits) else { return };
    let at = DVec2::new((low.x + high.x - wide(words)) / 2.0, high.y - STRIP * 0.31);
    chart.text((at, Align::Left), number, strong);
    chart.text((at + DVec2::X * (first + gap), Align::Left), words, plain);
}

/// How much a seam would be seen at each place: a filled curve, full height where every sight line reaches it.
fn curve(chart: &mut Chart, side: &Side, (plan, sight): (&WrapPlan, &CourseSight<'_>), (top, span): (f64, (f64, f64))) {
    let (left, right) = side.ends();
    let foot = top + CURVE;
    let height = |exposure: f64| foot - exposure.clamp(0.0, 1.0) * (CURVE - 1.0);
    for share in [0.5, 1.0] {
        chart.line([DVec2::new(left, height(share)), DVec2::new(right, height(share))], Stretch::solid(0.12, RULE));
    }
    for part in side.parts(span) {
        let steps = ((part.to - part.from) * side.scale / STEP).ceil().max(1.0) as u32;
        let reading = |n: u32| part.from + (part.to - part.from) * f64::from(n) / f64::from(steps);
        let readings: Vec<f64> = (0..=steps).map(reading).collect();
        let seen = readings.iter().zip(sight.exposures(&readings));
        let line: Vec<DVec2> = seen.map(|(&along, seen)| DVec2::new(side.x(along), height(seen))).collect();
        let ends = [part.to, part.from].map(|along| DVec2::new(side.x(along), foot));
        chart.area(vec![line.iter().copied().chain(ends).collect()], (MUTED, 0.3));
        chart.line(line, Stretch::solid(0.3, INK));
    }
    chart.line([DVec2::new(left, foot), DVec2::new(right, foot)], Stretch::solid(0.3, INK));
    for seam in &plan.seams {
        let exposure = seam.exposure;
        let at = DVec2::new(side.x(seam.along), height(exposure));
        chart.line([at, DVec2::new(at.x, foot)], Stretch { dashes: vec![1.6, 1.0], ..Stretch::solid(0.45, ACCENT) });
        dot(chart, at);
        let says = format!("{} %", (exposure * 100.0).round() as u32);
        let align = if right - at.x < 9.0 { Align::Right } else { Align::Left };
        let aside = if align == Align::Left { 1.4 } else { -1.4 };
        let words = DVec2::new(at.x + aside, (at.y - 0.8).max(top + 2.4).min(foot - 1.0));
        chart.text((words, align), says, Hand::strong(2.4).coloured(ACCENT).on_paper());
    }
    title(chart, side, foot - CURVE / 2.0 + 0.8, ("", "how much a seam is seen"));
    for (share, words) in [(1.0, "all see it"), (0.0, "hidden")] {
        let at = DVec2::new(right + 1.5, height(share) + if share > 0.5 { 1.6 } else { 0.0 });
        chart.text((at, Align::Left), words, Hand::text(2.3).coloured(MUTED));
    }
}

fn dot(chart: &mut Chart, at: DVec2) {
    let ring = |radius: f64| -> Vec<DVec2> {
        (0..20).map(|turn| at + DVec2::from_angle(f64::from(turn) * std::f64::consts::TAU / 20.0) * radius).collect()
    };
    chart.area(vec![ring(1.0)], (PAPER, 1.0));
    chart.area(vec![ring(0.7)], (ACCENT, 1.0));
}

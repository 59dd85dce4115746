//! What is to be said of a planned wrap.

use super::impossible::impossible;
use super::lay::On;
use super::mismatch::ends_differ;
use super::plan::{Planned, WrapPlan};
use super::under::apart;
use crate::cake::CakeTier;
use crate::design::model::Wrap;
use crate::findings::{Code, Finding, Place, Threshold};
use crate::measure::{Length, Unit, show_length};

/// Everything there is to say of a wrap.
pub(super) fn judge(planned: &Planned, (tier, course, wrap): On<'_>, unit: Unit) -> Vec<Finding> {
    let place = Place::course(&tier.name, &course.name);
    let plan = &planned.plan;
    let at = (&place, unit);
    let mut findings = Vec::new();
    findings.extend((!planned.ways.high_enough).then(|| too_high(plan, at)));
    findings.extend(impossible(planned, at));
    findings.extend(repeat_stretched(plan, wrap, at));
    findings.extend(plan.ppi.and_then(|ppi| resolution(ppi, &place)));
    findings.extend(plan.ends.and_then(|ends| ends_differ(ends, tier.outline.perimeter(), &place, unit)));
    findings.extend(pins(planned, wrap, at));
    findings.extend(seams_in_line(planned, at));
    findings.extend(wrap.stretch.is_none().then(|| pan_is_not_cake(plan, tier, at)).flatten());
    findings
}

fn too_high(plan: &WrapPlan, (place, unit): (&Place, Unit)) -> Finding {
    let says = show_length(Length::mm(plan.height), unit);
    let sentence = format!("the print is {says} high, the sheet prints less than that either way round");
    Finding::new(Code::PrintTooHigh, place, sentence, "make the course lower, or choose a larger sheet")
}

fn repeat_stretched(plan: &WrapPlan, wrap: &Wrap, (place, unit): (&Place, Unit)) -> Option<Finding> {
    let repeat = plan.repeat.filter(|repeat| (repeat.scale - 1.0).abs() > Threshold::RepeatChange.value())?;
    let width = show_length(Length::mm(repeat.width), unit);
    let change = (repeat.scale - 1.0) * 100.0;
    let whole = if wrap.stretch.is_none() { "the whole way round" } else { "the whole stretch" };
    let sentence = match repeat.count {
        1 if change < 0.0 => format!("one repeat is wider than {whole}: it is narrowed by {change:+.1} %, to {width}"),
        1 => format!("one repeat takes {whole}, which changes it by {change:+.1} %, to {width}"),
        count => format!("closing the repeat {count} times round changes it by {change:+.1} %, to {width}"),
    };
    Some(Finding::new(Code::RepeatStretched, place, sentence, format!("ask for a repeat of {width}")))
}

/// What is to be said of a print with so many pixels to the inch.
#[must_use]
pub fn resolution(ppi: f64, place: &Place) -> Option<Finding> {
    let mend = "use a larger picture, a drawing, or print it smaller";
    if ppi < Threshold::PrintRough.value() {
        let sentence = format!("it prints at {ppi:.0} pixels to the inch: edges will look like steps at arm's length");
        return Some(Finding::new(Code::PrintRough, place, sentence, mend));
    }
    let sentence = format!("it prints at {ppi:.0} pixels to the inch: it will look soft close by");
    (ppi < Threshold::PrintCoarse.value()).then(|| Finding::new(Code::PrintCoarse, place, sentence, mend))
}

/// Pinned seams against what else the person asked for: they stay, and are said to contradict it.
fn pins(planned: &Planned, wrap: &Wrap, (place, unit): (&Place, Unit)) -> Vec<Finding> {
    let says = |mm: f64| show_length(Length::mm(mm), unit);
    let outside = planned.laid.outside.iter().map(|&pin| {
        let sentence =
            format!("the pin at {} lies outside the stretch that the wrap covers; it is left out", says(pin));
        Finding::new(Code::PinMisplaced, place, sentence, "move the pin into the stretch, or drop it")
    });
    let barred = planned.laid.spots.iter().filter(|spot| spot.pinned && spot.barred);
    let barred = barred.map(|spot| {
        let pin = says(planned.laid.reading(spot.along));
        let mend = format!("drop the pin at {pin}, or end the stretch before it");
        let inside = wrap.join_free.map_or(0.0, |free| {
            free.width.as_mm() / 2.0 - planned.laid.reading(spot.along - free.centre.as_mm()).abs()
        });
        if inside <= 0.01 {
            let sentence =
                format!("the pin at {pin} lies in a stretch where seams are forbidden; the seam stays there");
            return Finding::new(Code::PinMisplaced, place, sentence, mend);
        }
        let sentence = format!("the seam pinned at {pin} lies {} inside the stretch without joins", says(inside));
        Finding::new(Code::JoinInFreeStretch, place, sentence, mend).by(Length::mm(inside))
    });
    outside.chain(barred).collect()
}

/// The person's own seam of the under-strip lies beneath one of the print.
fn seams_in_line(planned: &Planned, (place, unit): (&Place, Unit)) -> Option<Finding> {
    let seam = planned.plan.under?.seam?;
    let apart = apart(&planned.laid, seam.along, &planned.plan.seams);
    let lacking = planned.laid.weights.under_apart - apart;
    (seam.pinned && lacking > 0.01).then(|| {
        let says = |mm: f64| show_length(Length::mm(mm), unit);
        let sentence = format!(
            "the paste beneath is joined {} from a seam of the print: a gap would show through both",
            says(apart)
        );
        let mend =
            format!("keep them {} apart, or leave the seam of the paste out", says(planned.laid.weights.under_apart));
        Finding::new(Code::SeamsInLine, place, sentence, mend).by(Length::mm(lacking))
    })
}

fn pan_is_not_cake(plan: &WrapPlan, tier: &CakeTier, (place, unit): (&Place, Unit)) -> Option<Finding> {
    let says = |mm: f64| show_length(Length::mm(mm), unit);
    let around = tier.pan.perimeter();
    let short = plan.length - around;
    let sentence = format!("a strip cut to the pan's {} round would come out {} short", says(around), says(short));
    let mend = format!("cut to {}, as measured here", says(plan.length));
    (short > 1.0).then(|| Finding::new(Code::PanIsNotCake, place, sentence, mend).by(Length::mm(short)))
}

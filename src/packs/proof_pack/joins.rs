//! Where the joins are, and whether they face away.

use super::ProofInput;
use crate::design::model::CourseKind;
use crate::measure::{Length, tape_words};
use crate::packs::pdf::{Flow, Style};
use crate::packs::words::list;

/// One course's joins.
struct Joins {
    what: String,
    along: Vec<f64>,
    around: f64,
}

/// Sets where every wrap, band, rope and row of pearls is joined.
pub(super) fn set(flow: &mut Flow, input: &ProofInput) {
    let joins: Vec<Joins> = input.facts.tiers.iter().rev().flat_map(|tier| of_tier(input, &tier.name)).collect();
    if joins.is_empty() {
        return;
    }
    flow.section("Where the joins are", 24.0);
    for joined in &joins {
        let places: Vec<String> =
            joined.along.iter().map(|&along| tape_words(along, joined.around, input.design.unit)).collect();
        flow.entry(&format!("{}: {}.", joined.what, list(&places)));
    }
    // Seen from straight ahead, the half of the tape round the back is out of sight.
    let in_sight = |joined: &Joins| joined.along.iter().filter(|along| along.abs() < joined.around / 4.0).count();
    let remark = match joins.iter().map(in_sight).sum::<usize>() {
        0 => "All of them lie in the back half of the cake, away from the front.".to_owned(),
        1 => "One of them lies in the front half of the cake.".to_owned(),
        several => format!("{several} of them lie in the front half of the cake."),
    };
    flow.space(0.6);
    flow.paragraph(&remark, Style::STRONG);
}

/// The joins of one tier, from the top course down.
fn of_tier(input: &ProofInput, name: &str) -> Vec<Joins> {
    let facts = input.facts.tiers.iter().find(|tier| tier.name == name);
    let designed = input.design.tiers.iter().find(|tier| tier.name == name);
    let Some((facts, designed)) = facts.zip(designed) else { return Vec::new() };
    let around = facts.finished.around;
    let of_course = |course: &crate::design::model::Course| {
        let along = match &course.kind {
            CourseKind::Wrap(_) => {
                let wrap = input.facts.wraps.iter().find(|wrap| wrap.tier == name && wrap.course == course.name)?;
                wrap.seams.iter().map(|seam| seam.along).collect()
            }
            CourseKind::Rope { seam, .. } | CourseKind::Pearls { seam, .. } | CourseKind::Band { seam, .. } => {
                vec![seam.along(Length::mm(around)).as_mm()]
            }
            CourseKind::Bare { .. } => return None,
        };
        let what = format!("{name}, {}", course.name);
        (!along.is_empty()).then_some(Joins { what, along, around })
    };
    designed.courses.iter().rev().filter_map(of_course).collect()
}

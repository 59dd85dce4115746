//! Where the joins are, and whether they face away.

use super::ProofInput;
use super::section::{Section, Tone};
use crate::design::model::{Course, CourseKind};
use crate::measure::{Length, Unit, tape_words};
use crate::packs::words::list;
use crate::proof::facts::SeamFacts;
use crate::wraps::exposure_words;

/// One course's joins.
struct Joins {
    what: String,
    joins: Vec<Join>,
    around: f64,
}

/// One of them.
struct Join {
    along: f64,
    /// The share of sight lines from which it is seen, where that was worked out.
    exposure: Option<f64>,
}

/// Where every wrap, band, rope and row of pearls is joined.
pub(super) fn section(input: &ProofInput) -> Option<Section> {
    let joins: Vec<Joins> = input.facts.tiers.iter().rev().flat_map(|tier| of_tier(input, &tier.name)).collect();
    if joins.is_empty() {
        return None;
    }
    let mut section = Section::new("Where the joins are");
    for joined in &joins {
        let places: Vec<String> =
            joined.joins.iter().map(|join| join.words(joined.around, input.design.unit)).collect();
        section.entry(format!("{}: {}.", joined.what, list(&places)));
    }
    // Seen from straight ahead, the half of the tape round the back is out of sight.
    let all = || joins.iter().flat_map(|joined| joined.joins.iter().map(move |join| (join, joined.around)));
    let in_front = all().filter(|(join, around)| join.along.abs() < around / 4.0).count();
    let hidden = all().filter(|(join, around)| join.along.abs() < around / 4.0 && join.is_hidden(*around)).count();
    let remark = match (in_front - hidden, hidden) {
        (0, 0) => "All of them lie in the back half of the cake, away from the front.".to_owned(),
        (0, _) => "Those in the front half of the cake are hidden behind decorations.".to_owned(),
        (1, _) => "One of them is seen in the front half of the cake.".to_owned(),
        (several, _) => format!("{several} of them are seen in the front half of the cake."),
    };
    section.text(Tone::Strong, remark);
    Some(section)
}

impl Join {
    /// `4 1/4 in to the right of front centre, hidden`; the back needs no further word.
    fn words(&self, around: f64, unit: Unit) -> String {
        let place = tape_words(self.along, around, unit);
        match self.seen(around) {
            Some("at the back") | None => place,
            Some(seen) => format!("{place} – {seen}"),
        }
    }

    fn seen(&self, around: f64) -> Option<&'static str> {
        self.exposure.map(|exposure| exposure_words(exposure, self.along, around))
    }

    fn is_hidden(&self, around: f64) -> bool {
        matches!(self.seen(around), Some("hidden" | "barely seen"))
    }
}

/// The joins of one tier, from the top course down.
fn of_tier(input: &ProofInput, name: &str) -> Vec<Joins> {
    let facts = input.facts.tiers.iter().find(|tier| tier.name == name);
    let designed = input.design.tiers.iter().find(|tier| tier.name == name);
    let Some((facts, designed)) = facts.zip(designed) else { return Vec::new() };
    let around = facts.finished.around;
    let of_course = |course: &Course| {
        let what = format!("{name}, {}", course.name);
        let own = match &course.kind {
            CourseKind::Wrap(_) => return of_wrap(input, (name, &course.name), around),
            CourseKind::Rope { seam, .. } | CourseKind::Pearls { seam, .. } | CourseKind::Band { seam, .. } => {
                Join { along: seam.along(Length::mm(around)).as_mm(), exposure: None }
            }
            CourseKind::Bare { .. } => return Vec::new(),
        };
        vec![Joins { what, joins: vec![own], around }]
    };
    designed.courses.iter().rev().flat_map(of_course).collect()
}

/// The seams of a print, and that of the paste beneath it.
fn of_wrap(input: &ProofInput, (tier, course): (&str, &str), around: f64) -> Vec<Joins> {
    let wrap = input.facts.wraps.iter().find(|wrap| wrap.tier == tier && wrap.course == course);
    let Some(wrap) = wrap else { return Vec::new() };
    let seam = |seam: &SeamFacts| Join { along: seam.along, exposure: Some(seam.exposure) };
    let print = Joins { what: format!("{tier}, {course}"), joins: wrap.seams.iter().map(seam).collect(), around };
    let under = wrap.under.and_then(|under| under.seam).map(|along| Joins {
        what: format!("{tier}, {course}, the paste beneath"),
        // Covered by the print, it is not seen at all.
        joins: vec![Join { along, exposure: None }],
        around,
    });
    [print].into_iter().chain(under).filter(|joined| !joined.joins.is_empty()).collect()
}

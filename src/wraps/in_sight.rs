//! Joins that people will see: the two ends of bands and ropes, and what is to be said of every seam in sight.

use super::exposure::{CourseSight, Onlookers};
use super::plan::WrapPlan;
use crate::cake::Cake;
use crate::design::model::CourseKind;
use crate::findings::{Code, Finding, Threshold};
use crate::measure::tape_words;

/// Places are looked through in steps of this, mm.
const STEP: f64 = 2.0;

/// Where the two ends of a course that is cut in one length meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct End {
    /// Which tier, from the board up.
    pub tier: usize,
    /// Which course of it, from the foot up.
    pub course: usize,
    /// Tape reading, mm.
    pub along: f64,
    /// The share of sight lines from which it is seen, 0 to 1.
    pub exposure: f64,
}

/// Where the ends of every band and rope meet. A row of pearls has no join to be seen.
#[must_use]
pub fn ends(cake: &Cake, onlookers: &Onlookers<'_>) -> Vec<End> {
    let mut ends = Vec::new();
    for (tier, standing) in cake.tiers.iter().enumerate() {
        for (course, laid) in standing.courses.iter().enumerate() {
            if matches!(laid.kind, CourseKind::Band { .. } | CourseKind::Rope { .. })
                && let Some(along) = laid.seam(&standing.outline)
                && let Some(sight) = onlookers.course(tier, course)
            {
                ends.push(End { tier, course, along, exposure: sight.exposure(along) });
            }
        }
    }
    ends
}

/// A finding for every seam of a wrap, and every end of a band or rope, that most will see.
#[must_use]
pub fn seams_in_sight(cake: &Cake, onlookers: &Onlookers<'_>, (plans, ends): (&[WrapPlan], &[End])) -> Vec<Finding> {
    let mut findings = Vec::new();
    for plan in plans {
        let Some(sight) = onlookers.course(plan.tier, plan.course) else { continue };
        for seam in &plan.seams {
            let mend = if seam.pinned { Mend::MovePin } else { Mend::Cover };
            let join = Join { at: (plan.tier, plan.course), along: seam.along, seen: sight.exposure(seam.along), mend };
            findings.extend(join.finding(cake, &sight));
        }
    }
    for end in ends.iter().filter(|end| end.exposure > Threshold::SeamInSight.value()) {
        let Some(sight) = onlookers.course(end.tier, end.course) else { continue };
        let join = Join { at: (end.tier, end.course), along: end.along, seen: end.exposure, mend: Mend::MoveEnds };
        findings.extend(join.finding(cake, &sight));
    }
    findings
}

/// What may be done about a seam.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Mend {
    /// It was placed as well as the sheets allow.
    Cover,
    /// The person pinned it.
    MovePin,
    /// The person laid the ends there.
    MoveEnds,
}

/// One seam, to be judged.
#[derive(Clone, Copy, Debug)]
struct Join {
    at: (usize, usize),
    along: f64,
    seen: f64,
    mend: Mend,
}

impl Join {
    fn finding(&self, cake: &Cake, sight: &CourseSight<'_>) -> Option<Finding> {
        let tier = cake.tiers.get(self.at.0).filter(|_| self.seen > Threshold::SeamInSight.value())?;
        let course = tier.courses.get(self.at.1)?;
        let around = tier.outline.perimeter();
        let says = |along: f64| tape_words(along, around, cake.design.unit);
        let what = if self.mend == Mend::MoveEnds { "its ends meet" } else { "a seam lies" };
        let sentence = format!(
            "{what} in sight, {}: {:.0} % of the sight lines from where people stand reach it",
            says(self.along),
            self.seen * 100.0
        );
        let cover = "lay or stand a piece before it";
        let mend = match (self.mend, self.better(sight, around)) {
            (Mend::Cover, _) => format!("{cover}, or choose a longer sheet"),
            (Mend::MovePin, Some(place)) => format!("pin it {} or drop the pin, or {cover}", says(place)),
            (Mend::MovePin, None) => format!("drop the pin, or {cover}"),
            (Mend::MoveEnds, Some(place)) => format!("let them meet {}, or {cover}", says(place)),
            (Mend::MoveEnds, None) => cover.to_owned(),
        };
        Some(Finding::new(Code::SeamInSight, format!("tier '{}', course '{}'", tier.name, course.name), sentence, mend))
    }

    /// The nearest place on the course at which hardly anybody would see it.
    fn better(&self, sight: &CourseSight<'_>, around: f64) -> Option<f64> {
        let steps = (around / 2.0 / STEP) as u32;
        let readings = (1..=steps).flat_map(|step| [1.0, -1.0].map(|way| self.along + way * f64::from(step) * STEP));
        let enough = Threshold::SeamBarelySeen.value();
        let found = readings.into_iter().find(|&along| sight.exposure(along) <= enough)?;
        Some((found + around / 2.0).rem_euclid(around) - around / 2.0)
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::art::Shelf;
    use crate::cake::resolve;
    use crate::design::read_design;
    use crate::wraps::plan;

    fn found(more: &str) -> (Vec<End>, Vec<Finding>) {
        let text = format!(
            "title = \"t\"\nunit = \"in\"\n[[tier]]\nname = \"base\"\nsize = 8\nheight = 5\n[[tier.course]]\nname = \"foot\"\nkind = \"rope\"\n\
             size = \"1/4\"\n{more}"
        );
        let design = read_design(&text, "cake.toml").unwrap_or_else(|problems| panic!("{problems}"));
        let cake = resolve(&Arc::new(design), &Arc::new(Shelf::default())).unwrap();
        let onlookers = Onlookers::new(&cake);
        let (plans, ends) = (plan(&cake).0, ends(&cake, &onlookers));
        let findings = seams_in_sight(&cake, &onlookers, (&plans, &ends));
        (ends, findings)
    }

    #[test]
    fn ends_at_the_back_are_nobodys_concern() {
        let (ends, findings) = found("");
        assert_eq!((ends.len(), findings.len()), (1, 0));
        assert!(ends[0].exposure == 0.0);
    }

    #[test]
    fn ends_in_front_are_said_with_the_nearest_better_place() {
        let (ends, findings) = found("seam = 1\n");
        assert!(ends[0].exposure > 0.95);
        let [finding] = findings.as_slice() else { panic!("{findings:?}") };
        assert_eq!(finding.code, Code::SeamInSight);
        assert!(finding.sentence.contains("1 in to the right of front centre: 100 %"), "{}", finding.sentence);
        // 0.15 of the sight lines on a lone round cake: 131° round.
        assert!(finding.mend.starts_with("let them meet 9 3/16 in to the right"), "{}", finding.mend);
    }

    #[test]
    fn a_pinned_seam_in_front_is_said_and_one_behind_a_piece_is_not() {
        let wrap = "[[tier.course]]\nname = \"waves\"\nkind = \"wrap\"\nheight = 3\nart = \"waves.svg\"\npins = [0]\n";
        let (_, findings) = found(wrap);
        assert!(findings.iter().any(|finding| finding.mend.contains("drop the pin")), "{findings:?}");
        let wall = "[[piece]]\nname = \"wall\"\nkind = \"plaque\"\nseat = { on = \"board\", surface = \"board\" }\nat = { x = 0, z = 4.6 }\n\
                    size = [9, \"1/2\"]\nthickness = 4\n";
        let (_, findings) = found(&(wrap.to_owned() + wall));
        assert!(findings.iter().all(|finding| !finding.sentence.contains("front centre")), "{findings:?}");
    }
}

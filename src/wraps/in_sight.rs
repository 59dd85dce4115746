//! What is to be said of the joins that people will see.

use super::exposure::{CourseSight, Onlookers};
use super::joins::{End, Join, Meets, joins};
use super::plan::WrapPlan;
use crate::cake::Cake;
use crate::findings::{Code, Finding, Place, Threshold};
use crate::measure::{Length, tape_words};

/// Places are looked through in steps of this, mm.
const STEP: f64 = 2.0;

/// A finding for every seam of a wrap, and every end of a band or rope, that most will see.
#[must_use]
pub fn seams_in_sight(cake: &Cake, onlookers: &Onlookers<'_>, (plans, ends): (&[WrapPlan], &[End])) -> Vec<Finding> {
    let seen = joins(plans, ends).into_iter().filter(|join| join.exposure > Threshold::SeamInSight.value());
    let told = seen.filter_map(|join| told(cake, &onlookers.course(join.tier, join.course)?, join));
    told.collect()
}

fn told(cake: &Cake, sight: &CourseSight<'_>, join: Join) -> Option<Finding> {
    let tier = cake.tiers.get(join.tier)?;
    let course = tier.courses.get(join.course)?;
    let around = tier.outline.perimeter();
    let says = |along: f64| tape_words(along, around, cake.design.unit);
    let what = if join.meets == Meets::Ends { "its ends meet" } else { "a seam lies" };
    let sentence = format!(
        "{what} in sight, {}: {:.0} % of the sight lines from where people stand reach it",
        says(join.along),
        join.exposure * 100.0
    );
    let cover = "lay or stand a piece before it";
    let mend = match (join.meets, better(join.along, sight, around)) {
        // It was placed as well as the sheets allow.
        (Meets::Strips { pinned: false, .. }, _) => format!("{cover}, or choose a longer sheet"),
        (Meets::Strips { .. }, Some(place)) => format!("pin it {} or drop the pin, or {cover}", says(place)),
        (Meets::Strips { .. }, None) => format!("drop the pin, or {cover}"),
        (Meets::Ends, Some(place)) => format!("let them meet {}, or {cover}", says(place)),
        (Meets::Ends, None) => cover.to_owned(),
    };
    let (tier, course) = (tier.name.clone(), course.name.clone());
    let place = Place::Seam { tier, course, along: Length::mm(join.along) };
    Some(Finding::new(Code::SeamInSight, place, sentence, mend))
}

/// The place nearest to a reading at which hardly anybody would see a join.
fn better(along: f64, sight: &CourseSight<'_>, around: f64) -> Option<f64> {
    let steps = (around / 2.0 / STEP) as u32;
    let readings = (1..=steps).flat_map(|step| [1.0, -1.0].map(|way| along + way * f64::from(step) * STEP));
    let readings: Vec<f64> = readings.collect();
    let enough = Threshold::SeamBarelySeen.value();
    let seen = readings.iter().zip(sight.exposures(&readings));
    let found = seen.into_iter().find(|(_, seen)| *seen <= enough).map(|(along, _)| *along)?;
    Some((found + around / 2.0).rem_euclid(around) - around / 2.0)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::art::Shelf;
    use crate::cake::resolve;
    use crate::design::read_design;
    use crate::wraps::{ends, plan};

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

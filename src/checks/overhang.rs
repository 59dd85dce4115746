//! `tier-overhangs`: a tier that stands out beyond what carries it has nothing under its edge.

use glam::{DVec2, DVec3};

use crate::cake::{Cake, CakeTier};
use crate::findings::{Code, Finding, Place, Threshold};
use crate::measure::{Length, show_length};

pub(super) fn check(cake: &Cake) -> Vec<Finding> {
    let pairs = cake.tiers.iter().zip(cake.tiers.iter().skip(1));
    let beyond = pairs.filter_map(|(lower, upper)| {
        let by = overhang(lower, upper);
        (by > Threshold::Edge.value()).then(|| {
            let says = show_length(Length::mm(by), cake.design.unit);
            let sentence = format!("it stands out {says} beyond '{}', which carries it", lower.name);
            let mend = "move it inward, or make it smaller; a board of its own size carries it in any case";
            Finding::new(Code::TierOverhangs, Place::tier(&upper.name), sentence, mend).by(Length::mm(by))
        })
    });
    beyond.collect()
}

/// How far the upper tier's foot reaches beyond the lower tier's outline, mm; 0 within it.
fn overhang(lower: &CakeTier, upper: &CakeTier) -> f64 {
    let lower_from_upper = lower.pose().inverse() * upper.pose();
    let beyond = upper.outline.flat(0.5).into_iter().map(|at| {
        let place = lower_from_upper.transform_point3(DVec3::new(at.x, 0.0, at.y));
        lower.outline.beyond(DVec2::new(place.x, place.z))
    });
    beyond.fold(0.0, f64::max)
}

//! The seams of a print as they are shown: as planned, and where one is being dragged to.

use super::Workbench;
use crate::design::model::CourseKind;
use crate::wraps::WrapPlan;

/// Readings that differ by less are one seam, mm.
const SAME: f64 = 0.5;

/// A seam as it is shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShownSeam {
    /// Tape reading, mm.
    pub along: f64,
    /// Its number from the left, the first being 1, and how much it is seen; `None` for a pin that nothing was planned with yet.
    pub planned: Option<(usize, f64)>,
    /// Whether the design pins it as it is now.
    pub pinned: bool,
}

impl Workbench {
    /// The seams of the print on a course (tier from the board up, course from its foot up): the planned ones, then the pins
    /// that it was not planned anew with yet.
    #[must_use]
    pub fn seams_of(&self, (tier, course): (usize, usize)) -> Vec<ShownSeam> {
        let Some(standing) = self.cake().tiers.get(tier) else { return Vec::new() };
        let pins: Vec<f64> = match standing.courses.get(course).map(|course| &course.kind) {
            Some(CourseKind::Wrap(wrap)) => wrap.pins.iter().map(|pin| pin.as_mm()).collect(),
            _ => Vec::new(),
        };
        let is_same = |one: f64, other: f64| self.is_same_seam(tier, (one, other));
        let is_it = |plan: &&WrapPlan| plan.tier == tier && plan.course == course;
        let planned = self.plans().iter().filter(is_it).flat_map(|plan| &plan.seams).zip(1..);
        let mut seams: Vec<ShownSeam> = planned
            .map(|(seam, number)| ShownSeam {
                along: seam.along,
                planned: Some((number, seam.exposure)),
                pinned: pins.iter().any(|&pin| is_same(pin, seam.along)),
            })
            .collect();
        for &along in &pins {
            if !seams.iter().any(|seam| is_same(seam.along, along)) {
                seams.push(ShownSeam { along, planned: None, pinned: true });
            }
        }
        seams
    }

    /// Whether two readings on a tier are those of one seam.
    #[must_use]
    pub fn is_same_seam(&self, tier: usize, (one, other): (f64, f64)) -> bool {
        self.cake().tiers.get(tier).is_some_and(|tier| tier.outline.reading(one - other).abs() < SAME)
    }
}

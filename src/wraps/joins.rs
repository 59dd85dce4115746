//! Every join of a cake in one list: the seams of its prints, the ends of its bands and ropes.

use super::exposure::Onlookers;
use super::lay::round_exposure;
use super::plan::WrapPlan;
use crate::cake::Cake;
use crate::design::model::CourseKind;

/// Where the two ends of a course that is cut in one length meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct End {
    /// Which tier, from the board up.
    pub tier: usize,
    /// Which course of it, from the foot up.
    pub course: usize,
    /// Tape reading, mm.
    pub along: f64,
    /// The share of sight lines from which it is seen, 0 to 1, to a hundredth as that of a seam.
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
                ends.push(End { tier, course, along, exposure: round_exposure(sight.exposure(along)) });
            }
        }
    }
    ends
}

/// What meets at a join.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meets {
    /// Two strips of a print, at the seam of this number from the left, the first being 1.
    Strips {
        /// From the left, the first being 1.
        seam: usize,
        /// Fixed by the person.
        pinned: bool,
    },
    /// The two ends of a band or a rope.
    Ends,
}

impl Meets {
    /// What it is called beside its course: `seam 2`, `ends`.
    #[must_use]
    pub fn word(self) -> String {
        match self {
            Self::Strips { seam, .. } => format!("seam {seam}"),
            Self::Ends => "ends".to_owned(),
        }
    }
}

/// One join.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Join {
    /// Which tier, from the board up.
    pub tier: usize,
    /// Which course of it, from the foot up.
    pub course: usize,
    /// Tape reading, mm.
    pub along: f64,
    /// The share of sight lines from which it is seen, 0 to 1, to a hundredth.
    pub exposure: f64,
    /// What meets there.
    pub meets: Meets,
}

/// Every join of a cake, tier by tier from the board up, course by course from the foot up.
#[must_use]
pub fn joins(plans: &[WrapPlan], ends: &[End]) -> Vec<Join> {
    let seams = plans.iter().flat_map(|plan| {
        plan.seams.iter().zip(1..).map(|(seam, number)| Join {
            tier: plan.tier,
            course: plan.course,
            along: seam.along,
            exposure: seam.exposure,
            meets: Meets::Strips { seam: number, pinned: seam.pinned },
        })
    });
    let ends = ends.iter().map(|&End { tier, course, along, exposure }| Join {
        tier,
        course,
        along,
        exposure,
        meets: Meets::Ends,
    });
    let mut joins: Vec<Join> = seams.chain(ends).collect();
    joins.sort_by_key(|join| (join.tier, join.course));
    joins
}

impl Join {
    /// What it is called by its course's name: `waves seam 2`, `foot rope ends`.
    #[must_use]
    pub fn name(&self, course: &str) -> String {
        format!("{course} {}", self.meets.word())
    }

    /// What follows the name of a seam that the person fixed: `, pinned`.
    #[must_use]
    pub const fn pinned(&self) -> &'static str {
        match self.meets {
            Meets::Strips { pinned: true, .. } => ", pinned",
            _ => "",
        }
    }
}

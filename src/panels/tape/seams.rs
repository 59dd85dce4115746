//! The seams of a side as they are now, also while one is dragged.

use crate::cake::{CakeCourse, CakeTier};
use crate::design::model::CourseKind;
use crate::edits::bench::ShownSeam;
use crate::panels::Look;
use crate::wraps::Meets;

/// One seam on the tape.
pub(super) struct Seam<'a> {
    pub course: &'a str,
    /// From and to which height, mm.
    pub between: (f64, f64),
    /// Tape reading, mm.
    pub along: f64,
    /// Not known while it is dragged.
    pub exposure: Option<f64>,
    pub pinned: bool,
    /// Of a print, not the two ends of a band or a rope.
    pub is_of_print: bool,
    /// What it is called beside its course: `seam 2`.
    pub short: String,
}

impl<'a> Seam<'a> {
    fn of(course: &'a CakeCourse, along: f64, short: String) -> Self {
        let between = (course.bottom, course.top);
        let (exposure, pinned, is_of_print) = (None, false, true);
        Self { course: &course.name, between, along, exposure, pinned, is_of_print, short }
    }

    /// Its whole name: `waves seam 2`.
    pub fn name(&self) -> String {
        format!("{} {}", self.course, self.short)
    }
}

/// Every seam of a tier: of its wraps as planned, of its bands and ropes as designed.
pub(super) fn all_seams<'a>(look: &'a Look<'_>, index: usize) -> Vec<Seam<'a>> {
    let Some(tier) = look.bench.cake().tiers.get(index) else { return Vec::new() };
    let of_course = |(number, course): (usize, &'a CakeCourse)| {
        let mut seams = of_print(look, (index, number), course);
        seams.extend(of_ends(look, (index, number), (tier, course)));
        seams
    };
    tier.courses.iter().enumerate().flat_map(of_course).collect()
}

/// Of a print, as the bench shows them.
fn of_print<'a>(look: &Look<'_>, place: (usize, usize), course: &'a CakeCourse) -> Vec<Seam<'a>> {
    let seam = |shown: ShownSeam| {
        let short = shown.planned.map(|(seam, _)| Meets::Strips { seam, pinned: shown.pinned }.word());
        let exposure = shown.planned.map(|(_, exposure)| exposure);
        Seam { exposure, pinned: shown.pinned, ..Seam::of(course, shown.along, short.unwrap_or("seam".to_owned())) }
    };
    look.bench.seams_of(place).into_iter().map(seam).collect()
}

/// Where the two ends of a band or a rope meet.
fn of_ends<'a>(
    look: &Look<'_>,
    (index, number): (usize, usize),
    (tier, course): (&CakeTier, &'a CakeCourse),
) -> Option<Seam<'a>> {
    let is_one_length = matches!(course.kind, CourseKind::Band { .. } | CourseKind::Rope { .. });
    let along = course.seam(&tier.outline).filter(|_| is_one_length)?;
    let work = look.bench.work().filter(|_| !look.bench.is_behind());
    let ends = work.and_then(|work| work.ends.iter().find(|end| end.tier == index && end.course == number));
    let exposure = ends.map(|end| end.exposure);
    Some(Seam { exposure, is_of_print: false, ..Seam::of(course, along, Meets::Ends.word()) })
}

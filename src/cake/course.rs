//! Courses: what lies where up the side, and how long each piece of it must be cut.

use std::f64::consts::PI;

use crate::design::model::{Course, CourseHeight, CourseKind};
use crate::findings::{Code, Finding, Place};
use crate::measure::{Length, Unit, show_length};
use crate::shapes::Outline;

/// Heights that differ by less than this are the same, mm.
const SAME: f64 = 0.05;

/// One course, resolved.
#[derive(Clone, Debug)]
pub struct CakeCourse {
    /// Its name.
    pub name: String,
    /// What it is, as designed.
    pub kind: CourseKind,
    /// Lower edge above the tier's foot, mm.
    pub bottom: f64,
    /// Upper edge above the tier's foot, mm.
    pub top: f64,
    /// How far it stands out from the finished outline, mm.
    pub outer: f64,
    /// Readings between which it lies: all round, or a stretch.
    pub span: (f64, f64),
    /// Cut length at its neutral line.
    pub length: Length,
}

impl CakeCourse {
    /// Its height, mm.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.top - self.bottom
    }

    /// Where its two ends meet, for courses that are one length: a reading on the tape.
    #[must_use]
    pub fn seam(&self, outline: &Outline) -> Option<f64> {
        match &self.kind {
            CourseKind::Rope { seam, .. } | CourseKind::Pearls { seam, .. } | CourseKind::Band { seam, .. } => {
                Some(outline.reading(seam.along(Length::mm(outline.perimeter())).as_mm()))
            }
            CourseKind::Wrap(_) | CourseKind::Bare { .. } => None,
        }
    }
}

/// How far out from the finished outline a course's neutral line and its outer face lie, mm.
///
/// What lies outside is longer: a strip of thickness τ has its neutral line τ/2 out, a rope of diameter d its middle d/2
/// out, a print on a strip of paste the paste's whole thickness and half its own.
#[must_use]
pub fn lines_out(kind: &CourseKind) -> (f64, f64) {
    match kind {
        CourseKind::Rope { diameter, .. } | CourseKind::Pearls { diameter, .. } => {
            (diameter.as_mm() / 2.0, diameter.as_mm())
        }
        CourseKind::Band { thickness, .. } => (thickness.as_mm() / 2.0, thickness.as_mm()),
        CourseKind::Wrap(wrap) => {
            let under = wrap.under.as_ref().map_or(0.0, |under| under.paste.as_mm());
            (under + wrap.thickness.as_mm() / 2.0, under + wrap.thickness.as_mm())
        }
        CourseKind::Bare { .. } => (0.0, 0.0),
    }
}

fn height_of(kind: &CourseKind) -> CourseHeight {
    match kind {
        CourseKind::Rope { diameter, .. } | CourseKind::Pearls { diameter, .. } => CourseHeight::Fixed(*diameter),
        CourseKind::Band { height, .. } | CourseKind::Bare { height } => *height,
        CourseKind::Wrap(wrap) => wrap.height,
    }
}

/// Lays the courses from the foot up. Fixed heights are kept; filling ones share the rest by their weights.
pub(super) fn stack_courses(
    courses: &[Course],
    outline: &Outline,
    (tier_height, unit, tier): (Length, Unit, &str),
    findings: &mut Vec<Finding>,
) -> Vec<CakeCourse> {
    let heights: Vec<CourseHeight> = courses.iter().map(|course| height_of(&course.kind)).collect();
    let fixed: Length =
        heights.iter().map(|height| if let CourseHeight::Fixed(h) = height { *h } else { Length::ZERO }).sum();
    let weights: f64 =
        heights.iter().map(|height| if let CourseHeight::Fill { weight, .. } = height { *weight } else { 0.0 }).sum();
    let rest = tier_height - fixed;
    findings.extend(judge(courses, &heights, (rest, weights, unit), tier));
    let mut bottom = 0.0;
    courses
        .iter()
        .zip(heights)
        .map(|(course, height)| {
            let height = match height {
                CourseHeight::Fixed(height) => height,
                CourseHeight::Fill { weight, .. } => rest.max(Length::ZERO) * (weight / weights.max(f64::MIN_POSITIVE)),
            };
            let laid = lay(course, outline, (bottom, bottom + height.as_mm()));
            bottom = laid.top;
            laid
        })
        .collect()
}

fn lay(course: &Course, outline: &Outline, (bottom, top): (f64, f64)) -> CakeCourse {
    let (neutral, outer) = lines_out(&course.kind);
    let half = outline.perimeter() / 2.0;
    let span = match &course.kind {
        CourseKind::Wrap(wrap) => wrap.stretch.map_or((-half, half), |(from, to)| {
            let (from, to) = (from.as_mm(), to.as_mm());
            // A stretch over the back is typed with its right end further left.
            if to > from { (from, to.min(from + 2.0 * half)) } else { (from, to + 2.0 * half) }
        }),
        _ => (-half, half),
    };
    let length = Length::mm(outline.run(span, neutral));
    CakeCourse { name: course.name.clone(), kind: course.kind.clone(), bottom, top, outer, span, length }
}

/// What is wrong with the heights, if anything.
fn judge(
    courses: &[Course],
    heights: &[CourseHeight],
    (rest, weights, unit): (Length, f64, Unit),
    tier: &str,
) -> Vec<Finding> {
    if courses.is_empty() {
        return Vec::new();
    }
    let says = |length: Length| show_length(length, unit);
    let place = Place::tier(tier);
    if rest.as_mm() < -SAME {
        let sentence = format!("its courses are together {} higher than the tier", says(-rest));
        let mend = format!("take {} off the courses, or make the tier higher", says(-rest));
        return vec![Finding::new(Code::CoursesOverrun, place, sentence, mend).by(-rest)];
    }
    if weights <= 0.0 {
        let short = rest.as_mm() > SAME;
        let sentence = format!("its courses end {} below the top", says(rest));
        let mend = "give the upper course height = \"fill\", or leave the covering to be seen".to_owned();
        return short.then(|| Finding::new(Code::CoursesShort, place, sentence, mend).by(rest)).into_iter().collect();
    }
    let thin = courses.iter().zip(heights).filter_map(|(course, height)| {
        let CourseHeight::Fill { weight, least } = height else { return None };
        let share = rest.max(Length::ZERO) * (weight / weights);
        let lacking = *least - share;
        (lacking.as_mm() > SAME || share.as_mm() <= SAME).then(|| {
            let place = Place::course(tier, &course.name);
            let sentence = format!("only {} is left for it, it should have at least {}", says(share), says(*least));
            Finding::new(Code::FillTooThin, place, sentence, "make a fixed course lower, or the tier higher")
                .by(lacking.max(Length::ZERO))
        })
    });
    thin.collect()
}

/// Volume of a course, mm³, by the finish it is made in; prints have no paste of their own.
#[must_use]
pub fn volumes(course: &CakeCourse, outline: &Outline) -> Vec<(String, f64)> {
    let around = outline.perimeter();
    match &course.kind {
        // Pappus: a section's area times the way of its middle.
        CourseKind::Rope { diameter, finish, .. } => {
            let radius = diameter.as_mm() / 2.0;
            vec![(finish.clone(), PI * radius * radius * outline.run((0.0, around), radius))]
        }
        CourseKind::Pearls { diameter, finish, .. } => {
            let count = f64::from(pearl_count(diameter.as_mm(), outline));
            vec![(finish.clone(), count * PI / 6.0 * diameter.as_mm().powi(3))]
        }
        CourseKind::Band { thickness, finish, .. } => {
            let length = outline.run((0.0, around), thickness.as_mm() / 2.0);
            vec![(finish.clone(), length * thickness.as_mm() * course.height())]
        }
        CourseKind::Wrap(wrap) => wrap
            .under
            .iter()
            .map(|under| {
                let length = outline.run(course.span, under.paste.as_mm() / 2.0);
                (under.finish.clone(), length * under.paste.as_mm() * course.height())
            })
            .collect(),
        CourseKind::Bare { .. } => Vec::new(),
    }
}

/// How many balls of a diameter stand round an outline, touching the side and one another.
#[must_use]
pub fn pearl_count(diameter: f64, outline: &Outline) -> u32 {
    let line = outline.run((0.0, outline.perimeter()), diameter / 2.0);
    (line / diameter.max(0.1)).floor().clamp(0.0, 100_000.0) as u32
}

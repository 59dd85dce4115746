//! A seam dragged along its course; where it is dropped it is fixed.

use super::{Manner, Pointer, Step, World};
use crate::cake::{Cake, CakeTier, Owner};
use crate::design::model::{At, CourseKind, SeamPlace};
use crate::edits::choose::{Choice, place_of};
use crate::edits::snap::snap_seam;
use crate::edits::{CourseEdit, CourseName, Edit, Refusal};
use crate::measure::Length;

/// A seam under way.
#[derive(Clone, Debug)]
pub(super) struct SeamDrag {
    course: CourseName,
    /// Where it was.
    from: Length,
    /// From the seam to where it was grabbed, along the tape.
    offset: Length,
}

impl SeamDrag {
    pub(super) fn grab(
        world: World<'_>,
        course: &CourseName,
        (from, choice): (Length, &Choice),
    ) -> Result<Self, Refusal> {
        let tier = world.cake.design.tiers.iter().find(|tier| tier.name == course.tier);
        let found = tier.and_then(|tier| tier.courses.iter().find(|found| found.name == course.course));
        let found = found.ok_or_else(|| Refusal::missing("course", &course.course))?;
        if found.locked {
            return Err(Refusal::locked("course", &course.course));
        }
        let offset = match choice.place.at {
            At::Tape(at) => at.along - from,
            At::Plan(_) => Length::ZERO,
        };
        Ok(Self { course: course.clone(), from, offset })
    }

    pub(super) fn to(&self, world: World<'_>, pointer: &Pointer, manner: Manner) -> Option<Step> {
        let cake = world.cake;
        let (index, tier) = cake.tiers.iter().enumerate().find(|(_, tier)| tier.name == self.course.tier)?;
        let along = pointed(world, (index, tier), pointer)? - self.offset;
        let along = Length::mm(tier.outline.reading(along.as_mm()));
        let strength = if manner.is_fine { Length::ZERO } else { manner.strength };
        let snapped = snap_seam(cake, (tier, along), strength);
        let At::Tape(at) = snapped.at else { return None };
        Some(Step::new(Edit::Course(self.course.clone(), self.edit(cake, at.along)?), snapped))
    }

    fn edit(&self, cake: &Cake, to: Length) -> Option<CourseEdit> {
        let tier = cake.tier(&self.course.tier)?;
        let course = tier.courses.iter().find(|course| course.name == self.course.course)?;
        Some(match course.kind {
            CourseKind::Wrap(_) => CourseEdit::MoveSeam(self.from, to),
            _ => CourseEdit::Seam(SeamPlace::Along(to)),
        })
    }
}

/// The reading that the pointer means, on the tier of the course alone.
fn pointed(world: World<'_>, (index, tier): (usize, &CakeTier), pointer: &Pointer) -> Option<Length> {
    match pointer {
        Pointer::Tape(name, at) => (*name == tier.name).then_some(at.along),
        Pointer::Ray(ray) => {
            let is_on = |owner: Owner| matches!(owner, Owner::Tier(on) | Owner::Course(on, _) if on == index);
            let hit = world.touch.cast(*ray, is_on)?;
            match place_of(world.cake, &hit)?.at {
                At::Tape(at) => Some(at.along),
                At::Plan(_) => None,
            }
        }
    }
}

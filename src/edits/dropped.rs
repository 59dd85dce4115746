//! A picture dropped on the cake: on a side it becomes a wrap, on a top a topper, on a piece its art.

use super::choose::{Choice, Thing};
use super::course::CourseEdit;
use super::first::{NewCourse, NewKind, NewPiece, first_course};
use super::snap::rounded;
use super::{CourseName, Edit, PieceEdit, Refusal, TierEdit, WholeEdit};
use crate::design::Design;
use crate::design::model::{At, CourseKind, Surface};

/// What dropping a picture (a path in the design's folder, see [`super::bring_in`]) on something does.
///
/// A wrap takes it as its art; a bare course becomes a wrap of the same height; any other side gets a wrap on top of its
/// courses.
///
/// # Errors
/// When what it was dropped on is not in the design.
pub fn dropped(design: &Design, choice: &Choice, path: &str) -> Result<Edit, Refusal> {
    match &choice.thing {
        Thing::Piece(name) => Ok(Edit::piece(name, PieceEdit::Art(path.to_owned()))),
        Thing::Course(name) | Thing::Seam(name, _) => on_course(design, name, path),
        Thing::Tier(name) if choice.place.seat.surface == Surface::Side => Ok(new_wrap(name, path)),
        Thing::Tier(_) | Thing::Board => {
            let kind = NewKind::Topper(path.to_owned());
            // A place that a hand chose is as fine as a tape measure shows it.
            let at = matches!(choice.place.at, At::Plan(_)).then(|| rounded(choice.place.at, design.unit));
            Ok(Edit::Whole(WholeEdit::AddPiece(NewPiece { kind, seat: choice.place.seat.clone(), at })))
        }
    }
}

fn new_wrap(tier: &str, path: &str) -> Edit {
    Edit::tier(tier, TierEdit::AddCourse(NewCourse::Wrap(path.to_owned()), usize::MAX))
}

fn on_course(design: &Design, name: &CourseName, path: &str) -> Result<Edit, Refusal> {
    let tier = design.tiers.iter().find(|tier| tier.name == name.tier);
    let course = tier.and_then(|tier| tier.courses.iter().find(|course| course.name == name.course));
    match &course.ok_or_else(|| Refusal::missing("course", &name.course))?.kind {
        CourseKind::Wrap(_) => Ok(Edit::Course(name.clone(), CourseEdit::Art(path.to_owned()))),
        CourseKind::Bare { height } => {
            let new = NewCourse::Wrap(path.to_owned());
            let mut kind = first_course(design, (&name.tier, &new))?.kind;
            if let CourseKind::Wrap(wrap) = &mut kind {
                wrap.height = *height;
            }
            Ok(Edit::Course(name.clone(), CourseEdit::Set(Box::new(kind))))
        }
        _ => Ok(new_wrap(&name.tier, path)),
    }
}

//! The edits: everything that a person can do to a design, and how it is carried out.

use super::accept::{Touched, accepted};
use super::course::CourseEdit;
use super::named::{self, NamedEdit};
use super::piece::PieceEdit;
use super::tier::TierEdit;
use super::whole::WholeEdit;
use super::{Refusal, course, piece, tier, whole};
use crate::design::Design;
use crate::design::model::{Finish, Paste, Sheet};

/// One thing that a person does to a design. What it is done to is called by name, as in the document.
///
/// Values are whole and of the document's own types: a card changes a copy of what it shows and gives that back.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// To the design as a whole: its title, board, order …; and what is added to it.
    Whole(WholeEdit),
    /// To a tier.
    Tier(String, TierEdit),
    /// To a course of a tier.
    Course(CourseName, CourseEdit),
    /// To a piece.
    Piece(String, PieceEdit),
    /// To a finish of the design's own.
    Finish(String, NamedEdit<Finish>),
    /// To a paste of the design's own.
    Paste(String, NamedEdit<Paste>),
    /// To a printing sheet of the design's own.
    Sheet(String, NamedEdit<Sheet>),
    /// Several, one after the other, as one step.
    Several(Vec<Edit>),
}

/// A course, by its tier's name and its own.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CourseName {
    /// Name of the tier.
    pub tier: String,
    /// Name of the course.
    pub course: String,
}

/// The design after an edit. What comes out is what the reader of a design file accepts: names are unique, seats are there.
///
/// # Errors
/// Says why it can't be done, and what would mend it.
pub fn apply(design: &Design, edit: &Edit) -> Result<Design, Refusal> {
    let mut next = design.clone();
    carry_out(&mut next, edit)?;
    accepted(next, &Touched::by(edit))
}

fn carry_out(design: &mut Design, edit: &Edit) -> Result<(), Refusal> {
    match edit {
        Edit::Whole(edit) => whole::carry_out(design, edit),
        Edit::Tier(name, edit) => tier::carry_out(design, name, edit),
        Edit::Course(name, edit) => course::carry_out(design, name, edit),
        Edit::Piece(name, edit) => piece::carry_out(design, name, edit),
        Edit::Finish(name, edit) => named::carry_out::<Finish>(design, name, edit),
        Edit::Paste(name, edit) => named::carry_out::<Paste>(design, name, edit),
        Edit::Sheet(name, edit) => named::carry_out::<Sheet>(design, name, edit),
        Edit::Several(edits) => edits.iter().try_for_each(|edit| carry_out(design, edit)),
    }
}

impl CourseName {
    /// A course by names.
    #[must_use]
    pub fn new(tier: impl Into<String>, course: impl Into<String>) -> Self {
        Self { tier: tier.into(), course: course.into() }
    }
}

impl Edit {
    /// An edit of a piece.
    #[must_use]
    pub fn piece(name: impl Into<String>, edit: PieceEdit) -> Self {
        Self::Piece(name.into(), edit)
    }

    /// An edit of a tier.
    #[must_use]
    pub fn tier(name: impl Into<String>, edit: TierEdit) -> Self {
        Self::Tier(name.into(), edit)
    }
}

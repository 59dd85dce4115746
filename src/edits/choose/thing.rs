//! What can be chosen.

use crate::cake::{Cake, CakePiece, Owner};
use crate::design::Design;
use crate::design::model::{Course, CourseKind};
use crate::edits::CourseName;
use crate::findings::Place;
use crate::measure::Length;

/// Something of the cake that can be chosen, by name.
#[derive(Clone, Debug, PartialEq)]
pub enum Thing {
    /// The board.
    Board,
    /// A tier.
    Tier(String),
    /// A course.
    Course(CourseName),
    /// A seam of a course, by its reading on the tape.
    Seam(CourseName, Length),
    /// A piece.
    Piece(String),
}

impl Thing {
    /// What a body is a part of.
    #[must_use]
    pub fn of(cake: &Cake, owner: Owner) -> Option<Self> {
        match owner {
            Owner::Board => Some(Self::Board),
            Owner::Tier(tier) => cake.tiers.get(tier).map(|tier| Self::Tier(tier.name.clone())),
            Owner::Course(tier, course) => {
                let tier = cake.tiers.get(tier)?;
                Some(Self::Course(CourseName::new(&tier.name, &tier.courses.get(course)?.name)))
            }
            Owner::Piece(piece) => cake.design.pieces.get(piece).map(|piece| Self::Piece(piece.name.clone())),
        }
    }

    /// What a finding is about; `None` for a place that is no part of the cake, such as the order or the box. A seam is reached by
    /// its course; a picture by the first thing that shows it.
    #[must_use]
    pub fn of_place(design: &Design, place: &Place) -> Option<Self> {
        match place {
            Place::Board => Some(Self::Board),
            Place::Tier(tier) => Some(Self::Tier(tier.clone())),
            Place::Course { tier, course } | Place::Seam { tier, course, .. } => {
                Some(Self::Course(CourseName::new(tier, course)))
            }
            Place::Piece(piece) => Some(Self::Piece(piece.clone())),
            Place::Art(path) => Self::of_art(design, path),
            Place::Other(_) => None,
        }
        .filter(|thing| thing.is_in_design(design))
    }

    /// The first piece, or else the first course, that shows a picture.
    fn of_art(design: &Design, path: &str) -> Option<Self> {
        let piece = design.pieces.iter().find(|piece| piece.form.art() == Some(path));
        let shows = |course: &&Course| matches!(&course.kind, CourseKind::Wrap(wrap) if wrap.art == path);
        let course = design.tiers.iter().find_map(|tier| {
            let course = tier.courses.iter().find(shows)?;
            Some(Self::Course(CourseName::new(&tier.name, &course.name)))
        });
        piece.map(|piece| Self::Piece(piece.name.clone())).or(course)
    }

    /// Whether the design has it.
    #[must_use]
    pub fn is_in_design(&self, design: &Design) -> bool {
        match self {
            Self::Board => true,
            Self::Tier(name) => design.tiers.iter().any(|tier| tier.name == *name),
            Self::Course(name) | Self::Seam(name, _) => {
                let mut tiers = design.tiers.iter().filter(|tier| tier.name == name.tier);
                tiers.any(|tier| tier.courses.iter().any(|course| course.name == name.course))
            }
            Self::Piece(name) => design.pieces.iter().any(|piece| piece.name == *name),
        }
    }

    /// Whether the cake's design has it.
    #[must_use]
    pub fn is_in(&self, cake: &Cake) -> bool {
        self.is_in_design(&cake.design)
    }
}

/// A placed piece by its name; `None` for one that is hidden or not there.
pub(in crate::edits) fn placed<'a>(cake: &'a Cake, name: &str) -> Option<&'a CakePiece> {
    cake.pieces.iter().find(|placed| cake.designed(placed).is_some_and(|piece| piece.name == name))
}

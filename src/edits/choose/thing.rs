//! What can be chosen.

use crate::cake::{Cake, CakePiece, Owner};
use crate::edits::CourseName;
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

    /// Whether the design still has it.
    #[must_use]
    pub fn is_in(&self, cake: &Cake) -> bool {
        match self {
            Self::Board => true,
            Self::Tier(name) => cake.tier(name).is_some(),
            Self::Course(name) | Self::Seam(name, _) => {
                cake.tier(&name.tier).is_some_and(|tier| tier.courses.iter().any(|course| course.name == name.course))
            }
            Self::Piece(name) => cake.design.pieces.iter().any(|piece| piece.name == *name),
        }
    }
}

/// A placed piece by its name; `None` for one that is hidden or not there.
pub(in crate::edits) fn placed<'a>(cake: &'a Cake, name: &str) -> Option<&'a CakePiece> {
    cake.pieces.iter().find(|placed| cake.designed(placed).is_some_and(|piece| piece.name == name))
}

//! What can be chosen.

use crate::cake::{Cake, CakePiece, Owner};
use crate::design::Design;
use crate::design::model::{Course, CourseKind, Piece};
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

    /// What a finding is about, from its place (`tier 'base', course 'waves'`); `None` for a place that is no part of the cake,
    /// such as the order or the box.
    #[must_use]
    pub fn of_place(design: &Design, place: &str) -> Option<Self> {
        if place == "board" {
            return Some(Self::Board);
        }
        let piece = |piece: &Piece| {
            let is_told = format!("piece '{}'", piece.name) == place;
            let has_art = piece.form.art().is_some_and(|art| format!("art '{art}'") == place);
            is_told || has_art
        };
        if let Some(piece) = design.pieces.iter().find(|found| piece(found)) {
            return Some(Self::Piece(piece.name.clone()));
        }
        design.tiers.iter().find_map(|tier| {
            let told = format!("tier '{}'", tier.name);
            let course = |course: &&Course| {
                let art = if let CourseKind::Wrap(wrap) = &course.kind { wrap.art.as_str() } else { "" };
                format!("{told}, course '{}'", course.name) == place || format!("art '{art}'") == place
            };
            let course = tier.courses.iter().find(course);
            let course = course.map(|course| Self::Course(CourseName::new(&tier.name, &course.name)));
            course.or_else(|| (told == place).then(|| Self::Tier(tier.name.clone())))
        })
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

//! From the design and its art to the cake.

use std::sync::Arc;

use glam::DVec2;

use super::art_notes::art_notes;
use super::piece::CakePiece;
use super::pieces::PieceError;
use super::place::seat_pieces;
use super::tier::{CakeTier, Carrier, stand};
use crate::art::Shelf;
use crate::design::Design;
use crate::design::model::{Board, BoardShape, CourseKind, Piece};
use crate::findings::Finding;
use crate::measure::Length;
use crate::shapes::{Outline, forms};

/// The board, resolved.
#[derive(Clone, Debug)]
pub struct CakeBoard {
    /// Its outline.
    pub outline: Outline,
    /// From the table to its top face.
    pub thickness: Length,
    /// Name of the finish.
    pub finish: String,
}

/// A whole cake, resolved.
#[derive(Clone, Debug)]
pub struct Cake {
    /// What it was resolved from.
    pub design: Arc<Design>,
    /// The art it uses.
    pub shelf: Arc<Shelf>,
    /// What it stands on.
    pub board: CakeBoard,
    /// From the board up.
    pub tiers: Vec<CakeTier>,
    /// Every piece that is not hidden, in the design's order.
    pub pieces: Vec<CakePiece>,
    /// What resolving found.
    pub findings: Vec<Finding>,
}

impl Cake {
    /// The tier of a name.
    #[must_use]
    pub fn tier(&self, name: &str) -> Option<&CakeTier> {
        self.tiers.iter().find(|tier| tier.name == name)
    }

    /// What a placed piece is in the design.
    #[must_use]
    pub fn designed(&self, placed: &CakePiece) -> Option<&Piece> {
        self.design.pieces.get(placed.index)
    }
}

/// Something that can't be made from what the design gives.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{place}: {source}")]
pub struct CakeError {
    /// Which piece or course.
    pub place: String,
    /// Why.
    pub source: PieceError,
}

/// Resolves a design with its art.
///
/// # Errors
/// A piece whose art can't be cut, or a wrap whose art is no picture.
pub fn resolve(design: &Arc<Design>, shelf: &Arc<Shelf>) -> Result<Cake, CakeError> {
    resolve_after(None, design, shelf)
}

/// Resolves a design that differs a little from that of an earlier cake: the same as [`resolve`] gives, sooner.
///
/// # Errors
/// As [`resolve`].
pub fn resolve_after(before: Option<&Cake>, design: &Arc<Design>, shelf: &Arc<Shelf>) -> Result<Cake, CakeError> {
    prints_are_pictures(design, shelf)?;
    let mut findings = art_notes(design, shelf);
    let mut carrier = Carrier { at: DVec2::ZERO, top: 0.0 };
    let mut tiers = Vec::with_capacity(design.tiers.len());
    for tier in &design.tiers {
        let tier = stand(tier, carrier, design.unit, &mut findings);
        carrier = Carrier { at: tier.at, top: (tier.foot + tier.height).as_mm() };
        tiers.push(tier);
    }
    let mut cake = Cake {
        design: Arc::clone(design),
        shelf: Arc::clone(shelf),
        board: board(&design.board),
        tiers,
        pieces: Vec::new(),
        findings,
    };
    let (pieces, found) = seat_pieces(&cake, before)?;
    cake.pieces = pieces;
    cake.findings.extend(found);
    Ok(cake)
}

/// A wrap that names a font would be printed blank.
fn prints_are_pictures(design: &Design, shelf: &Shelf) -> Result<(), CakeError> {
    for (tier, course) in design.tiers.iter().flat_map(|tier| tier.courses.iter().map(move |course| (tier, course))) {
        let CourseKind::Wrap(wrap) = &course.kind else { continue };
        let judged = shelf.get(&wrap.art).map_or(Ok(()), |art| art.is_picture());
        judged.map_err(|wrong| CakeError {
            place: format!("tier '{}', course '{}'", tier.name, course.name),
            source: PieceError::from(wrong),
        })?;
    }
    Ok(())
}

fn board(board: &Board) -> CakeBoard {
    let (width, depth) = (board.size.width.as_mm(), board.size.depth().as_mm());
    let outline = match board.shape {
        BoardShape::Round => forms::round(width),
        BoardShape::Square => forms::rectangle(width, width, 0.0),
        BoardShape::Rectangle => forms::rectangle(width, depth, 0.0),
    };
    CakeBoard { outline, thickness: board.thickness, finish: board.finish.clone() }
}

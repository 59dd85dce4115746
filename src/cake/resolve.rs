//! From the design and its art to the cake.

use std::collections::BTreeMap;
use std::sync::Arc;

use glam::{DAffine3, DVec2};

use super::art_notes::art_notes;
use super::lacking::shortfall;
use super::lean::{lean, leaning_pose};
use super::piece::{CakePiece, SidePlace};
use super::pieces::{self, Makings, PieceError, PieceMeasure, Posture, rod_radius};
use super::seat::{on_flat, on_front, on_side};
use super::tier::{CakeTier, Carrier, stand};
use crate::art::Shelf;
use crate::design::Design;
use crate::design::model::pieces::Rod;
use crate::design::model::{At, Board, BoardShape, Form, Piece, Surface, Target};
use crate::findings::{Code, Finding};
use crate::measure::{Length, TapePoint, show_length};
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

/// A piece that can't be made from what the design gives.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("piece '{piece}': {source}")]
pub struct CakeError {
    /// Which piece.
    pub piece: String,
    /// Why.
    pub source: PieceError,
}

/// Resolves a design with its art.
///
/// # Errors
/// A piece whose art can't be cut.
pub fn resolve(design: &Arc<Design>, shelf: &Arc<Shelf>) -> Result<Cake, CakeError> {
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
    let (pieces, found) = seat_pieces(&cake)?;
    cake.pieces = pieces;
    cake.findings.extend(found);
    Ok(cake)
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

/// Seats every piece: first those on the board and on tiers, then those on pieces already seated.
fn seat_pieces(cake: &Cake) -> Result<(Vec<CakePiece>, Vec<Finding>), CakeError> {
    let mut riders: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    let mut ready: Vec<(usize, Option<usize>)> = Vec::new();
    for (index, piece) in cake.design.pieces.iter().enumerate().filter(|(_, piece)| !piece.hidden) {
        match &piece.seat.on {
            Target::Piece(name) => riders.entry(name).or_default().push(index),
            Target::Board | Target::Tier(_) => ready.push((index, None)),
        }
    }
    let mut seated: Vec<CakePiece> = Vec::with_capacity(cake.design.pieces.len());
    let mut findings = Vec::new();
    let mut next = 0;
    while let Some(&(index, under)) = ready.get(next) {
        next += 1;
        let Some(piece) = cake.design.pieces.get(index) else { continue };
        let on = under.and_then(|under| seated.get(under));
        seated.push(seat_piece(cake, (index, piece), on, &mut findings)?);
        let carried = riders.remove(piece.name.as_str()).unwrap_or_default();
        ready.extend(carried.into_iter().map(|rider| (rider, Some(seated.len() - 1))));
    }
    seated.sort_by_key(|piece| piece.index);
    Ok((seated, findings))
}

fn seat_piece(
    cake: &Cake,
    (index, piece): (usize, &Piece),
    on: Option<&CakePiece>,
    findings: &mut Vec<Finding>,
) -> Result<CakePiece, CakeError> {
    let makings = Makings { shelf: &cake.shelf, design: &cake.design };
    let measure = pieces::measure(&piece.form, Posture::from(piece.seat.surface), makings)
        .map_err(|source| CakeError { piece: piece.name.clone(), source })?;
    findings.extend(measure.shortfalls.iter().map(|lacking| shortfall(piece, lacking, cake.design.unit)));
    let side = side_place(cake, piece, &measure);
    let pose = match leaning(cake, piece) {
        Some((foot, tier, rod)) => {
            let lean = lean(tier, foot, |up| rod_radius(rod, up));
            findings.extend(too_short(cake, (piece, tier), (lean.contact, measure.size.height)));
            leaning_pose(foot, &lean)
        }
        None => pose(cake, piece, (on, side.as_ref())),
    };
    Ok(CakePiece { index, measure, pose, side })
}

/// A leaning rod, its foot and the tier it leans on.
fn leaning<'a>(cake: &'a Cake, piece: &'a Piece) -> Option<(DVec2, &'a CakeTier, &'a Rod)> {
    let (Form::Rod(rod), At::Plan(foot)) = (&piece.form, piece.at) else { return None };
    let name = rod.leans_on.as_ref()?;
    let tier = cake.tier(name)?;
    Some((DVec2::new(foot.x.as_mm(), foot.z.as_mm()), tier, rod))
}

fn too_short(cake: &Cake, (piece, tier): (&Piece, &CakeTier), (contact, length): (Length, Length)) -> Option<Finding> {
    let lacking = contact - length;
    let says = |length| show_length(length, cake.design.unit);
    let sentence =
        format!("it is {} long and would touch the edge of '{}' only at {}", says(length), tier.name, says(contact));
    let mend = format!("make it {} longer, or set its foot nearer to the tier", says(lacking));
    let finding = Finding::new(Code::RodDoesNotReach, format!("piece '{}'", piece.name), sentence, mend);
    (lacking > Length::ZERO).then(|| finding.by(lacking))
}

/// Where on a tier's side a piece sits; `None` when it sits elsewhere.
fn side_place(cake: &Cake, piece: &Piece, measure: &PieceMeasure) -> Option<SidePlace> {
    let (Target::Tier(name), Surface::Side, At::Tape(at)) = (&piece.seat.on, piece.seat.surface, piece.at) else {
        return None;
    };
    let (index, tier) = cake.tiers.iter().enumerate().find(|(_, tier)| &tier.name == name)?;
    // A scatter's stretch is typed in readings of its own.
    let origin = if matches!(piece.form, Form::Scatter(_)) { TapePoint::default() } else { at };
    let up = origin.up.as_mm();
    let half = match piece.form {
        // A ball touches at one point; flat pieces lie on whatever they cross.
        Form::Ball(_) | Form::Scatter(_) => 0.1,
        _ => measure.size.height.as_mm() / 2.0,
    };
    Some(SidePlace { tier: index, along: origin.along.as_mm(), up, out: tier.surface_out(up, half) })
}

fn pose(cake: &Cake, piece: &Piece, (on, side): (Option<&CakePiece>, Option<&SidePlace>)) -> DAffine3 {
    match (&piece.seat.on, side) {
        (Target::Tier(_), Some(place)) => {
            cake.tiers.get(place.tier).map_or(DAffine3::IDENTITY, |tier| on_side(tier, place, piece.turn))
        }
        (Target::Tier(name), None) => {
            let tier = cake.tier(name);
            tier.map_or(DAffine3::IDENTITY, |tier| on_flat(&tier.pose(), tier.height.as_mm(), piece.at, piece.turn))
        }
        (Target::Board, _) => on_flat(&DAffine3::IDENTITY, 0.0, piece.at, piece.turn),
        (Target::Piece(_), _) => on.map_or(DAffine3::IDENTITY, |on| match piece.seat.surface {
            Surface::Side => on_front(&on.pose, on.measure.size.depth.as_mm() / 2.0, piece.at, piece.turn),
            Surface::Top | Surface::Board => on_flat(&on.pose, on.measure.size.height.as_mm(), piece.at, piece.turn),
        }),
    }
}

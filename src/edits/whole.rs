//! Edits of the design as a whole, and what is added to it.

use super::Refusal;
use super::first::{NewPiece, first_piece, first_tier};
use super::names::free_name;
use crate::design::Design;
use crate::design::model::{Board, Kitchen, Order, Proof, Transport, Viewing};
use crate::measure::Unit;

/// An edit of the design as a whole.
#[derive(Clone, Debug, PartialEq)]
pub enum WholeEdit {
    /// What the cake is called.
    Title(String),
    /// The unit of bare numbers and of everything shown; no size changes.
    Unit(Unit),
    /// What the cake stands on.
    Board(Board),
    /// For whom and when.
    Order(Order),
    /// From where the cake is looked at.
    Viewing(Viewing),
    /// What the finished cake must go into.
    Transport(Transport),
    /// The person's habits and rates.
    Kitchen(Kitchen),
    /// How the proof is made.
    Proof(Proof),
    /// Another design in its place: what the disk has, a starter.
    Become(Box<Design>),
    /// A tier, with first sizes for this cake, at this place from the board up; the top when there is none such.
    AddTier(usize),
    /// A piece, with first sizes for this cake.
    AddPiece(NewPiece),
}

impl WholeEdit {
    /// Changes no piece and no name that one may mention, nor how lengths are written.
    pub(super) const fn leaves_pieces(&self) -> bool {
        match self {
            Self::Title(_) | Self::Board(_) | Self::Order(_) | Self::Viewing(_) | Self::Transport(_) => true,
            Self::Kitchen(_) | Self::Proof(_) => true,
            Self::Unit(_) | Self::Become(_) | Self::AddTier(_) | Self::AddPiece(_) => false,
        }
    }
}

pub(super) fn carry_out(design: &mut Design, edit: &WholeEdit) -> Result<(), Refusal> {
    match edit {
        WholeEdit::Title(title) => title.clone_into(&mut design.title),
        WholeEdit::Unit(unit) => design.unit = *unit,
        WholeEdit::Board(board) => design.board = board.clone(),
        WholeEdit::Order(order) => design.order = order.clone(),
        WholeEdit::Viewing(viewing) => design.viewing = *viewing,
        WholeEdit::Transport(transport) => design.transport = *transport,
        WholeEdit::Kitchen(kitchen) => design.kitchen = kitchen.clone(),
        WholeEdit::Proof(proof) => design.proof = *proof,
        WholeEdit::Become(other) => *design = (**other).clone(),
        WholeEdit::AddTier(place) => {
            let place = (*place).min(design.tiers.len());
            let tier = first_tier(design, place);
            design.tiers.insert(place, tier);
        }
        WholeEdit::AddPiece(new) => {
            let mut piece = first_piece(design, new)?;
            piece.name = free_name(design, &piece.name);
            design.pieces.push(piece);
        }
    }
    Ok(())
}

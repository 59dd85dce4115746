//! Holds an edited design to the reader's rules, as cheaply as the edit allows.

use std::collections::BTreeSet;

use super::NamedEdit;
use super::Refusal;
use super::edit::Edit;
use crate::design::model::{Form, Piece, Target};
use crate::design::{Design, accept};

/// What an edit may have changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Touched {
    /// Anything.
    All,
    /// Values of this piece, and neither names nor which pieces there are.
    Piece(String),
    /// Values of anything but pieces, and no name that a piece may mention.
    Rest,
}

impl Touched {
    pub(super) fn by(edit: &Edit) -> Self {
        match edit {
            Edit::Piece(name, edit) if edit.keeps_to_itself() => Self::Piece(name.clone()),
            Edit::Tier(_, edit) if edit.leaves_pieces() => Self::Rest,
            Edit::Whole(edit) if edit.leaves_pieces() => Self::Rest,
            // No piece names a course.
            Edit::Course(..) => Self::Rest,
            Edit::Finish(_, NamedEdit::Set(_))
            | Edit::Paste(_, NamedEdit::Set(_))
            | Edit::Sheet(_, NamedEdit::Set(_)) => Self::Rest,
            _ => Self::All,
        }
    }
}

/// The design as its file would give it back.
pub(super) fn accepted(mut design: Design, touched: &Touched) -> Result<Design, Refusal> {
    let name = match touched {
        Touched::All => return Ok(accept(&design)?),
        Touched::Rest => {
            let pieces = std::mem::take(&mut design.pieces);
            return Ok(Design { pieces, ..accept(&design)? });
        }
        Touched::Piece(name) => name,
    };
    // A drag asks many times a second: of a cake with thousands of pieces, the reader sees only those that matter.
    let mattering = what_matters(&design.pieces, name);
    let all = std::mem::replace(&mut design.pieces, mattering);
    let read = accept(&design)?;
    design.pieces = all;
    let changed = read.pieces.into_iter().find(|piece| piece.name == *name);
    let place = design.pieces.iter_mut().find(|piece| piece.name == *name);
    if let (Some(place), Some(changed)) = (place, changed) {
        *place = changed;
    }
    Ok(design)
}

/// One piece, those that carry it, and those that count together with it (the balls of all scatters).
fn what_matters(pieces: &[Piece], name: &str) -> Vec<Piece> {
    let mut kept: BTreeSet<&str> = BTreeSet::new();
    let mut next = Some(name);
    while let Some(name) = next.filter(|name| kept.insert(name)) {
        next = match pieces.iter().find(|piece| piece.name == name).map(|piece| &piece.seat.on) {
            Some(Target::Piece(carrier)) => Some(carrier),
            _ => None,
        };
    }
    let matters = |piece: &&Piece| kept.contains(piece.name.as_str()) || matches!(piece.form, Form::Scatter(_));
    pieces.iter().filter(matters).cloned().collect()
}

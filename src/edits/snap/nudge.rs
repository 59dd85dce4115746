//! Small steps: by arrow keys, by the marks of a ruler.

use crate::design::Design;
use crate::design::model::{At, Piece};
use crate::edits::{Edit, PieceEdit, middle};
use crate::measure::{Length, PlanPoint, TapePoint, Unit};

/// Which way a piece is nudged, as an arrow key points: on a top or the board, up is away from the customer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// To the customer's left.
    Left,
    /// To the customer's right.
    Right,
    /// Up a side; away from the customer.
    Up,
    /// Down a side; towards the customer.
    Down,
}

/// The step of an arrow key: 1/16 in or 1 mm.
#[must_use]
pub const fn nudge_step(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::inches(1.0 / 16.0),
        Unit::Millimetre | Unit::Centimetre => Length::mm(1.0),
    }
}

/// The step between two marks of the ruler that places snap to: 1/8 in or 5 mm.
#[must_use]
pub const fn ruler_step(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::inches(0.125),
        Unit::Millimetre | Unit::Centimetre => Length::mm(5.0),
    }
}

/// Moves a piece a step along its seat; `None` when there is no such piece.
#[must_use]
pub fn nudge(design: &Design, piece: &str, (direction, step): (Direction, Length)) -> Option<Edit> {
    let piece: &Piece = design.pieces.iter().find(|found| found.name == piece)?;
    let (right, up) = match direction {
        Direction::Left => (-step, Length::ZERO),
        Direction::Right => (step, Length::ZERO),
        Direction::Up => (Length::ZERO, step),
        Direction::Down => (Length::ZERO, -step),
    };
    let at = match middle(piece) {
        At::Tape(at) => At::Tape(TapePoint { along: at.along + right, up: at.up + up }),
        At::Plan(at) => At::Plan(PlanPoint { x: at.x + right, z: at.z - up }),
    };
    Some(Edit::piece(&piece.name, PieceEdit::Move(piece.seat.clone(), at)))
}

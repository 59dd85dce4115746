//! What holds a piece, in its first sizes: a topper's stick, a rod's.

use super::room::Room;
use crate::design::Design;
use crate::design::model::Piece;
use crate::design::model::pieces::{Picks, Stick};

/// A topper's first stick.
pub(in crate::edits) fn first_picks(design: &Design, piece: &Piece) -> Option<Picks> {
    let room = Room::of_seat(design, &piece.seat);
    let first = |figure: &str| room.first("topper", figure);
    let [diameter, into_piece, into_cake] = [first("diameter")?, first("into_piece")?, first("into_cake")?];
    Some(Picks { count: 1, diameter, into_piece, into_cake, side_pins: None })
}

/// A rod's first stick.
pub(in crate::edits) fn first_stick(design: &Design, piece: &Piece) -> Option<Stick> {
    let room = Room::of_seat(design, &piece.seat);
    Some(Stick { diameter: room.first("rod", "stick")?, into_board: room.first("rod", "into_board")? })
}

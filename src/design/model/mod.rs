//! The design: one cake, its pieces, its order, as plain values.
//!
//! One file an idea; the pieces have one file a kind. Values keep the person's meaning (a height that says `fill`, a seat
//! by name); what follows from them is worked out in [`crate::cake`].

mod board;
mod course;
mod finish;
mod order;
mod piece;
pub mod pieces;
mod planning;
mod tier;
mod transport;
mod viewing;

use std::collections::BTreeMap;

pub use board::{Board, BoardShape};
pub use course::{Course, CourseHeight, CourseKind, Fit, JoinFree, SeamPlace, Shift, Under, Wrap};
pub use finish::{Finish, Look, Paste, Sheet};
pub use order::{Kitchen, Order, Paper, Proof, Slice};
pub use piece::{At, Form, Piece, Seat, Surface, Target};
pub use planning::Planning;
pub use tier::{Dowels, Measured, Size, Tier, TierShape};
pub use transport::Transport;
pub use viewing::Viewing;

use crate::measure::Unit;

/// The whole document.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Design {
    /// What the cake is called.
    pub title: String,
    /// The unit of bare numbers, and of everything shown.
    pub unit: Unit,
    /// For whom and when.
    pub order: Order,
    /// What the cake stands on.
    pub board: Board,
    /// From the board up.
    pub tiers: Vec<Tier>,
    /// Everything placed on the cake.
    pub pieces: Vec<Piece>,
    /// The design's own finishes by name; [`crate::design::finishes`] adds the known ones.
    pub finishes: BTreeMap<String, Finish>,
    /// The design's own pastes by name.
    pub pastes: BTreeMap<String, Paste>,
    /// The design's own printing sheets by name.
    pub sheets: BTreeMap<String, Sheet>,
    /// From where the cake will be looked at.
    pub viewing: Viewing,
    /// What the finished cake must go into.
    pub transport: Transport,
    /// The person's habits and rates.
    pub kitchen: Kitchen,
    /// How the proof is made.
    pub proof: Proof,
    /// What a wrap's seams are weighed by.
    pub planning: Planning,
}

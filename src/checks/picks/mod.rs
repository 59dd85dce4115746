//! Sticks and pins: long enough, not too deep, with paste and cake enough round them.

mod deep;
mod meet;
mod paste;
mod short;
mod side;
mod twist;

use crate::cake::pieces::PickMeasure;
use crate::cake::{Cake, CakePiece, CakeTier};
use crate::design::model::{Piece, Target};
use crate::findings::Finding;

/// Every rule about sticks.
pub(super) const RULES: [fn(&Cake) -> Vec<Finding>; 6] =
    [short::check, deep::check, side::check, paste::check, twist::check, meet::check];

/// A piece where it sits, as designed and as resolved.
#[derive(Clone, Copy)]
struct Held<'a> {
    piece: &'a Piece,
    placed: &'a CakePiece,
}

impl<'a> Held<'a> {
    /// The tier that it sits on.
    fn tier(&self, cake: &'a Cake) -> Option<&'a CakeTier> {
        match &self.piece.seat.on {
            Target::Tier(name) => cake.tier(name),
            Target::Board | Target::Piece(_) => None,
        }
    }
}

/// At most one finding a piece: what `judge` says of its picks, the worst of them.
fn worst<'a>(cake: &'a Cake, judge: impl Fn(Held<'a>, &PickMeasure) -> Option<Finding>) -> Vec<Finding> {
    let worst = cake.pieces.iter().filter_map(|placed| {
        let held = Held { piece: cake.designed(placed)?, placed };
        let found = placed.measure.picks.iter().filter_map(|pick| judge(held, pick));
        found.max_by(|a, b| a.by.partial_cmp(&b.by).unwrap_or(std::cmp::Ordering::Equal))
    });
    worst.collect()
}

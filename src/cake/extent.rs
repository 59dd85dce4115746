//! The room a cake takes: over everything, and on its board.

use glam::{DAffine3, DVec2, DVec3};

use super::resolve::Cake;
use crate::design::model::{BoardShape, Target};
use crate::measure::Length;

/// Least and greatest place of everything, board included, mm in the cake's frame.
#[must_use]
pub fn overall(cake: &Cake) -> (DVec3, DVec3) {
    let (low, high) = cake.board.outline.bounds();
    let board = [DVec3::new(low.x, -cake.board.thickness.as_mm(), low.y), DVec3::new(high.x, 0.0, high.y)];
    let tiers = cake.tiers.iter().flat_map(|tier| {
        let pose = tier.pose();
        let out = tier.courses.iter().map(|course| course.outer).fold(0.0, f64::max);
        let around: Vec<DVec3> = tier
            .outline
            .stations()
            .iter()
            .map(|station| station.place(out))
            .flat_map(|at| [0.0, tier.height.as_mm()].map(|up| pose.transform_point3(DVec3::new(at.x, up, at.y))))
            .collect();
        around
    });
    let pieces = cake.pieces.iter().flat_map(|piece| {
        let size = piece.measure.size;
        corners(&piece.pose, (&piece.measure.footprint, piece.side.is_some()), (size.height, piece.measure.reach))
    });
    board
        .into_iter()
        .chain(tiers)
        .chain(pieces)
        .fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
}

/// The footprint of a piece at its seat and as far as it reaches from it.
fn corners(pose: &DAffine3, (footprint, on_side): (&[DVec2], bool), (height, reach): (Length, Length)) -> Vec<DVec3> {
    let out = if on_side { reach } else { height.max(reach) };
    let at = |place: &DVec2, away: f64| match on_side {
        true => DVec3::new(place.x, place.y, away),
        false => DVec3::new(place.x, away, place.y),
    };
    footprint.iter().flat_map(|place| [0.0, out.as_mm()].map(|away| pose.transform_point3(at(place, away)))).collect()
}

/// Across a board on which everything that stands on it just fits, its middle where it is now.
#[must_use]
pub fn board_needed(cake: &Cake) -> Length {
    let base = cake.tiers.first().into_iter().flat_map(|tier| {
        let pose = tier.pose();
        let out =
            tier.courses.iter().filter(|course| course.bottom < 1.0).map(|course| course.outer).fold(0.0, f64::max);
        let foot: Vec<DVec2> = tier
            .outline
            .stations()
            .iter()
            .map(|station| station.place(out))
            .map(|at| pose.transform_point3(DVec3::new(at.x, 0.0, at.y)))
            .map(|at| DVec2::new(at.x, at.z))
            .collect();
        foot
    });
    let on_board = cake
        .pieces
        .iter()
        .filter(|placed| cake.design.pieces.get(placed.index).is_some_and(|piece| piece.seat.on == Target::Board));
    let places = base.chain(on_board.flat_map(super::CakePiece::footprint_in_cake));
    let round = cake.design.board.shape == BoardShape::Round;
    let proportion = cake.design.board.size.depth() / cake.design.board.size.width;
    let reach = places.map(|at| if round { at.length() } else { at.x.abs().max(at.y.abs() / proportion) });
    Length::mm(2.0 * reach.fold(0.0, f64::max))
}

//! The room a cake takes: over everything, and on its board.

use glam::{DAffine3, DVec2, DVec3};

use super::piece::CakePiece;
use super::pieces::{Posture, rod_profile};
use super::resolve::Cake;
use super::seat::{Drape, before_side};
use super::{CakeCourse, CakeTier};
use crate::design::model::pieces::Rod;
use crate::design::model::{BoardShape, Form, Surface, Target};
use crate::measure::Length;

/// Soft forms, as those of a bow, reach beyond their figures by less than this, mm.
const BOX_MARGIN: f64 = 3.0;
/// Steps along the edge of a footprint that runs round a side, mm.
const EDGE_STEP: f64 = 8.0;

/// Least and greatest place of everything, board included, mm in the cake's frame.
#[must_use]
pub fn overall(cake: &Cake) -> (DVec3, DVec3) {
    let (low, high) = cake.board.outline.bounds();
    let board = [DVec3::new(low.x, -cake.board.thickness.as_mm(), low.y), DVec3::new(high.x, 0.0, high.y)];
    let tiers = cake
        .tiers
        .iter()
        .flat_map(|tier| [0.0, tier.height.as_mm()].into_iter().flat_map(|up| around(tier, up, |_| true)));
    let pieces = cake.pieces.iter().flat_map(|piece| piece_corners(cake, piece));
    board
        .into_iter()
        .chain(tiers)
        .chain(pieces)
        .fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
}

/// Places once round a tier at a height above its foot, as far out as the farthest of the courses that count.
fn around(tier: &CakeTier, up: f64, counts: impl Fn(&CakeCourse) -> bool) -> Vec<DVec3> {
    let out = tier.courses.iter().filter(|course| counts(course)).map(|course| course.outer).fold(0.0, f64::max);
    let places = tier.outline.stations().into_iter().map(|station| station.place(out));
    places.map(|at| tier.pose().transform_point3(DVec3::new(at.x, up, at.y))).collect()
}

/// The box round a piece, mm in the cake's frame, a little wider than it has to be.
#[must_use]
pub fn piece_box(cake: &Cake, placed: &CakePiece) -> (DVec3, DVec3) {
    let corners = piece_corners(cake, placed).into_iter();
    let (low, high) =
        corners.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)));
    (low - BOX_MARGIN, high + BOX_MARGIN)
}

/// Places that a piece's footprint takes at its seat and as far as it reaches from it, mm in the cake's frame.
fn piece_corners(cake: &Cake, placed: &CakePiece) -> Vec<DVec3> {
    let measure = &placed.measure;
    let piece = cake.designed(placed);
    if let Some((Form::Rod(rod), Surface::Top | Surface::Board)) = piece.map(|piece| (&piece.form, piece.seat.surface))
        && placed.tilt == DAffine3::IDENTITY
    {
        return rod_corners(rod, placed);
    }
    let side = placed.side.as_ref().and_then(|side| Some((side, cake.tiers.get(side.tier)?)));
    if let Some((side, tier)) = side.filter(|_| !measure.balls.is_empty()) {
        return balls(tier, (placed, Drape::of(tier, side)));
    }
    let Some(drape) = side.and_then(|(side, tier)| Drape::of(tier, side)) else {
        let posture = piece.map_or(Posture::OnTop, |piece| Posture::from(piece.seat.surface));
        let at = |place: &DVec2, away: f64| placed.pose.transform_point3(posture.place(*place, away));
        // What is pressed in reaches below its seat.
        let sunk = if let Some(Form::Ball(ball)) = piece.map(|piece| &piece.form) { ball.sunk.as_mm() } else { 0.0 };
        let reach = measure.reach.as_mm();
        return measure.footprint.iter().flat_map(|place| [-sunk, reach].map(|away| at(place, away))).collect();
    };
    // On a side, a wide footprint runs round it: its edges are followed in steps.
    let ends = measure.footprint.iter().zip(measure.footprint.iter().cycle().skip(1));
    let edge = ends.flat_map(|(from, to)| {
        let steps = (from.distance(*to) / EDGE_STEP).ceil().clamp(1.0, 400.0) as u32;
        (0..steps).map(move |step| from.lerp(*to, f64::from(step) / f64::from(steps)))
    });
    let reach = measure.reach.as_mm();
    edge.flat_map(|place| [0.0, reach].map(|out| drape.lay(place.extend(out)))).collect()
}

/// The boxes round the balls of a scatter on a side.
fn balls(tier: &CakeTier, (placed, drape): (&CakePiece, Option<Drape>)) -> Vec<DVec3> {
    let boxes = placed.measure.balls.iter().flat_map(|ball| {
        let lies = ball.at.extend(ball.across / 2.0);
        let middle = match &drape {
            Some(drape) => drape.lay(lies),
            None => before_side(tier, ball.at, ball.across / 2.0).translation,
        };
        [-1.0, 1.0].map(|way| middle + DVec3::splat(way * ball.across / 2.0))
    });
    boxes.collect()
}

/// The box round a rod, standing or leaning on something: no box in its own frame fits one that leans, so each circle of its
/// outside is boxed by itself. A circle of radius r about an axis a reaches r·√(1 − aᵢ²) along the i-th direction.
fn rod_corners(rod: &Rod, placed: &CakePiece) -> Vec<DVec3> {
    let axis = placed.pose.matrix3.y_axis;
    let spread = (DVec3::ONE - axis * axis).max(DVec3::ZERO).map(f64::sqrt);
    let circles = rod_profile(rod).into_iter().map(|at| (placed.pose.transform_point3(DVec3::Y * at.y), spread * at.x));
    // Its foot goes down into the board a little where it leans, and counts no further than that.
    circles
        .flat_map(|(middle, reach)| {
            [(middle - reach).max(DVec3::new(f64::NEG_INFINITY, 0.0, f64::NEG_INFINITY)), middle + reach]
        })
        .collect()
}

/// Across a board that the lowest tier with its courses just fits, its middle where it is now.
#[must_use]
pub fn base_needs(cake: &Cake) -> Length {
    across(cake, base(cake).into_iter())
}

/// Places round the foot of the lowest tier, (x, z) in mm.
fn base(cake: &Cake) -> Vec<DVec2> {
    let base = cake.tiers.first().map(|tier| around(tier, 0.0, |course| course.bottom < 1.0)).unwrap_or_default();
    base.into_iter().map(|at| DVec2::new(at.x, at.z)).collect()
}

/// Across a board on which everything that stands on it just fits, its middle where it is now.
#[must_use]
pub fn board_needed(cake: &Cake) -> Length {
    let on_board =
        cake.pieces.iter().filter(|placed| cake.designed(placed).is_some_and(|piece| piece.seat.on == Target::Board));
    across(cake, base(cake).into_iter().chain(on_board.flat_map(CakePiece::footprint_in_cake)))
}

/// Across a board, as its size is meant, that holds these places.
fn across(cake: &Cake, places: impl Iterator<Item = DVec2>) -> Length {
    let round = cake.design.board.shape == BoardShape::Round;
    let proportion = cake.design.board.size.depth() / cake.design.board.size.width;
    let reach = places.map(|at| if round { at.length() } else { at.x.abs().max(at.y.abs() / proportion) });
    Length::mm(2.0 * reach.fold(0.0, f64::max))
}

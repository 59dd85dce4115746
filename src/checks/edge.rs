//! `piece-over-edge`: a piece that stands out beyond the edge of its seat. The board has a rule of its own.

use glam::{DVec2, DVec3};

use crate::cake::{Cake, CakePiece};
use crate::design::model::{Piece, Surface, Target};
use crate::findings::{Code, Finding, Place, Threshold};
use crate::measure::{Length, show_length};

pub(super) fn check(cake: &Cake) -> Vec<Finding> {
    over(cake, |_| true).into_iter().map(|(_, finding)| finding).collect()
}

/// What stands out, of the design's pieces that count, each with its number.
pub(super) fn over(cake: &Cake, counts: impl Fn(usize) -> bool) -> Vec<(usize, Finding)> {
    let over = cake.pieces.iter().filter(|placed| counts(placed.index)).filter_map(|placed| {
        let piece = cake.designed(placed)?;
        let (by, which) = match piece.seat.surface {
            Surface::Top => (over_top(cake, piece, placed)?, "edge of its seat"),
            Surface::Side => over_side(cake, placed)?,
            Surface::Board => return None,
        };
        (by > Threshold::Edge.value()).then(|| {
            let says = show_length(Length::mm(by), cake.design.unit);
            let sentence = format!("it stands out {says} beyond the {which}");
            let mend = format!("move it {says} inward, or make it smaller");
            let place = Place::piece(&piece.name);
            (placed.index, Finding::new(Code::PieceOverEdge, place, sentence, mend).by(Length::mm(by)))
        })
    });
    over.collect()
}

fn over_top(cake: &Cake, piece: &Piece, placed: &CakePiece) -> Option<f64> {
    let Target::Tier(name) = &piece.seat.on else { return None };
    let tier = cake.tier(name)?;
    let to_tier = tier.pose().inverse() * placed.pose;
    let beyond = placed.measure.footprint.iter().map(|at| {
        let place = to_tier.transform_point3(DVec3::new(at.x, 0.0, at.y));
        tier.outline.beyond(DVec2::new(place.x, place.z))
    });
    Some(beyond.fold(0.0, f64::max))
}

fn over_side(cake: &Cake, placed: &CakePiece) -> Option<(f64, &'static str)> {
    let side = placed.side?;
    let tier = cake.tiers.get(side.tier)?;
    let turn = DVec2::from_angle(side.turn.as_radians());
    let ups = placed.measure.footprint.iter().map(|at| side.up + turn.rotate(*at).y);
    let (low, high) = ups.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), up| (low.min(up), high.max(up)));
    let (below, above) = (-low, high - tier.height.as_mm());
    Some(if above > below { (above, "top of the side") } else { (below, "foot of the side") })
}

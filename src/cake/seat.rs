//! Where a piece sits: from a seat and a place on it to a pose in the cake's frame.

use glam::{DAffine3, DMat3, DVec3};

use super::piece::SidePlace;
use super::tier::CakeTier;
use crate::design::model::At;
use crate::measure::Angle;

/// Upright on a flat seat: `frame` is the seat's own, its top `height` mm above that frame's origin.
#[must_use]
pub(super) fn on_flat(frame: &DAffine3, height: f64, at: At, turn: Angle) -> DAffine3 {
    let place = match at {
        At::Plan(point) => DVec3::new(point.x.as_mm(), height, point.z.as_mm()),
        At::Tape(point) => DVec3::new(point.along.as_mm(), height, 0.0),
    };
    *frame * DAffine3 { matrix3: DMat3::from_rotation_y(turn.as_radians()), translation: place }
}

/// Flat against the front of another piece whose front face lies `depth` mm before its own origin.
#[must_use]
pub(super) fn on_front(frame: &DAffine3, depth: f64, at: At, turn: Angle) -> DAffine3 {
    let place = match at {
        At::Tape(point) => DVec3::new(point.along.as_mm(), point.up.as_mm(), depth),
        At::Plan(point) => DVec3::new(point.x.as_mm(), 0.0, depth),
    };
    *frame * DAffine3 { matrix3: DMat3::from_rotation_z(turn.as_radians()), translation: place }
}

/// Against the side of a tier: x along it to the right, y up, z outward, turned as seen from in front of it.
#[must_use]
pub(super) fn on_side(tier: &CakeTier, place: &SidePlace, turn: Angle) -> DAffine3 {
    let spot = tier.outline.at(place.along);
    let outward = DVec3::new(spot.outward.x, 0.0, spot.outward.y);
    let rightward = DVec3::Y.cross(outward);
    let origin = DVec3::new(spot.point.x, place.up, spot.point.y) + outward * place.out;
    let flat = DAffine3 { matrix3: DMat3::from_cols(rightward, DVec3::Y, outward), translation: origin };
    tier.pose() * flat * DAffine3::from_mat3(DMat3::from_rotation_z(turn.as_radians()))
}

/// Where a place of a soft piece lies when the piece follows the side: `local` is in the piece's own flat frame.
#[must_use]
pub(super) fn bent(tier: &CakeTier, place: &SidePlace, turn: Angle, local: DVec3) -> DVec3 {
    let flat = DMat3::from_rotation_z(turn.as_radians()) * local;
    let spot = tier.outline.at(place.along + flat.x);
    let out = place.out + flat.z;
    let at = spot.point + spot.outward * out;
    tier.pose().transform_point3(DVec3::new(at.x, place.up + flat.y, at.y))
}

//! Where a piece sits: from a seat and a place on it to a pose in the cake's frame.

use glam::{DAffine3, DMat3, DVec2, DVec3};

use super::piece::{Lie, SidePlace};
use super::tier::CakeTier;
use crate::design::model::At;
use crate::measure::Angle;
use crate::shapes::{Outline, Spot};

/// What bends lies this far off the side, mm, so that its back does not shrink to a line at a sharp corner.
const HAIR: f64 = 0.02;

/// A bridge over a cleft is this much wider than what lies on it asks, mm.
const EASE: f64 = 2.0;

/// Upright on a flat seat: `frame` is the seat's own, its top `height` mm above that frame's origin.
#[must_use]
pub(super) fn on_flat(frame: &DAffine3, height: f64, (at, turn): (At, Angle)) -> DAffine3 {
    let place = match at {
        At::Plan(point) => DVec3::new(point.x.as_mm(), height, point.z.as_mm()),
        At::Tape(point) => DVec3::new(point.along.as_mm(), height, 0.0),
    };
    *frame * DAffine3 { matrix3: DMat3::from_rotation_y(turn.as_radians()), translation: place }
}

/// Flat against the front of another piece, whose front face lies `depth` mm before its own origin.
#[must_use]
pub(super) fn on_front(frame: &DAffine3, depth: f64, (at, turn): (At, Angle)) -> DAffine3 {
    *frame * DAffine3 { matrix3: DMat3::from_rotation_z(turn.as_radians()), translation: on_tape(at).extend(depth) }
}

/// A place on a side or front: along and up, mm.
#[must_use]
pub(super) fn on_tape(at: At) -> DVec2 {
    match at {
        At::Tape(point) => DVec2::new(point.along.as_mm(), point.up.as_mm()),
        At::Plan(point) => DVec2::new(point.x.as_mm(), 0.0),
    }
}

/// Against the side of a tier: x along it to the right, y up, z outward, turned as seen from in front of it.
#[must_use]
pub(super) fn on_side(tier: &CakeTier, place: &SidePlace) -> DAffine3 {
    let spot = tier.outline.facing(place.along);
    let turn = DAffine3::from_mat3(DMat3::from_rotation_z(place.turn.as_radians()));
    tier.pose() * facing(&spot, (place.up, place.out)) * turn
}

/// The frame of a place `up` mm above the foot and `out` mm out from a spot, looking outward.
fn facing(spot: &Spot, (up, out): (f64, f64)) -> DAffine3 {
    let outward = DVec3::new(spot.outward.x, 0.0, spot.outward.y);
    let origin = DVec3::new(spot.point.x, up, spot.point.y) + outward * out;
    DAffine3 { matrix3: DMat3::from_cols(DVec3::Y.cross(outward), DVec3::Y, outward), translation: origin }
}

/// The frame of a ball's middle, `height` mm before whatever is on the side at its place (along, up).
#[must_use]
pub(super) fn before_side(tier: &CakeTier, at: DVec2, height: f64) -> DAffine3 {
    let out = tier.surface_out(at.y, 0.1) + height;
    tier.pose() * facing(&tier.outline.facing(at.x), (at.y, out))
}

/// The side of a tier as something soft lies on it: round its corners, across its clefts.
pub(super) struct Drape<'a> {
    tier: &'a CakeTier,
    place: &'a SidePlace,
    neutral: f64,
    /// The line on which its lengths are true, and where on it the piece's own place is.
    line: Outline,
    start: f64,
}

impl<'a> Drape<'a> {
    /// `None` for what is stiff.
    pub fn of(tier: &'a CakeTier, place: &'a SidePlace) -> Option<Self> {
        let Lie::Soft { neutral, reach } = place.lie else { return None };
        let out = place.out + neutral + HAIR;
        let line = tier.outline.draped(out, (reach - neutral).max(0.0) + EASE);
        let spot = tier.outline.facing(place.along);
        let start = line.nearest(spot.point + spot.outward * out);
        Some(Self { tier, place, neutral, line, start })
    }

    /// Where a place of the piece's flat frame lies, in the cake's frame.
    pub fn lay(&self, local: DVec3) -> DVec3 {
        self.pose(self.turned().transform_point3(local)).translation
    }

    /// The frame at a place already turned: x along, y up, z out of the piece's back.
    pub fn pose(&self, flat: DVec3) -> DAffine3 {
        let spot = self.line.at(self.start + flat.x);
        self.tier.pose() * facing(&spot, (self.place.up + flat.y, flat.z - self.neutral))
    }

    /// How the piece is turned on the side.
    pub fn turned(&self) -> DAffine3 {
        DAffine3::from_rotation_z(self.place.turn.as_radians())
    }

    /// Where, within a stretch along the piece, it must be able to bend.
    pub fn folds(&self, (from, to): (f64, f64)) -> Vec<f64> {
        self.line.bends((self.start + from, self.start + to)).into_iter().map(|at| at - self.start).collect()
    }
}

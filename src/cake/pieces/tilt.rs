//! A piece that leans on its seat instead of standing or lying as its kind does.

use glam::{DAffine3, DMat3, DVec2, DVec3};

use super::measures::hull;
use super::{Part, PickMeasure, PieceMeasure, Posture};
use crate::measure::{Angle, Length};

/// A stick that runs flatter than this into its seat (the sine) is left as it is.
const FLAT: f64 = 0.2;

/// Leans the bodies of a piece about its left-right line and sets them down so that they touch the seat: the motion, and
/// the piece's figures as they are then. Its own size and what is cut stay.
#[must_use]
pub fn tilted(parts: &[Part], (posture, tilt): (Posture, Angle), measure: &PieceMeasure) -> (DAffine3, PieceMeasure) {
    let turn = DMat3::from_rotation_x(tilt.as_radians());
    let bodies = parts.iter().filter(|part| !part.is_stick());
    let corners = bodies.flat_map(|part| part.mesh.positions.iter().map(|&at| turn * part.pose.transform_point3(at)));
    let corners: Vec<DVec3> = corners.collect();
    let heights = corners.iter().map(|at| at.dot(posture.out()));
    let (low, high) = heights.fold((f64::MAX, f64::MIN), |(low, high), up| (low.min(up), high.max(up)));
    if low > high {
        return (DAffine3::IDENTITY, measure.clone());
    }
    let motion = DAffine3 { matrix3: turn, translation: posture.out() * -low };
    let flat = |at: &DVec3| match posture {
        Posture::OnTop => DVec2::new(at.x, at.z),
        Posture::OnSide => at.truncate(),
    };
    let leant = PieceMeasure {
        reach: Length::mm(high - low),
        footprint: hull(corners.iter().map(flat).collect()),
        picks: measure.picks.iter().map(|pick| leant(pick, posture, &motion)).collect(),
        ..measure.clone()
    };
    (motion, leant)
}

/// A stick that goes with the piece: where it enters the seat then, and how deep it goes.
fn leant(pick: &PickMeasure, posture: Posture, motion: &DAffine3) -> PickMeasure {
    let (entry, toward) = (motion.transform_point3(pick.entry), motion.matrix3 * pick.toward);
    let steep = -toward.dot(posture.out());
    if steep < FLAT {
        return PickMeasure { entry, toward, ..*pick };
    }
    let to_seat = entry.dot(posture.out()) / steep;
    let into_cake = (pick.into_cake - Length::mm(to_seat)).max(Length::ZERO);
    PickMeasure { entry: entry + toward * to_seat, toward, into_cake, ..*pick }
}

//! What every kind of piece is tried against in its tests.

use glam::DVec3;

use super::{Paint, Part, PieceMeasure};
use crate::shapes::build::laws;

/// Every part keeps the laws of meshes, names are unique, and the paste measured is the paste built, within `share`.
pub(super) fn agree(measured: &PieceMeasure, parts: &[Part], share: f64) {
    assert!(!parts.is_empty());
    for (number, part) in parts.iter().enumerate() {
        laws::keep(&part.mesh).unwrap_or_else(|breach| panic!("{}: {breach}", part.name));
        assert!((part.pose.matrix3.determinant() - 1.0).abs() < 1e-9, "{} is turned, never mirrored", part.name);
        assert!(parts.iter().skip(number + 1).all(|other| other.name != part.name), "{} twice", part.name);
    }
    for (finish, volume) in &measured.volumes {
        let of_finish = parts.iter().filter(|part| part.paint == Paint::Finish(finish.clone()));
        let built: f64 = of_finish.map(|part| part.mesh.volume()).sum();
        assert!((built / volume - 1.0).abs() < share, "{finish}: measured {volume}, built {built}");
    }
    let (low, high) = bounds(parts);
    assert!(low.is_finite() && high.is_finite());
}

/// Least and greatest corner of all parts, in the piece's frame.
pub(super) fn bounds(parts: &[Part]) -> (DVec3, DVec3) {
    let corners = parts.iter().flat_map(|part| part.mesh.positions.iter().map(|&at| part.pose.transform_point3(at)));
    corners.fold((DVec3::MAX, DVec3::MIN), |(low, high), at| (low.min(at), high.max(at)))
}

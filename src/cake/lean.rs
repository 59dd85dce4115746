//! A leaning rod: its foot on the board, resting on the top edge of a tier.

use glam::{DAffine3, DMat3, DVec2, DVec3};

use super::tier::CakeTier;
use crate::measure::{Angle, Length};

/// Rounds of looking up the radius where a rod touches.
const ROUNDS: u32 = 6;

/// How a rod leans.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lean {
    /// From upright.
    pub angle: Angle,
    /// Direction it leans in, unit, in the cake's plan (x, z).
    pub towards: DVec2,
    /// From the foot along the rod's axis to where it touches the edge.
    pub contact: Length,
}

/// How a rod leans on a tier from a foot at `foot` (plan, mm); `radius` gives its radius so far along its axis.
///
/// In the upright plane through the foot and the nearest place of the edge, the rod's axis passes the middle of the edge's
/// rounding at its radius plus the rod's: `d·cosθ − h·sinθ = e + r`, with the middle `d` away and `h` up; so
/// `θ = acos((e + r)/√(d² + h²)) − atan2(h, d)`.
#[must_use]
pub fn lean(tier: &CakeTier, foot: DVec2, radius: impl Fn(f64) -> f64) -> Lean {
    let to_tier = tier.pose().inverse();
    let local = to_tier.transform_point3(DVec3::new(foot.x, 0.0, foot.y));
    let spot = tier.outline.at(tier.outline.nearest(DVec2::new(local.x, local.z)));
    let out = tier.surface_out(tier.height.as_mm(), 1.0);
    let edge = tier.edge.as_mm();
    let edge_point = spot.point + spot.outward * out;
    let edge_in_cake = tier.pose().transform_point3(DVec3::new(edge_point.x, tier.height.as_mm(), edge_point.y));
    let across = DVec2::new(edge_in_cake.x, edge_in_cake.z) - foot;
    let (distance, height) = (across.length() + edge, edge_in_cake.y - edge);
    let span = distance.hypot(height);
    // Where it touches depends on its radius there, which depends on where it touches: a few rounds settle it.
    let (mut angle, mut contact) = (0.0, height);
    for _ in 0..ROUNDS {
        let away = edge + radius(contact);
        angle = (away / span.max(away + 1e-9)).acos() - height.atan2(distance);
        contact = distance * f64::sin(angle) + height * f64::cos(angle);
    }
    Lean { angle: Angle::radians(angle), towards: across.normalize_or(DVec2::NEG_Y), contact: Length::mm(contact) }
}

/// The pose of a rod: its axis is its own +Y, its foot its origin.
#[must_use]
pub fn leaning_pose(foot: DVec2, lean: &Lean) -> DAffine3 {
    let sideways = DVec3::new(lean.towards.x, 0.0, lean.towards.y);
    let up = DVec3::Y * lean.angle.as_radians().cos() + sideways * lean.angle.as_radians().sin();
    let across = sideways.cross(DVec3::Y).normalize_or(DVec3::X);
    let front = across.cross(up);
    DAffine3 { matrix3: DMat3::from_cols(across, up, front), translation: DVec3::new(foot.x, 0.0, foot.y) }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::art::Shelf;
    use crate::cake::resolve;
    use crate::design::read_design;

    #[test]
    fn rods_lean_by_plain_trigonometry() {
        let text =
            "title = \"t\"\nunit = \"mm\"\n[[tier]]\nname = \"a\"\nshape = \"square\"\nsize = 200\nheight = 120\n";
        let design = Arc::new(read_design(text, "cake.toml").unwrap());
        let cake = resolve(&design, &Arc::new(Shelf::default())).unwrap();
        let foot = DVec2::new(0.0, 190.0);
        // A thread, 90 mm before an upright edge 120 mm high: a 3-4-5 triangle.
        let thin = lean(&cake.tiers[0], foot, |_| 0.0);
        assert!((thin.angle.as_degrees() - 36.869_897_645_844).abs() < 1e-9);
        assert!((thin.contact.as_mm() - 150.0).abs() < 1e-9);
        assert!(thin.towards.distance(DVec2::NEG_Y) < 1e-9);
        // A thick one stands steeper; its axis passes the edge at its radius.
        let thick = lean(&cake.tiers[0], foot, |_| 10.0);
        let up = leaning_pose(foot, &thick).matrix3.y_axis;
        let edge = DVec3::new(0.0, 120.0, -90.0);
        assert!((edge - up * edge.dot(up)).length() - 10.0 < 1e-9);
        assert!(thick.angle < thin.angle);
    }
}

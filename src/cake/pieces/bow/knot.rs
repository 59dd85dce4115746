//! The knot of a bow: a short strip round the gathered ribbon.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use glam::{DAffine3, DVec2, DVec3};

use super::ribbon::Ribbon;
use crate::shapes::Mesh;
use crate::shapes::build::loft;

/// Rings along a knot, and places once round it.
const RINGS: u32 = 24;
const ROUND: u32 = 32;

/// A knot with less hollow than this, as a share of its size, is solid.
const LEAST_HOLLOW: f64 = 0.1;

/// The knot's strip as a share of the ribbon's width.
pub(super) const WIDTH: f64 = 0.58;

/// Half the knot: along the ribbon, across it, out of the seat.
pub(super) fn half(ribbon: &Ribbon) -> DVec3 {
    let out = (ribbon.knot + 1.6 * ribbon.thickness + 0.14 * ribbon.width) / 2.0;
    DVec3::new(WIDTH / 2.0 * ribbon.width, 0.33 * ribbon.width, out)
}

/// Length of its strip, half its thickness inside its face: round an ellipse (Ramanujan's first approximation).
pub(super) fn strip(ribbon: &Ribbon) -> f64 {
    let half = (half(ribbon) - ribbon.thickness / 2.0).max(DVec3::ZERO);
    PI * (3.0 * (half.y + half.z) - ((3.0 * half.y + half.z) * (half.y + 3.0 * half.z)).sqrt())
}

/// A pillow round the gathered ribbon, with soft folds that run round it; hollow inside.
pub(super) fn mesh(ribbon: &Ribbon) -> Mesh {
    let half = half(ribbon);
    let round = |value: f64, power: f64| value.abs().powf(power).copysign(value);
    let ring = |step: u32| {
        let angle = PI * f64::from(step) / f64::from(RINGS) - FRAC_PI_2;
        let along = round(angle.sin(), 0.6);
        if step == 0 || step == RINGS {
            return vec![DVec3::new(half.x * along, 0.0, half.z)];
        }
        let fold = 0.09 * (1.0 - (1.5 * PI * (along + 0.1)).sin().abs()).powi(2);
        let wide = round(angle.cos(), 0.5) * (1.0 - fold);
        let at = |turn: u32| {
            let (sin, cos) = (TAU * f64::from(turn) / f64::from(ROUND)).sin_cos();
            let around = DVec2::new(round(cos, 0.75) * half.y, round(sin, 0.75) * half.z) * wide;
            DVec3::new(half.x * along, around.x, half.z + around.y)
        };
        (0..ROUND).map(at).collect()
    };
    hollow(loft(&(0..=RINGS).map(ring).collect::<Vec<_>>()), ribbon)
}

/// The knot about the hollow in which the gathered ribbon lies, so that its paste is that of its strip; solid where the strip
/// fills it.
fn hollow(outside: Mesh, ribbon: &Ribbon) -> Mesh {
    let paste = strip(ribbon) * WIDTH * ribbon.width * ribbon.thickness;
    let share = (1.0 - paste / outside.volume().max(1e-12)).cbrt();
    if share.is_nan() || share < LEAST_HOLLOW {
        return outside;
    }
    let middle = DVec3::Z * half(ribbon).z;
    let inside = Mesh {
        positions: outside.positions.iter().map(|at| middle + (*at - middle) * share).collect(),
        normals: outside.normals.iter().map(|normal| -*normal).collect(),
        uvs: outside.uvs.clone(),
        triangles: outside.triangles.iter().map(|&[a, b, c]| [a, c, b]).collect(),
    };
    let mut knot = outside;
    knot.add(&inside, &DAffine3::IDENTITY);
    knot
}

//! Bodies of revolution about the upright axis.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use glam::{DVec2, DVec3};

use super::loft;
use crate::shapes::Mesh;
use crate::shapes::offset::widest_turn;

/// Furthest that a straight piece may run from a body of revolution, mm; least and most steps once round it.
const TOLERANCE: f64 = 0.02;
const ROUND: (f64, f64) = (20.0, 48.0);

/// Half turns of a dome from pole to pole are cut into so many steps.
const POLE_TO_POLE: usize = 24;

/// Furthest that a straight piece may run from a ball, mm.
const BALL_TOLERANCE: f64 = 0.045;

/// A body of revolution about +Y from its profile: (radius, height) in mm, from the foot up; cut as finely as its width asks for.
///
/// Picture places: u once round, 0.5 in front and growing to the customer's right, the join at the back.
#[must_use]
pub fn lathe(profile: &[DVec2]) -> Mesh {
    let widest = profile.iter().fold(0.0, |widest: f64, point| widest.max(point.x));
    lathe_in(profile, (TAU / widest_turn(widest, TOLERANCE)).ceil().clamp(ROUND.0, ROUND.1) as usize)
}

/// As [`lathe`], in so many steps once round.
#[must_use]
pub fn lathe_in(profile: &[DVec2], steps: usize) -> Mesh {
    let rings: Vec<Vec<DVec3>> = profile.iter().map(|&point| ring(point, steps)).collect();
    loft(&rings)
}

fn ring(point: DVec2, steps: usize) -> Vec<DVec3> {
    if point.x <= 1e-9 {
        return vec![DVec3::new(0.0, point.y, 0.0)];
    }
    (0..steps)
        .map(|step| {
            let (sin, cos) = (PI + TAU * step as f64 / steps as f64).sin_cos();
            DVec3::new(point.x * sin, point.y, point.x * cos)
        })
        .collect()
}

/// A ball about the origin, cut as finely as its size asks for. Its corners lie so far out that it has a ball's volume.
#[must_use]
pub fn sphere(radius: f64) -> Mesh {
    let steps = ball_steps(radius);
    let profile: Vec<DVec2> = (0..=steps)
        .map(|step| {
            let (sin, cos) = (-FRAC_PI_2 + PI * step as f64 / steps as f64).sin_cos();
            DVec2::new(if step == 0 || step == steps { 0.0 } else { cos }, sin)
        })
        .collect();
    let mut mesh = lathe_in(&profile, 2 * steps);
    let out = (4.0 / 3.0 * PI / mesh.volume()).cbrt() * radius;
    for (normal, at) in mesh.normals.iter_mut().zip(&mut mesh.positions) {
        *normal = at.try_normalize().unwrap_or(*normal);
        *at *= out;
    }
    mesh
}

/// Steps from pole to pole at which no straight piece runs further than [`BALL_TOLERANCE`] from the ball.
fn ball_steps(radius: f64) -> usize {
    (PI / widest_turn(radius, BALL_TOLERANCE)).ceil().clamp(8.0, 32.0) as usize
}

/// The profile of an egg-shaped dome about the origin, `radius` wide and `height` high, from the `start` angle (radians
/// above its widest place) up to its pole.
#[must_use]
pub fn dome(radius: f64, height: f64, start: f64) -> Vec<DVec2> {
    let steps = ((FRAC_PI_2 - start) / PI * POLE_TO_POLE as f64).round().max(2.0) as usize;
    (0..=steps)
        .map(|step| {
            let angle = start + (FRAC_PI_2 - start) * step as f64 / steps as f64;
            let wide = if step == steps || (step == 0 && start <= -FRAC_PI_2) { 0.0 } else { angle.cos() };
            DVec2::new(radius * wide, height * angle.sin())
        })
        .collect()
}

/// The profile of an upright round bar from `from` to `to` (radii) over `length`, its edges rounded by `soft`, mm.
#[must_use]
pub fn bar([from, to]: [f64; 2], length: f64, soft: f64) -> Vec<DVec2> {
    let soft = soft.min(length / 3.0).min(from.min(to) * 0.9);
    let (foot, head) = (DVec2::new(from, 0.0), DVec2::new(to, length));
    let side = (head - foot).normalize_or(DVec2::Y) * soft;
    let inner = |point: &DVec2| point.x > 1e-9;
    let edges = [[foot - DVec2::X * soft, foot, foot + side], [head - side, head, head - DVec2::X * soft]];
    edges.into_iter().flat_map(eased).filter(inner).collect()
}

/// Round a corner from one place to another: an arc of the circle that touches both ways, which are equally long (a rational
/// curve of the second degree, whose middle weighs the cosine of half the turn).
fn eased([from, corner, to]: [DVec2; 3]) -> impl Iterator<Item = DVec2> {
    let turn = (corner - from).angle_to(to - corner);
    let weight = (turn / 2.0).cos();
    (0..=4).map(move |step| {
        let (share, rest) = (f64::from(step) / 4.0, 1.0 - f64::from(step) / 4.0);
        let shares = [rest * rest, 2.0 * weight * share * rest, share * share];
        let sum = from * shares[0] + corner * shares[1] + to * shares[2];
        sum / shares.iter().sum::<f64>()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shapes::build::laws;

    #[test]
    fn a_ball_has_a_balls_volume_and_area() {
        let ball = sphere(12.7);
        laws::keep(&ball).unwrap();
        // 4/3 π r³ and 4 π r² (Archimedes); the facets cost less than 1 % of the area.
        assert!((ball.volume() / (4.0 / 3.0 * PI * 12.7_f64.powi(3)) - 1.0).abs() < 1e-9);
        assert!((ball.area() / (4.0 * PI * 12.7_f64.powi(2)) - 1.0).abs() < 0.01);
        let (low, high) = ball.bounds().unwrap();
        assert!((low + 12.7).abs().max_element() < 0.05 && (high - 12.7).abs().max_element() < 0.05);
    }

    #[test]
    fn a_bar_is_a_frustum_with_soft_edges() {
        let bar = lathe(&bar([5.0, 8.0], 40.0, 0.1));
        laws::keep(&bar).unwrap();
        // π h (a² + ab + b²) / 3
        let frustum = PI * 40.0 * (25.0 + 40.0 + 64.0) / 3.0;
        assert!((bar.volume() / frustum - 1.0).abs() < 0.01, "{} {frustum}", bar.volume());
        assert_eq!(bar.bounds().unwrap().1.y, 40.0);
    }

    #[test]
    fn u_grows_to_the_right_in_front() {
        let ball = sphere(10.0);
        let front = ball.positions.iter().zip(&ball.uvs).filter(|(at, _)| at.z > 5.0 && at.y.abs() < 3.0);
        for (at, uv) in front {
            assert!((uv.x - 0.5 - at.x.atan2(at.z) / TAU).abs() < 1e-9);
        }
    }
}

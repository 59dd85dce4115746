//! Round bars along a line: rolled ropes, wires, sticks.

use std::f64::consts::{FRAC_PI_2, TAU};

use glam::DVec3;

use super::{loft, loft_round};
use crate::shapes::Mesh;

/// Steps once round a tube.
const ROUND: usize = 24;

/// Steps of a rounded end.
const END: usize = 6;

/// A round bar along an open path of places (mm), with half-ball ends that reach `radius` beyond the path's ends.
///
/// Its frame is carried along without twisting (double reflection: Wang, Jüttler, Zheng, Liu 2008).
#[must_use]
pub fn tube(path: &[DVec3], radius: f64) -> Mesh {
    let frames = frames(path, &open_tangents(path));
    let (Some(first), Some(last)) = (frames.first(), frames.last()) else { return Mesh::default() };
    let cap = |step: usize| FRAC_PI_2 * step as f64 / END as f64;
    let foot = (0..END).map(|step| first.end(radius, cap(step) - FRAC_PI_2));
    let body = frames.iter().map(|frame| frame.ring(radius, 0.0));
    let head = (1..=END).map(|step| last.end(radius, cap(step)));
    loft(&foot.chain(body).chain(head).collect::<Vec<_>>())
}

/// A ring-shaped bar along a closed path (mm; the last place joins the first).
#[must_use]
pub fn tube_round(path: &[DVec3], radius: f64) -> Mesh {
    let before = path.iter().cycle().skip(path.len().saturating_sub(1));
    let after = path.iter().cycle().skip(1);
    let tangents: Vec<DVec3> = before.zip(after).take(path.len()).map(|(a, b)| (b - a).normalize_or_zero()).collect();
    let frames = frames(path, &tangents);
    // What the frame has turned by when it comes home is taken back evenly on the way.
    let home = frames.first().zip(frames.last()).map_or(0.0, |(first, last)| {
        let carried = last.carried_to(first.at, first.along);
        carried.angle_from(first.side, first.along)
    });
    let count = frames.len().max(1) as f64;
    let rings = frames.iter().enumerate().map(|(step, frame)| frame.ring(radius, -home * step as f64 / count));
    loft_round(&rings.collect::<Vec<_>>())
}

/// Directions along an open path.
fn open_tangents(path: &[DVec3]) -> Vec<DVec3> {
    let before = path.first().into_iter().chain(path);
    let after = path.iter().skip(1).chain(path.last());
    before.zip(after).map(|(a, b)| (b - a).normalize_or_zero()).collect()
}

/// A place on the path with the direction of travel and a direction square to it.
#[derive(Clone, Copy)]
struct Frame {
    at: DVec3,
    along: DVec3,
    side: DVec3,
}

impl Frame {
    /// The ring round this place, turned by `turn` radians about the direction of travel.
    fn ring(&self, radius: f64, turn: f64) -> Vec<DVec3> {
        let up = self.along.cross(self.side);
        (0..ROUND)
            .map(|step| {
                let (sin, cos) = (turn + TAU * step as f64 / ROUND as f64).sin_cos();
                self.at + (self.side * cos + up * sin) * radius
            })
            .collect()
    }

    /// A ring of the half ball round this place, `angle` radians ahead of its middle; a pole at a right angle.
    fn end(&self, radius: f64, angle: f64) -> Vec<DVec3> {
        let at = self.at + self.along * (radius * angle.sin());
        if angle.abs() >= FRAC_PI_2 - 1e-9 {
            return vec![at];
        }
        Self { at, ..*self }.ring(radius * angle.cos(), 0.0)
    }

    /// The frame carried to the next place by two reflections.
    fn carried_to(&self, at: DVec3, along: DVec3) -> Self {
        let mirrored = |vector: DVec3, across: DVec3| {
            let size = across.length_squared();
            if size > 1e-24 { vector - across * (2.0 * across.dot(vector) / size) } else { vector }
        };
        let step = at - self.at;
        let (side, middle) = (mirrored(self.side, step), mirrored(self.along, step));
        let side = mirrored(side, along - middle);
        Self { at, along, side: (side - along * along.dot(side)).normalize_or_zero() }
    }

    /// The angle from a direction to this frame's own, about the direction of travel, radians.
    fn angle_from(&self, side: DVec3, along: DVec3) -> f64 {
        side.cross(self.side).dot(along).atan2(side.dot(self.side))
    }
}

fn frames(path: &[DVec3], tangents: &[DVec3]) -> Vec<Frame> {
    let mut frames: Vec<Frame> = Vec::with_capacity(path.len());
    for (&at, &along) in path.iter().zip(tangents) {
        let frame = frames.last().map_or_else(
            || Frame { at, along, side: along.any_orthonormal_vector() },
            |before| before.carried_to(at, along),
        );
        frames.push(frame);
    }
    frames
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;
    use crate::shapes::build::laws;

    #[test]
    fn a_straight_bar_is_a_cylinder_with_two_half_balls() {
        let bar = tube(&[DVec3::ZERO, DVec3::X * 20.0, DVec3::X * 50.0], 3.0);
        laws::keep(&bar).unwrap();
        let volume = PI * 9.0 * 50.0 + 4.0 / 3.0 * PI * 27.0;
        assert!((bar.volume() / volume - 1.0).abs() < 0.02);
    }

    #[test]
    fn a_ring_obeys_pappus() {
        let place = |step: u32| {
            let (sin, cos) = (TAU * f64::from(step) / 96.0).sin_cos();
            // A ring that is not flat, so that its frame turns on the way round.
            DVec3::new(30.0 * sin, 4.0 * (2.0 * TAU * f64::from(step) / 96.0).sin(), 30.0 * cos)
        };
        let path: Vec<DVec3> = (0..96).map(place).collect();
        let ring = tube_round(&path, 4.0);
        laws::keep(&ring).unwrap();
        let length: f64 = path.iter().zip(path.iter().cycle().skip(1)).map(|(a, b)| a.distance(*b)).sum();
        // Area of the section times the length of its middle line (Pappus).
        assert!((ring.volume() / (PI * 16.0 * length) - 1.0).abs() < 0.02);
    }
}

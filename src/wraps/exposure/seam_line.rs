//! Where a seam lies on the outer face of its course, and which way it faces.

use glam::{DVec2, DVec3};

use crate::cake::{CakeCourse, CakeTier};

/// A seam stands so far before its face, mm: sight lines must not be stopped by the face they start from.
const BEFORE: f64 = 0.05;

/// The upright line along which a seam is looked for, in the cake's frame.
#[derive(Clone, Debug)]
pub(super) struct SeamLine {
    /// In plan (x, z), mm.
    pub at: DVec2,
    /// Bearings of the faces it lies on, radians: one, or two at a corner.
    pub normals: Vec<f64>,
}

/// The outer face of a course, from place to place.
#[derive(Clone, Debug)]
pub(super) struct OuterFace<'a> {
    tier: &'a CakeTier,
    /// Reading, place and direction outward, once round and beyond; the very places at which the course's body bends.
    knots: Vec<(f64, DVec2, DVec2)>,
}

impl<'a> OuterFace<'a> {
    pub fn new(tier: &'a CakeTier, course: &CakeCourse) -> Self {
        let stations = tier.outline.stations_out(course.outer);
        let knots = stations.iter().map(|station| (station.along, station.place(course.outer), station.out)).collect();
        Self { tier, knots }
    }

    /// The seam at a tape reading.
    pub fn seam(&self, along: f64) -> SeamLine {
        let outline = &self.tier.outline;
        let round = along.rem_euclid(outline.perimeter().max(f64::MIN_POSITIVE));
        let after = self.knots.partition_point(|knot| knot.0 < round).max(1);
        let (place, out) = match (self.knots.get(after - 1), self.knots.get(after)) {
            (Some(left), Some(right)) => {
                let share = if right.0 > left.0 { (round - left.0) / (right.0 - left.0) } else { 1.0 };
                (left.1.lerp(right.1, share), left.2.lerp(right.2, share))
            }
            _ => (outline.at(along).point, outline.at(along).outward),
        };
        let pose = self.tier.pose();
        let at = pose.transform_point3(flat(place + out.normalize_or_zero() * BEFORE));
        let bearing = |outward: DVec2| {
            let turned = pose.transform_vector3(flat(outward));
            turned.x.atan2(turned.z)
        };
        // A hair to either side: at a corner these are its two faces.
        let normals = [-1e-6, 1e-6].map(|step| bearing(outline.at(along + step).outward));
        let count = if (normals[0] - normals[1]).abs() < 1e-3 { 1 } else { 2 };
        SeamLine { at: DVec2::new(at.x, at.z), normals: normals.into_iter().take(count).collect() }
    }
}

fn flat(plan: DVec2) -> DVec3 {
    DVec3::new(plan.x, 0.0, plan.y)
}

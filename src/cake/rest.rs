//! What carries a piece that sits on another piece: how high its top is there, how far out its front.

use glam::{DAffine3, DVec2, DVec3};

use super::pieces::Part;

/// The surface of a piece, in its own frame.
pub(super) struct Rest {
    faces: Vec<[DVec3; 3]>,
}

impl Rest {
    /// Of the piece with these parts, moved as one.
    pub fn of(parts: &[Part], motion: &DAffine3) -> Self {
        let solid = parts.iter().filter(|part| !part.is_stick());
        let faces = solid.flat_map(|part| {
            let pose = *motion * part.pose;
            part.mesh.faces().map(move |face| face.map(|at| pose.transform_point3(at)))
        });
        Self { faces: faces.collect() }
    }

    /// The highest place under a ring of (x, z).
    pub fn top(&self, ring: &[DVec2]) -> Option<f64> {
        self.furthest(ring, |at| (DVec2::new(at.x, at.z), at.y))
    }

    /// The place furthest to the front behind a ring of (x, y).
    pub fn front(&self, ring: &[DVec2]) -> Option<f64> {
        self.furthest(ring, |at| (at.truncate(), at.z))
    }

    /// The furthest place within a ring, where a place is split into that on a plane and that above it.
    fn furthest(&self, ring: &[DVec2], split: impl Fn(DVec3) -> (DVec2, f64)) -> Option<f64> {
        let middle = ring.iter().sum::<DVec2>() / ring.len().max(1) as f64;
        let probes: Vec<DVec2> = ring.iter().copied().chain([middle]).collect();
        let heights = self.faces.iter().flat_map(|face| {
            let face = face.map(&split);
            let corners = face.into_iter().filter(|(at, _)| within(ring, *at)).map(|(_, high)| high);
            let hits = probes.iter().filter_map(|probe| over(&face, *probe));
            corners.chain(hits).collect::<Vec<_>>()
        });
        heights.reduce(f64::max)
    }
}

/// Whether a convex ring holds a place, whichever way round it runs.
fn within(ring: &[DVec2], at: DVec2) -> bool {
    let mut sides = ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| (*b - *a).perp_dot(at - *a));
    let (mut left, mut right) = (false, false);
    sides.all(|side| {
        left |= side > 0.0;
        right |= side < 0.0;
        !(left && right)
    }) && ring.len() > 2
}

/// How high a face is over a place of the plane; `None` beside it.
fn over(&[(a, high_a), (b, high_b), (c, high_c)]: &[(DVec2, f64); 3], at: DVec2) -> Option<f64> {
    let whole = (b - a).perp_dot(c - a);
    let (right, up) = ((at - a).perp_dot(c - a) / whole, (b - a).perp_dot(at - a) / whole);
    let inside = right >= -1e-9 && up >= -1e-9 && right + up <= 1.0 + 1e-9;
    inside.then_some(high_a + (high_b - high_a) * right + (high_c - high_a) * up)
}

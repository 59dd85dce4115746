//! A skin in patches: neighbouring faces that look about the same way, so that all of them can be passed over at once where they
//! look away or lie elsewhere, and only their rim matters where all of them look to the eye.

use std::ops::Range;

use glam::DVec3;

use crate::shapes::Mesh;

/// Most faces of a patch.
const MOST: usize = 128;
/// Steps along each axis by which faces are put in order, as a power of two.
const STEPS: u32 = 18;

/// The faces of a skin, patch by patch, in its own frame.
#[derive(Debug, Default)]
pub struct Patches {
    patches: Vec<Patch>,
    corners: Vec<DVec3>,
    faces: Vec<[u16; 3]>,
    rims: Vec<[u16; 2]>,
}

/// Neighbouring faces that look about the same way.
#[derive(Clone, Debug)]
pub struct Patch {
    /// Least and greatest corner, mm.
    pub bounds: (DVec3, DVec3),
    /// Least and greatest of each component of their outward unit normals.
    outward: (DVec3, DVec3),
    corners: Range<usize>,
    /// Of its corners those on its rim come first.
    on_rim: usize,
    faces: Range<usize>,
    rim: Range<usize>,
}

impl Patch {
    /// Does no face of it look towards a direction?
    #[must_use]
    pub fn looks_away(&self, towards: DVec3) -> bool {
        (self.outward.0 * towards).max(self.outward.1 * towards).element_sum() <= 0.0
    }

    /// Does every face of it look towards a direction?
    #[must_use]
    pub fn looks_to(&self, towards: DVec3) -> bool {
        (self.outward.0 * towards).min(self.outward.1 * towards).element_sum() > 0.0
    }
}

impl Patches {
    /// Of a closed mesh whose faces run anticlockwise, seen from outside. A face without area is left out.
    pub(super) fn of(mesh: &Mesh) -> Self {
        let mut order = ordered(mesh);
        order.sort_unstable_by_key(|face| face.key);
        let mut patches = Self::default();
        for alike in order.chunk_by(|one, other| one.axis() == other.axis()) {
            for faces in alike.chunks(MOST) {
                patches.add(mesh, faces);
            }
        }
        patches
    }

    fn add(&mut self, mesh: &Mesh, faces: &[Face]) {
        let mut places: Vec<DVec3> = Vec::with_capacity(MOST);
        let corners: Vec<[u16; 3]> = faces.iter().map(|face| face.numbered(mesh, &mut places)).collect();
        let rim = rim(&corners);
        let order = rim_first(&rim, places.len());
        let number = |corner: u16| order.get(usize::from(corner)).copied().unwrap_or_default();
        let (first_corner, first_face, first_edge) = (self.corners.len(), self.faces.len(), self.rims.len());
        let mut moved = vec![DVec3::ZERO; places.len()];
        for (place, &to) in places.iter().zip(&order) {
            if let Some(slot) = moved.get_mut(usize::from(to)) {
                *slot = *place;
            }
        }
        self.corners.extend(&moved);
        self.faces.extend(corners.iter().map(|face| face.map(number)));
        self.rims.extend(rim.iter().map(|edge| edge.map(number)));
        let about = |of: &mut dyn Iterator<Item = DVec3>| {
            of.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
        };
        self.patches.push(Patch {
            bounds: about(&mut moved.iter().copied()),
            outward: about(&mut faces.iter().map(|face| face.outward)),
            corners: first_corner..self.corners.len(),
            on_rim: self
                .rims
                .get(first_edge..)
                .unwrap_or_default()
                .iter()
                .flatten()
                .max()
                .map_or(0, |&most| usize::from(most) + 1),
            faces: first_face..self.faces.len(),
            rim: first_edge..self.rims.len(),
        });
    }

    /// All of them.
    pub fn iter(&self) -> impl Iterator<Item = &Patch> {
        self.patches.iter()
    }

    /// The corners of a patch.
    #[must_use]
    pub fn corners(&self, patch: &Patch) -> &[DVec3] {
        self.corners.get(patch.corners.clone()).unwrap_or_default()
    }

    /// Those of its corners that lie on the rim of a patch: the first ones.
    #[must_use]
    pub fn on_rim(&self, patch: &Patch) -> &[DVec3] {
        self.corners(patch).get(..patch.on_rim).unwrap_or_default()
    }

    /// The edges of a patch that only one of its faces has, by the numbers of their ends among its corners.
    #[must_use]
    pub fn rim(&self, patch: &Patch) -> &[[u16; 2]] {
        self.rims.get(patch.rim.clone()).unwrap_or_default()
    }

    /// The faces of a patch, by the numbers of their corners among the patch's own.
    #[must_use]
    pub fn faces(&self, patch: &Patch) -> &[[u16; 3]] {
        self.faces.get(patch.faces.clone()).unwrap_or_default()
    }
}

/// A face on its way into a patch.
struct Face {
    /// Which way it looks, then where it lies, along a curve that keeps neighbours together (Morton 1966).
    key: u64,
    outward: DVec3,
    corners: [u32; 3],
}

impl Face {
    /// Along which axis it looks most, and which way.
    const fn axis(&self) -> u64 {
        self.key >> (3 * STEPS)
    }

    /// Its corners by their numbers among the places of a patch, which are added where they are new. A mesh may have one place
    /// several times over.
    fn numbered(&self, mesh: &Mesh, places: &mut Vec<DVec3>) -> [u16; 3] {
        self.corners.map(|corner| {
            let at = mesh.positions.get(corner as usize).copied().unwrap_or_default();
            let known = places.iter().rposition(|&place| place == at).unwrap_or_else(|| {
                places.push(at);
                places.len() - 1
            });
            // Three corners a face: 384 at most.
            known as u16
        })
    }
}

/// The edges that only one of some faces has.
fn rim(faces: &[[u16; 3]]) -> Vec<[u16; 2]> {
    let all = faces.iter().flat_map(|&[a, b, c]| [[a, b], [b, c], [c, a]]);
    let mut edges: Vec<([u16; 2], [u16; 2])> =
        all.map(|edge| ([edge[0].min(edge[1]), edge[0].max(edge[1])], edge)).collect();
    edges.sort_unstable();
    // Two faces of opposite hands share an edge; where more meet, each stays.
    let shared = |same: &[([u16; 2], [u16; 2])]| matches!(same, [(_, [a, b]), (_, [c, d])] if a == d && b == c);
    edges.chunk_by(|one, other| one.0 == other.0).filter(|same| !shared(same)).flatten().map(|edge| edge.1).collect()
}

/// For each of so many corners its number when those on the rim come first.
fn rim_first(rim: &[[u16; 2]], count: usize) -> Vec<u16> {
    let mut is_on_rim = vec![false; count];
    for &end in rim.iter().flatten() {
        if let Some(slot) = is_on_rim.get_mut(usize::from(end)) {
            *slot = true;
        }
    }
    let on = is_on_rim.iter().filter(|&&is| is).count() as u16;
    let (mut next_on, mut next_off) = (0..on, on..);
    is_on_rim.iter().map(|&is| if is { next_on.next() } else { next_off.next() }.unwrap_or_default()).collect()
}

fn ordered(mesh: &Mesh) -> Vec<Face> {
    let (low, high) = mesh.bounds().unwrap_or_default();
    let scale = f64::from((1_u32 << STEPS) - 1) / (high - low).max_element().max(f64::MIN_POSITIVE);
    let face = |&corners: &[u32; 3]| {
        let at = |corner: u32| mesh.positions.get(corner as usize).copied();
        let [a, b, c] = [at(corners[0])?, at(corners[1])?, at(corners[2])?];
        let outward = (b - a).cross(c - a).try_normalize()?;
        let place = ((a + b + c) / 3.0 - low) * scale;
        let key = axis(outward) << (3 * STEPS) | spread(place.x) << 2 | spread(place.y) << 1 | spread(place.z);
        Some(Face { key, outward, corners })
    };
    mesh.triangles.iter().filter_map(face).collect()
}

fn axis(outward: DVec3) -> u64 {
    let [x, y, z] = outward.to_array();
    let most = if x.abs() >= y.abs() && x.abs() >= z.abs() {
        (0, x)
    } else if y.abs() >= z.abs() {
        (2, y)
    } else {
        (4, z)
    };
    most.0 + u64::from(most.1 < 0.0)
}

/// A number of [`STEPS`] bits with two free places after each of them.
fn spread(step: f64) -> u64 {
    let step = step as u64;
    (0..STEPS).fold(0, |spread, bit| spread | (step >> bit & 1) << (3 * bit))
}

#[cfg(test)]
mod tests {
    use std::f64::consts::TAU;
    use std::sync::Arc;

    use super::*;
    use crate::shapes::solid::{Skin, Solid};

    /// A closed ring: a square bent round, 160 by 64 cells.
    fn ring() -> Mesh {
        let (round, side) = (160_u32, 64_u32);
        let at = |n: u32, m: u32| {
            let (turn, edge) = (f64::from(n) / f64::from(round) * TAU, f64::from(m) / f64::from(side) * TAU);
            let out = 40.0 + 8.0 * edge.cos();
            DVec3::new(out * turn.cos(), 8.0 * edge.sin(), out * turn.sin())
        };
        let number = |n: u32, m: u32| (n % round) * side + m % side;
        let mut mesh = Mesh::default();
        for n in 0..round {
            for m in 0..side {
                mesh.positions.push(at(n, m));
                let [a, b, c, d] = [number(n, m), number(n, m + 1), number(n + 1, m + 1), number(n + 1, m)];
                mesh.triangles.extend([[a, b, c], [a, c, d]]);
            }
        }
        mesh
    }

    #[test]
    fn every_face_is_in_one_patch_within_its_bounds() {
        let mesh = ring();
        let Some(Solid::Skin(skin)) = Solid::skin(Arc::new(mesh.clone())) else { panic!("a skin") };
        let patches = Skin::patches(&skin);
        let mut found: Vec<[DVec3; 3]> = Vec::new();
        for patch in patches.iter() {
            let corners = patches.corners(patch);
            assert!(patches.faces(patch).len() <= MOST);
            for face in patches.faces(patch) {
                let face = face.map(|corner| corners[usize::from(corner)]);
                assert!(face.iter().all(|at| at.cmpge(patch.bounds.0).all() && at.cmple(patch.bounds.1).all()));
                let normal = (face[1] - face[0]).cross(face[2] - face[0]).normalize();
                for edge in patches.rim(patch) {
                    assert!(edge.iter().all(|&end| usize::from(end) < patches.on_rim(patch).len()));
                }
                for towards in [DVec3::X, DVec3::new(0.3, -0.5, 0.2), DVec3::NEG_Z] {
                    assert!(!patch.looks_away(towards) || normal.dot(towards) <= 1e-12);
                    assert!(!patch.looks_to(towards) || normal.dot(towards) > 0.0);
                }
                found.push(face);
            }
        }
        let mut all: Vec<[DVec3; 3]> =
            mesh.triangles.iter().map(|face| face.map(|corner| mesh.positions[corner as usize])).collect();
        let bits = |face: &[DVec3; 3]| face.map(|at| at.to_array().map(f64::to_bits));
        all.sort_by_key(bits);
        found.sort_by_key(bits);
        assert_eq!(all, found);
        // Every rim is closed: as many edges end in a corner as begin there.
        for patch in patches.iter() {
            let mut ends = vec![0_i32; patches.on_rim(patch).len()];
            for &[from, to] in patches.rim(patch) {
                ends[usize::from(from)] -= 1;
                ends[usize::from(to)] += 1;
            }
            assert!(ends.iter().all(|&end| end == 0) && !patches.rim(patch).is_empty());
        }
        // A fifth of a ring at least looks away from anyone, or to them.
        let away = patches.iter().filter(|patch| patch.looks_away(DVec3::X)).count();
        let to = patches.iter().filter(|patch| patch.looks_to(DVec3::X)).count();
        assert!(away * 5 > patches.iter().count() && to * 5 > patches.iter().count(), "{away} {to}");
    }
}

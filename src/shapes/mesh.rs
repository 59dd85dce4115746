//! Plain triangles: what a renderer, a GLB file and an outside geometry checker are all fed with.

use glam::{DAffine3, DVec2, DVec3};

/// A closed surface of triangles, counter-clockwise seen from outside, in millimetres.
///
/// Frame of the body it belongs to: +Y up, +Z towards the customer, +X to the customer's right. Corners that need two
/// normals or two picture places are listed twice with bit-identical positions, so that merging by position closes the mesh.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mesh {
    /// Corner positions, mm.
    pub positions: Vec<DVec3>,
    /// Unit normals, outward, one a corner.
    pub normals: Vec<DVec3>,
    /// Picture places: u to the right and v **down** from the picture's top left, each 0..1 across the picture.
    pub uvs: Vec<DVec2>,
    /// Corner numbers of each triangle.
    pub triangles: Vec<[u32; 3]>,
}

impl Mesh {
    /// Adds a corner and gives its number.
    pub fn corner(&mut self, position: DVec3, normal: DVec3, uv: DVec2) -> u32 {
        let number = u32::try_from(self.positions.len()).unwrap_or(u32::MAX);
        self.positions.push(position);
        self.normals.push(normal);
        self.uvs.push(uv);
        number
    }

    /// Adds a triangle, counter-clockwise seen from outside.
    pub fn triangle(&mut self, a: u32, b: u32, c: u32) {
        self.triangles.push([a, b, c]);
    }

    /// Adds a four-sided patch, counter-clockwise seen from outside.
    pub fn patch(&mut self, [a, b, c, d]: [u32; 4]) {
        self.triangle(a, b, c);
        self.triangle(a, c, d);
    }

    /// Adds all of another mesh, moved by `pose` (which must not mirror).
    pub fn add(&mut self, other: &Self, pose: &DAffine3) {
        let first = u32::try_from(self.positions.len()).unwrap_or(u32::MAX);
        let turn = pose.matrix3;
        self.positions.extend(other.positions.iter().map(|&at| pose.transform_point3(at)));
        self.normals.extend(other.normals.iter().map(|&normal| (turn * normal).normalize_or_zero()));
        self.uvs.extend_from_slice(&other.uvs);
        self.triangles.extend(other.triangles.iter().map(|t| t.map(|corner| corner + first)));
    }

    /// The corners of each triangle, mm. Triangles that name a missing corner are passed over.
    pub fn faces(&self) -> impl Iterator<Item = [DVec3; 3]> {
        let at = |corner: u32| self.positions.get(corner as usize).copied();
        self.triangles.iter().filter_map(move |&[a, b, c]| Some([at(a)?, at(b)?, at(c)?]))
    }

    /// Enclosed volume, mm³: the sum of signed tetrahedra on the origin (divergence theorem).
    #[must_use]
    pub fn volume(&self) -> f64 {
        self.faces().map(|[a, b, c]| a.dot(b.cross(c)) / 6.0).sum()
    }

    /// Surface area, mm².
    #[must_use]
    pub fn area(&self) -> f64 {
        self.faces().map(|[a, b, c]| (b - a).cross(c - a).length() / 2.0).sum()
    }

    /// Least and greatest corner, mm; `None` for an empty mesh.
    #[must_use]
    pub fn bounds(&self) -> Option<(DVec3, DVec3)> {
        let mut positions = self.positions.iter().copied();
        let first = positions.next()?;
        Some(positions.fold((first, first), |(low, high), at| (low.min(at), high.max(at))))
    }
}

/// The eight corners of a box.
#[must_use]
pub fn box_corners(low: DVec3, high: DVec3) -> [DVec3; 8] {
    let pick = |number: usize, axis: usize, low: f64, high: f64| if number >> axis & 1 == 0 { low } else { high };
    std::array::from_fn(|number| {
        DVec3::new(pick(number, 0, low.x, high.x), pick(number, 1, low.y, high.y), pick(number, 2, low.z, high.z))
    })
}

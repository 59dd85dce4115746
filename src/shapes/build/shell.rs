//! A surface while it is being built: shared places, faces, and picture places one a face corner.

use std::collections::BTreeMap;

use glam::{DVec2, DVec3};

use crate::shapes::Mesh;

/// Faces that meet at less than this angle are shaded as one smooth surface; a sharper edge stays sharp. Degrees.
const CREASE: f64 = 42.0;

/// One corner of a face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Corner {
    /// Number of its place.
    pub place: u32,
    /// Picture place.
    pub uv: DVec2,
}

/// A closed surface whose corners share places, so that it stays closed whatever is done to the places.
#[derive(Clone, Debug, Default)]
pub(super) struct Shell {
    /// Shared positions, mm.
    pub places: Vec<DVec3>,
    /// Counter-clockwise seen from outside.
    pub faces: Vec<[Corner; 3]>,
}

impl Shell {
    /// Adds a place and gives its number.
    pub fn place(&mut self, at: DVec3) -> u32 {
        let number = u32::try_from(self.places.len()).unwrap_or(u32::MAX);
        self.places.push(at);
        number
    }

    /// Position of a place; the origin for a number that was never given out.
    pub fn at(&self, place: u32) -> DVec3 {
        self.places.get(place as usize).copied().unwrap_or_default()
    }

    /// Adds a face, counter-clockwise seen from outside; one with two corners at the same place is left out.
    pub fn face(&mut self, corners: [Corner; 3]) {
        let [a, b, c] = corners.map(|corner| self.at(corner.place));
        if a != b && b != c && c != a {
            self.faces.push(corners);
        }
    }

    /// Adds a four-sided patch.
    pub fn patch(&mut self, [a, b, c, d]: [Corner; 4]) {
        self.face([a, b, c]);
        self.face([a, c, d]);
    }

    /// The shell of a finished mesh: corners with bit-identical positions become one place.
    pub fn of(mesh: &Mesh) -> Self {
        let mut numbers = BTreeMap::new();
        let mut shell = Self::default();
        let corners: Vec<Corner> = mesh
            .positions
            .iter()
            .zip(&mesh.uvs)
            .map(|(&at, &uv)| {
                let place = *numbers
                    .entry(at.to_array().map(|value| (value + 0.0).to_bits()))
                    .or_insert_with(|| shell.place(at));
                Corner { place, uv }
            })
            .collect();
        let corner = |number: u32| corners.get(number as usize).copied();
        let faces = mesh.triangles.iter();
        shell.faces = faces.filter_map(|&[a, b, c]| Some([corner(a)?, corner(b)?, corner(c)?])).collect();
        shell
    }

    /// The mesh, with normals by the crease rule: a corner takes the area-weighted mean of the faces round its place that
    /// are turned from its own face by less than [`CREASE`].
    pub fn mesh(&self) -> Mesh {
        let areas: Vec<DVec3> = self.faces.iter().map(|&face| self.area(face)).collect();
        let mut round: Vec<Vec<u32>> = vec![Vec::new(); self.places.len()];
        for (number, face) in (0u32..).zip(&self.faces) {
            for corner in face {
                if let Some(faces) = round.get_mut(corner.place as usize) {
                    faces.push(number);
                }
            }
        }
        let mut writer = Writer { mesh: Mesh::default(), given: vec![Vec::new(); self.places.len()] };
        for (face, &area) in self.faces.iter().zip(&areas) {
            let triangle = face.map(|corner| {
                let faces = round.get(corner.place as usize).map_or(&[][..], Vec::as_slice);
                writer.corner(self.at(corner.place), corner, smooth(area, faces, &areas))
            });
            writer.mesh.triangles.push(triangle);
        }
        writer.mesh
    }

    /// Twice the face's area, along its normal.
    fn area(&self, face: [Corner; 3]) -> DVec3 {
        let [a, b, c] = face.map(|corner| self.at(corner.place));
        (b - a).cross(c - a)
    }
}

/// The normal of a corner of the face with this `area`, among the `faces` round its place.
fn smooth(area: DVec3, faces: &[u32], areas: &[DVec3]) -> DVec3 {
    let own = area.normalize_or_zero();
    let least = CREASE.to_radians().cos();
    let near = faces.iter().filter_map(|&face| areas.get(face as usize)).filter(|other| {
        let other = other.normalize_or_zero();
        other.dot(own) >= least
    });
    let sum: DVec3 = near.sum();
    sum.try_normalize().unwrap_or(own)
}

/// Writes corners once each: the same place with the same normal and picture place is one corner.
struct Writer {
    mesh: Mesh,
    given: Vec<Vec<u32>>,
}

impl Writer {
    fn corner(&mut self, at: DVec3, corner: Corner, normal: DVec3) -> u32 {
        let Some(given) = self.given.get_mut(corner.place as usize) else { return 0 };
        let same = |&&number: &&u32| {
            let number = number as usize;
            self.mesh.normals.get(number) == Some(&normal) && self.mesh.uvs.get(number) == Some(&corner.uv)
        };
        if let Some(&number) = given.iter().find(same) {
            return number;
        }
        let number = self.mesh.corner(at, normal, corner.uv);
        given.push(number);
        number
    }
}

//! One mesh as glTF accessors: single precision, metres.

use glam::{DVec3, Vec3};
use gltf_json::accessor::{ComponentType, GenericComponentType, Type};
use gltf_json::buffer::Target;
use gltf_json::validation::{Checked, USize64};
use gltf_json::{Accessor, Index, Root, Value};

use super::METRES_PER_MM;
use super::container::Store;
use crate::cake::Body;
use crate::packs::PackError;
use crate::shapes::Mesh;

/// Where the arrays of one mesh lie in the file.
pub(super) struct Geometry {
    pub(super) positions: Index<Accessor>,
    pub(super) normals: Index<Accessor>,
    pub(super) triangles: Index<Accessor>,
    picture_places: Option<Index<Accessor>>,
}

impl Geometry {
    /// Stores a body's mesh; `None` when it has no triangle.
    pub(super) fn store(body: &Body, root: &mut Root, store: &mut Store) -> Result<Option<Self>, PackError> {
        let mesh = &body.mesh;
        let (positions, triangles) = single(mesh);
        if triangles.is_empty() {
            return Ok(None);
        }
        if !positions.iter().all(|at| at.is_finite()) {
            return Err(PackError::NotFinite { body: body.name.to_string() });
        }
        let normals = sound_normals(mesh);
        let low = positions.iter().copied().fold(Vec3::INFINITY, Vec3::min);
        let high = positions.iter().copied().fold(Vec3::NEG_INFINITY, Vec3::max);
        let spot = vertices(root, store, &positions.iter().map(Vec3::to_array).collect::<Vec<_>>());
        if let Some(accessor) = root.accessors.get_mut(spot.value()) {
            accessor.min = Some(Value::from(low.to_array().to_vec()));
            accessor.max = Some(Value::from(high.to_array().to_vec()));
        }
        let normals = vertices(root, store, &normals.iter().map(Vec3::to_array).collect::<Vec<_>>());
        let triangles = indices(root, store, &triangles);
        Ok(Some(Self { positions: spot, normals, triangles, picture_places: None }))
    }

    /// The mesh's picture places, stored when first asked for. Both frames count v down from the top.
    pub(super) fn picture_places(
        &mut self,
        body: &Body,
        root: &mut Root,
        store: &mut Store,
    ) -> Result<Index<Accessor>, PackError> {
        if let Some(known) = self.picture_places {
            return Ok(known);
        }
        let corners = body.mesh.positions.len();
        let places: Vec<[f32; 2]> = body
            .mesh
            .uvs
            .iter()
            .map(|uv| uv.as_vec2().to_array())
            .chain(std::iter::repeat([0.0; 2]))
            .take(corners)
            .collect();
        if !places.as_flattened().iter().all(|value| value.is_finite()) {
            return Err(PackError::NotFinite { body: body.name.to_string() });
        }
        Ok(*self.picture_places.insert(vertices(root, store, &places)))
    }
}

/// A mesh in single precision and metres: its places, and its triangles between three places that exist and differ there. Two
/// places that become one take their triangle with them; its neighbours then meet along what was its other sides.
pub(super) fn single(mesh: &Mesh) -> (Vec<Vec3>, Vec<u32>) {
    let positions: Vec<Vec3> = mesh.positions.iter().map(|&at| (at * METRES_PER_MM).as_vec3()).collect();
    let place = |corner: u32| positions.get(corner as usize).copied();
    let sound = |triangle: &&[u32; 3]| {
        let [Some(a), Some(b), Some(c)] = triangle.map(place) else { return false };
        // What is no number is told by name later, and must not be lost here.
        [a, b, c].iter().any(|at| !at.is_finite()) || (a != b && b != c && c != a)
    };
    let triangles = mesh.triangles.iter().filter(sound).flatten().copied().collect();
    (positions, triangles)
}

/// One unit normal a corner. Where the mesh gives none, that of the faces round the corner stands in.
fn sound_normals(mesh: &Mesh) -> Vec<Vec3> {
    let given = |corner: usize| mesh.normals.get(corner).copied().unwrap_or_default();
    let mut normals: Vec<DVec3> = (0..mesh.positions.len()).map(given).collect();
    if normals.iter().any(|normal| normal.try_normalize().is_none()) {
        let faces = face_normals(mesh);
        for (normal, face) in normals.iter_mut().zip(faces).filter(|(normal, _)| normal.try_normalize().is_none()) {
            *normal = face;
        }
    }
    normals.into_iter().map(|normal| normal.normalize_or(DVec3::Y).as_vec3().normalize_or(Vec3::Y)).collect()
}

/// At each corner the sum of its faces' normals, larger faces counting more.
fn face_normals(mesh: &Mesh) -> Vec<DVec3> {
    let mut sums = vec![DVec3::ZERO; mesh.positions.len()];
    let at = |corner: u32| mesh.positions.get(corner as usize).copied();
    for corners in &mesh.triangles {
        let [Some(a), Some(b), Some(c)] = corners.map(at) else { continue };
        for &corner in corners {
            if let Some(sum) = sums.get_mut(corner as usize) {
                *sum += (b - a).cross(c - a);
            }
        }
    }
    sums
}

fn vertices<const N: usize>(root: &mut Root, store: &mut Store, rows: &[[f32; N]]) -> Index<Accessor> {
    let bytes: Vec<u8> = rows.as_flattened().iter().flat_map(|value| value.to_le_bytes()).collect();
    let view = store.view(root, &bytes, Some(Target::ArrayBuffer));
    let kind = if N == 2 { Type::Vec2 } else { Type::Vec3 };
    root.push(Accessor { type_: Checked::Valid(kind), ..accessor(view, rows.len(), ComponentType::F32) })
}

/// Corner numbers, in two bytes each where they fit: 65,535 itself is kept for restarts by the format.
fn indices(root: &mut Root, store: &mut Store, corners: &[u32]) -> Index<Accessor> {
    let short: Option<Vec<u16>> =
        corners.iter().map(|&corner| u16::try_from(corner).ok().filter(|&short| short < u16::MAX)).collect();
    let (bytes, component): (Vec<u8>, ComponentType) = match short {
        Some(short) => (short.iter().flat_map(|corner| corner.to_le_bytes()).collect(), ComponentType::U16),
        None => (corners.iter().flat_map(|corner| corner.to_le_bytes()).collect(), ComponentType::U32),
    };
    let view = store.view(root, &bytes, Some(Target::ElementArrayBuffer));
    root.push(accessor(view, corners.len(), component))
}

fn accessor(view: Index<gltf_json::buffer::View>, count: usize, component: ComponentType) -> Accessor {
    Accessor {
        buffer_view: Some(view),
        byte_offset: None,
        count: USize64::from(count),
        component_type: Checked::Valid(GenericComponentType(component)),
        extensions: None,
        extras: None,
        type_: Checked::Valid(Type::Scalar),
        min: None,
        max: None,
        name: None,
        normalized: false,
        sparse: None,
    }
}

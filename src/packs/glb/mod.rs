//! `cake.glb`: the cake at true size, for any 3D viewer (glTF 2.0, Khronos; binary container).
//!
//! In: the resolved bodies, mm. Out: bytes, metres, +Y up, +Z towards the customer, one named node a body. Equal bodies
//! share their geometry, equal finishes their material, so that ten pearls cost little more than one.
//!
//! ```text
//!   body ── mesh (by Arc) ──> geometry ──┐
//!     └──── surface ────────> material ──┴─> glTF mesh ──> node (pose)
//! ```

mod container;
mod geometry;
mod material;

use std::collections::BTreeMap;
use std::sync::Arc;

use glam::{DAffine3, DQuat, DVec3};
use gltf_json::mesh::{Mode, Primitive, Semantic};
use gltf_json::scene::UnitQuaternion;
use gltf_json::validation::Checked;
use gltf_json::{Asset, Index, Mesh, Node, Root, Scene};

use self::container::Store;
use self::geometry::Geometry;
use self::material::{Material, Materials};
use super::PackError;
use crate::cake::Body;

/// glTF measures in metres.
const METRES_PER_MM: f64 = 0.001;

/// The bodies as one binary glTF file, named after the cake and its revision.
///
/// Bodies without a single triangle are left out: the format has nothing for them. The same bodies give the same bytes.
///
/// # Errors
/// [`PackError::NotFinite`] for a place that is no number; [`PackError::TooLarge`] past the 4 GiB a GLB may hold.
pub fn write_glb(bodies: &[Body], title: &str, revision: &str) -> Result<Vec<u8>, PackError> {
    let mut cake = Cake::default();
    for body in bodies {
        cake.add(body)?;
    }
    cake.finish(format!("{title} · revision {revision}"))
}

/// A file being filled.
#[derive(Default)]
struct Cake {
    root: Root,
    store: Store,
    materials: Materials,
    geometries: BTreeMap<usize, Option<Geometry>>,
    meshes: BTreeMap<(usize, usize), Index<Mesh>>,
    nodes: Vec<Index<Node>>,
}

impl Cake {
    fn add(&mut self, body: &Body) -> Result<(), PackError> {
        let shape = Arc::as_ptr(&body.mesh) as usize;
        if !self.geometries.contains_key(&shape) {
            let geometry = Geometry::store(body, &mut self.root, &mut self.store)?;
            self.geometries.insert(shape, geometry);
        }
        let Some(Some(geometry)) = self.geometries.get_mut(&shape) else { return Ok(()) };
        let material = self.materials.store(&body.surface, &mut self.root, &mut self.store)?;
        let key = (shape, material.index.value());
        let mesh = match self.meshes.get(&key) {
            Some(&known) => known,
            None => {
                let primitive = primitive(geometry, &material, body, (&mut self.root, &mut self.store))?;
                let mesh = self.root.push(named_mesh(&body.name, primitive));
                self.meshes.insert(key, mesh);
                mesh
            }
        };
        self.nodes.push(self.root.push(node(body, mesh)?));
        Ok(())
    }

    fn finish(mut self, title: String) -> Result<Vec<u8>, PackError> {
        self.root.asset =
            Asset { generator: Some(concat!("Tierproof ", env!("CARGO_PKG_VERSION")).to_owned()), ..Asset::default() };
        let scene = Scene { extensions: None, extras: None, name: Some(title), nodes: self.nodes };
        self.root.scene = Some(self.root.push(scene));
        self.store.into_glb(self.root)
    }
}

/// The triangles of one body with its material; picture places only where a picture is laid on.
fn primitive(
    geometry: &mut Geometry,
    material: &Material,
    body: &Body,
    (root, store): (&mut Root, &mut Store),
) -> Result<Primitive, PackError> {
    let mut attributes = BTreeMap::from([
        (Checked::Valid(Semantic::Positions), geometry.positions),
        (Checked::Valid(Semantic::Normals), geometry.normals),
    ]);
    if material.pictured {
        attributes.insert(Checked::Valid(Semantic::TexCoords(0)), geometry.picture_places(body, root, store)?);
    }
    Ok(Primitive {
        attributes,
        extensions: None,
        extras: None,
        indices: Some(geometry.triangles),
        material: Some(material.index),
        mode: Checked::Valid(Mode::Triangles),
        targets: None,
    })
}

fn named_mesh(name: &str, primitive: Primitive) -> Mesh {
    Mesh { extensions: None, extras: None, name: Some(name.to_owned()), primitives: vec![primitive], weights: None }
}

/// The body's place; what is not moved, turned or stretched is left out.
fn node(body: &Body, mesh: Index<Mesh>) -> Result<Node, PackError> {
    if !body.pose.is_finite() {
        return Err(PackError::NotFinite { body: body.name.to_string() });
    }
    let mut node = Node { mesh: Some(mesh), name: Some(body.name.to_string()), ..Node::default() };
    if body.pose != DAffine3::IDENTITY {
        let (scale, turn, place) = body.pose.to_scale_rotation_translation();
        let place = place * METRES_PER_MM;
        node.scale = (!scale.abs_diff_eq(DVec3::ONE, 1e-9)).then(|| scale.as_vec3().to_array());
        node.rotation = (!turn.abs_diff_eq(DQuat::IDENTITY, 1e-12))
            .then(|| UnitQuaternion(turn.normalize().as_quat().normalize().to_array()));
        node.translation = (place != DVec3::ZERO).then(|| place.as_vec3().to_array());
    }
    Ok(node)
}

#[cfg(test)]
mod tests;

//! Every body of every design: its exact mesh with our volume and area of it, and the GLB that leaves the house.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde_json::{Value, json};
use tierproof::cake::{self, Body, resolve};
use tierproof::packs::write_glb;
use tierproof::shapes::Mesh;
use tierproof::wraps;

use super::{designs, folder, load, save, save_bytes};

/// Pictures don't matter here; a face this many pixels wide is painted fast.
const COLUMNS: u32 = 64;

fn bodies(path: &std::path::Path) -> Vec<Body> {
    let (design, shelf) = load(path);
    let cake = resolve(&design, &shelf).unwrap_or_else(|error| panic!("{error}"));
    let (plans, _) = wraps::plan(&cake);
    let mut bodies = cake::bodies(&cake).unwrap_or_else(|error| panic!("{error}"));
    bodies.extend(wraps::bodies(&cake, &plans, COLUMNS));
    bodies
}

/// Adds a mesh to the heap of bytes (places as f64, corner numbers as u32, little-endian) and tells where it lies.
fn store(mesh: &Mesh, heap: &mut Vec<u8>) -> Value {
    let positions = heap.len();
    heap.extend(mesh.positions.iter().flat_map(glam::DVec3::to_array).flat_map(f64::to_le_bytes));
    let triangles = heap.len();
    heap.extend(mesh.triangles.iter().flatten().flat_map(|corner| corner.to_le_bytes()));
    json!({
        "positions": [positions, mesh.positions.len()],
        "triangles": [triangles, mesh.triangles.len()],
        "volume": mesh.volume(),
        "area": mesh.area(),
    })
}

#[test]
fn bodies_of_designs() {
    let folder = folder("meshes");
    for (name, path) in designs() {
        let bodies = bodies(&path);
        let (mut heap, mut meshes, mut known) = (Vec::new(), Vec::new(), BTreeMap::new());
        let mut placed = Vec::new();
        for body in &bodies {
            let number = *known.entry(Arc::as_ptr(&body.mesh)).or_insert_with(|| {
                meshes.push(store(&body.mesh, &mut heap));
                meshes.len() - 1
            });
            placed.push(json!({"name": &*body.name, "mesh": number, "pose": body.pose.to_cols_array()}));
        }
        save(&folder, &format!("{name}.json"), &json!({"meshes": meshes, "bodies": placed}));
        save_bytes(&folder, &format!("{name}.bin"), &heap);
        save_bytes(&folder, &format!("{name}.glb"), &write_glb(&bodies, &name, "0").expect("glb"));
    }
}

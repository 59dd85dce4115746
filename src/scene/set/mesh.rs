//! Triangles for the engine.

use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, Mesh as EngineMesh, PrimitiveTopology};

use crate::shapes::Mesh;

use super::lens::place;

/// A mesh of the cake (mm) as the engine's (scene units); `None` when it has no triangle or its lists don't fit together.
pub(super) fn engine_mesh(mesh: &Mesh) -> Option<EngineMesh> {
    let corners = mesh.positions.len();
    let sound = mesh.triangles.iter().flatten().all(|&corner| (corner as usize) < corners);
    if mesh.triangles.is_empty() || mesh.normals.len() != corners || mesh.uvs.len() != corners || !sound {
        return None;
    }
    let positions: Vec<[f32; 3]> = mesh.positions.iter().map(|&at| place(at).to_array()).collect();
    let normals: Vec<[f32; 3]> = mesh.normals.iter().map(|normal| normal.as_vec3().to_array()).collect();
    let uvs: Vec<[f32; 2]> = mesh.uvs.iter().map(|uv| uv.as_vec2().to_array()).collect();
    let numbers = mesh.triangles.iter().flatten().copied().collect();
    Some(
        EngineMesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::default())
            .with_inserted_attribute(EngineMesh::ATTRIBUTE_POSITION, positions)
            .with_inserted_attribute(EngineMesh::ATTRIBUTE_NORMAL, normals)
            .with_inserted_attribute(EngineMesh::ATTRIBUTE_UV_0, uvs)
            .with_inserted_indices(Indices::U32(numbers)),
    )
}

//! The laws that every mesh keeps, whatever it shows. Tests of every folder call them.

use std::collections::BTreeMap;

use glam::DVec3;

use crate::shapes::Mesh;

/// Says which law a mesh breaks, if any: closed when merged by position (every edge used once in each direction), outward
/// (positive volume), no triangle without area, unit normals that look to the same side as their triangles.
///
/// # Errors
/// A sentence with the first breach.
pub fn keep(mesh: &Mesh) -> Result<(), String> {
    if mesh.triangles.is_empty() {
        return Err("the mesh is empty".into());
    }
    closed(mesh)?;
    faces(mesh)?;
    let volume = mesh.volume();
    if volume > 0.0 { Ok(()) } else { Err(format!("the mesh is inside out: its volume is {volume}")) }
}

fn closed(mesh: &Mesh) -> Result<(), String> {
    let bits = |at: DVec3| at.to_array().map(|value| (value + 0.0).to_bits());
    let mut edges: BTreeMap<_, i32> = BTreeMap::new();
    for [a, b, c] in mesh.faces() {
        for (from, to) in [(a, b), (b, c), (c, a)] {
            *edges.entry((bits(from), bits(to))).or_default() += 1;
        }
    }
    for (&(from, to), &count) in &edges {
        let back = edges.get(&(to, from)).copied().unwrap_or_default();
        if count != 1 || back != 1 {
            let places = [from, to].map(|end| DVec3::from_array(end.map(f64::from_bits)));
            return Err(format!("the edge {places:?} is used {count} times one way and {back} the other"));
        }
    }
    Ok(())
}

fn faces(mesh: &Mesh) -> Result<(), String> {
    for (face, corners) in mesh.faces().zip(&mesh.triangles) {
        let [a, b, c] = face;
        let area = (b - a).cross(c - a);
        if area.length() < 1e-11 {
            return Err(format!("the triangle {face:?} has no area"));
        }
        for &corner in corners {
            let Some(&normal) = mesh.normals.get(corner as usize) else {
                return Err(format!("no normal for {corner}"));
            };
            if (normal.length() - 1.0).abs() > 1e-9 {
                return Err(format!("the normal {normal} is not one long"));
            }
            if normal.dot(area.normalize_or_zero()) <= 0.0 {
                return Err(format!("the normal {normal} looks into the body at {face:?}"));
            }
        }
    }
    Ok(())
}

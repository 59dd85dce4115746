//! Lays a soft body along something.

use glam::DVec3;

use super::shell::Shell;
use crate::shapes::Mesh;

/// The body with every corner moved by `place`, and its normals worked out anew. `place` must not fold or mirror the body.
#[must_use]
pub fn bend(mesh: &Mesh, place: impl Fn(DVec3) -> DVec3) -> Mesh {
    let mut shell = Shell::of(mesh);
    for at in &mut shell.places {
        *at = place(*at);
    }
    shell.mesh()
}

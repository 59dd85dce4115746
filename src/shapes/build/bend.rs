//! Lays a soft body along something.

use glam::{DAffine3, DVec3};

use super::shell::Shell;
use crate::shapes::Mesh;

/// The body moved by `flat`, cut at the planes `folds` (sorted by x), every corner then moved by `place`; its normals are
/// worked out anew. `place` must not fold or mirror the body.
#[must_use]
pub fn bend(mesh: &Mesh, flat: &DAffine3, folds: &[f64], place: impl Fn(DVec3) -> DVec3) -> Mesh {
    let mut shell = Shell::of(mesh);
    for at in &mut shell.places {
        *at = flat.transform_point3(*at);
    }
    shell.slice_near(folds);
    for at in &mut shell.places {
        *at = place(*at);
    }
    shell.mesh()
}

//! The same surface with fewer triangles, for what is seen small or only as a shadow: a picture takes as long as its triangles take
//! in all of its shadow maps.

use meshoptimizer_rs::{
    Attributes, Error, Positions, SimplifyOptions, SimplifySettings, Workspace, simplify_with_attributes,
};

use crate::shapes::Mesh;

/// How closely triangles follow the surface that they stand for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub(in crate::scene) enum Grain {
    /// As it was built.
    #[default]
    Fine,
    /// For the shadow maps of a still, whose pixels are about half a millimetre.
    Shadow,
    /// For small pictures, whose pixels are about a millimetre.
    Small,
}

impl Grain {
    /// How far a surface may move, mm.
    const fn tolerance(self) -> f32 {
        match self {
            Self::Fine => 0.0,
            Self::Shadow => 0.2,
            Self::Small => 0.4,
        }
    }
}

/// How far a surface may move (in tolerances) to keep its normals from turning by one, that is by a radian.
const A_RADIAN: f32 = 1.5;

/// Whether a picture lies on a surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) enum Print {
    /// Its places stay where they are.
    Lies,
    /// Nothing is seen of them.
    None,
}

/// The mesh with fewer triangles, its corners a choice of the same corners; `None` where it stays as it is.
///
/// Edges are pulled in where quadric errors (Garland and Heckbert 1997) of places, normals and picture places stay within the tolerance.
pub(super) fn coarser(mesh: &Mesh, print: Print, grain: Grain) -> Option<Mesh> {
    let tolerance = grain.tolerance();
    if tolerance <= 0.0 {
        return None;
    }
    let kept = kept(mesh, print, tolerance).ok()?;
    if kept.len() >= 3 * mesh.triangles.len() {
        return None;
    }
    chosen(mesh, &kept)
}

/// The corner numbers of the triangles that remain.
fn kept(mesh: &Mesh, print: Print, tolerance: f32) -> Result<Vec<u32>, Error> {
    let corners: Vec<u32> = mesh.triangles.iter().flatten().copied().collect();
    let places: Vec<[f32; 3]> = mesh.positions.iter().map(|at| at.as_vec3().to_array()).collect();
    let paint = mesh.normals.iter().zip(&mesh.uvs);
    let paint: Vec<f32> =
        paint.flat_map(|(normal, uv)| [normal.x, normal.y, normal.z, uv.x, uv.y].map(|value| value as f32)).collect();
    let turn = A_RADIAN * tolerance;
    // A picture is about as wide as its body; its places may move as far as the surface.
    let width = match print {
        Print::Lies => mesh.bounds().map_or(0.0, |(low, high)| (high - low).max_element() as f32),
        Print::None => 0.0,
    };
    let settings =
        SimplifySettings { target_index_count: 0, target_error: tolerance, options: SimplifyOptions::ERROR_ABSOLUTE };
    let paint = Attributes::from_interleaved(&paint, places.len(), 5, 5, 0)?;
    let weights = [turn, turn, turn, width, width];
    let places = Positions::from_packed(&places);
    Ok(simplify_with_attributes(&corners, places, paint, &weights, None, settings, &mut Workspace::default())?.indices)
}

/// The mesh of some of its triangles, with the corners that they need in the order in which they need them.
fn chosen(mesh: &Mesh, corners: &[u32]) -> Option<Mesh> {
    let mut numbers = vec![None; mesh.positions.len()];
    let mut fewer = Mesh::default();
    let renumbered = corners.iter().map(|&corner| {
        let corner = corner as usize;
        let number = numbers.get_mut(corner)?;
        if number.is_none() {
            let (position, normal) = (mesh.positions.get(corner)?, mesh.normals.get(corner)?);
            *number = Some(fewer.corner(*position, *normal, *mesh.uvs.get(corner)?));
        }
        *number
    });
    let renumbered: Vec<u32> = renumbered.collect::<Option<_>>()?;
    fewer.triangles = renumbered.as_chunks::<3>().0.to_vec();
    Some(fewer)
}

#[cfg(test)]
mod tests {
    use std::collections::HashMap;
    use std::path::Path;
    use std::sync::Arc;

    use glam::DVec3;
    use parry3d_f64::math::Pose;
    use parry3d_f64::query::PointQuery;
    use parry3d_f64::shape::TriMesh;

    use super::{Grain, Print, coarser};
    use crate::art::load_art;
    use crate::cake::{Body, bodies, resolve};
    use crate::design::read_design;
    use crate::shapes::Mesh;

    /// The different meshes of a demo.
    fn meshes(demo: &str) -> Vec<(Arc<Mesh>, Print)> {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets-demo").join(demo);
        let design = read_design(&std::fs::read_to_string(folder.join("cake.toml")).unwrap(), "").unwrap();
        let (shelf, wrong) = load_art(&folder, design.art_paths());
        assert!(wrong.is_empty());
        let cake = resolve(&Arc::new(design), &Arc::new(shelf)).unwrap();
        let print = |body: &Body| if body.surface.picture.is_some() { Print::Lies } else { Print::None };
        let mut meshes: Vec<_> = bodies(&cake).unwrap().into_iter().map(|b| (Arc::clone(&b.mesh), print(&b))).collect();
        meshes.sort_by_key(|(mesh, _)| Arc::as_ptr(mesh).addr());
        meshes.dedup_by(|a, b| Arc::ptr_eq(&a.0, &b.0));
        meshes
    }

    /// Edges, by the places of their ends, that are not run along as often one way as the other.
    fn open_edges(mesh: &Mesh) -> usize {
        let mut runs = HashMap::new();
        for [a, b, c] in mesh.faces() {
            for (from, to) in [(a, b), (b, c), (c, a)] {
                let [from, to] = [from, to].map(|at| at.to_array().map(f64::to_bits));
                let (edge, way) = if from < to { ((from, to), 1) } else { ((to, from), -1) };
                *runs.entry(edge).or_insert(0) += way;
            }
        }
        runs.values().filter(|&&runs| runs != 0).count()
    }

    /// How far the corners of a mesh lie from the surface of another, mm, at most.
    fn farthest(mesh: &Mesh, from: &Mesh) -> f64 {
        let surface = TriMesh::new(from.positions.clone(), from.triangles.clone()).unwrap();
        let off = |&at: &DVec3| surface.distance_to_point(&Pose::identity(), at, false);
        mesh.positions.iter().map(off).fold(0.0, f64::max)
    }

    #[test]
    fn coarser_bodies_stay_closed_and_where_they_are() {
        for (grain, share) in [(Grain::Shadow, 0.62), (Grain::Small, 0.42)] {
            let (mut before, mut after) = (0, 0);
            for (mesh, print) in meshes("lighthouse-birthday") {
                let fewer = coarser(&mesh, print, grain).unwrap_or_else(|| Mesh::clone(&mesh));
                before += mesh.triangles.len();
                after += fewer.triangles.len();
                assert_eq!(open_edges(&fewer), open_edges(&mesh));
                let off = farthest(&mesh, &fewer);
                assert!(off < 2.5 * f64::from(grain.tolerance()), "{grain:?}: {off} mm");
                let swollen = fewer.volume() - mesh.volume();
                assert!(swollen.abs() < f64::from(grain.tolerance()) * mesh.area(), "{swollen} of {}", mesh.volume());
                let worst = fewer.positions.iter().filter(|at| !mesh.positions.contains(at)).count();
                assert_eq!(worst, 0);
            }
            assert!((after as f64) < share * before as f64, "{grain:?}: {after} of {before}");
        }
    }

    #[test]
    fn what_can_not_be_made_coarser_stays() {
        let mesh = Mesh::default();
        assert_eq!(coarser(&mesh, Print::None, Grain::Small), None);
        let mut lost = Mesh::default();
        let corners = [DVec3::NAN, DVec3::X, DVec3::Y].map(|at| lost.corner(at, DVec3::Z, glam::DVec2::ZERO));
        lost.triangle(corners[0], corners[1], corners[2]);
        assert_eq!(coarser(&lost, Print::Lies, Grain::Small), None);
        lost.triangle(0, 1, 9);
        assert_eq!(coarser(&lost, Print::Lies, Grain::Small), None);
    }
}

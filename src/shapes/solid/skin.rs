//! The inside of a closed mesh: a tree over its triangles, grown on the first question.

use std::f64::consts::{PI, TAU};
use std::fmt;
use std::sync::{Arc, OnceLock};

use glam::DVec3;
use parry3d_f64::bounding_volume::Aabb;
use parry3d_f64::partitioning::{Bvh, BvhBuildStrategy};
use parry3d_f64::query::{PointQuery, PointQueryWithLocation};
use parry3d_f64::shape::{Triangle, TrianglePointLocation};

use super::{Depth, Patches};
use crate::shapes::Mesh;

/// Triangles that come nearer than this to a place touch it, mm.
const TOUCH: f64 = 1e-7;

/// The inside of a closed mesh, which may be concave, and of several bodies that meet.
pub struct Skin {
    pub(super) mesh: Arc<Mesh>,
    pub(super) low: DVec3,
    pub(super) high: DVec3,
    tree: OnceLock<Bvh>,
    patches: OnceLock<Patches>,
}

impl fmt::Debug for Skin {
    fn fmt(&self, out: &mut fmt::Formatter) -> fmt::Result {
        out.debug_struct("Skin").field("low", &self.low).field("high", &self.high).finish_non_exhaustive()
    }
}

impl Skin {
    pub(super) fn new(mesh: Arc<Mesh>) -> Option<Self> {
        let (low, high) = mesh.bounds()?;
        Some(Self { mesh, low, high, tree: OnceLock::new(), patches: OnceLock::new() })
    }

    /// Least and greatest corner, in its own frame, mm.
    #[must_use]
    pub const fn bounds(&self) -> (DVec3, DVec3) {
        (self.low, self.high)
    }

    /// Its faces in patches, made when first asked.
    #[must_use]
    pub fn patches(&self) -> &Patches {
        self.patches.get_or_init(|| Patches::of(&self.mesh))
    }

    /// Its triangles, in its own frame.
    #[must_use]
    pub fn mesh(&self) -> &Mesh {
        &self.mesh
    }

    pub(super) fn depth(&self, place: DVec3) -> Depth {
        let tree = self.tree.get_or_init(|| self.grown());
        let on_face = |number: u32, _| Some(self.triangle(number)?.project_local_point(place, false));
        let Some((_, (_, found))) = tree.project_point(place, f64::MAX, on_face) else {
            return Depth::at(place, place.clamp(self.low, self.high), false);
        };
        let is_inside = (place - found.point).dot(self.outward(tree, found.point)) < 0.0;
        Depth::at(place, found.point, is_inside)
    }

    /// Its triangles, but for those that lie in a box that doesn't pass: least and greatest corner, in the skin's own frame.
    pub fn faces_where(&self, passes: impl Fn(DVec3, DVec3) -> bool) -> impl Iterator<Item = [DVec3; 3]> {
        let tree = self.tree.get_or_init(|| self.grown());
        let numbers = tree.leaves(move |node| passes(node.mins(), node.maxs()));
        numbers.filter_map(|number| self.triangle(number)).map(|face| [face.a, face.b, face.c])
    }

    fn grown(&self) -> Bvh {
        let boxes = (0..self.mesh.triangles.len() as u32).map(|number| {
            let corners = self.triangle(number).map_or([DVec3::ZERO; 3], |face| [face.a, face.b, face.c]);
            let [a, b, c] = corners;
            Aabb::new(a.min(b).min(c), a.max(b).max(c))
        });
        Bvh::from_leaves(BvhBuildStrategy::Binned, &boxes.collect::<Vec<_>>())
    }

    fn triangle(&self, number: u32) -> Option<Triangle> {
        let corners = self.mesh.triangles.get(number as usize)?;
        let at = |corner: u32| self.mesh.positions.get(corner as usize).copied();
        Some(Triangle::new(at(corners[0])?, at(corners[1])?, at(corners[2])?))
    }

    /// Outward at a place of the surface: the normals of the faces that meet there, each by the angle with which it does. So
    /// which side of an edge or corner a place lies on is known for certain (Baerentzen and Aanaes 2005).
    fn outward(&self, tree: &Bvh, place: DVec3) -> DVec3 {
        let around = Aabb::new(place - TOUCH, place + TOUCH);
        let touching = tree.intersect_aabb(&around).filter_map(|number| {
            let face = self.triangle(number)?;
            let (found, location) = face.project_local_point_and_get_location(place, false);
            let normal = (face.b - face.a).cross(face.c - face.a).try_normalize()?;
            (found.point.distance(place) <= TOUCH).then(|| normal * angle(&face, location))
        });
        touching.sum()
    }
}

/// The angle that a triangle takes up round a place of its own.
fn angle(face: &Triangle, location: TrianglePointLocation) -> f64 {
    let at = |corner: DVec3, one: DVec3, other: DVec3| (one - corner).angle_between(other - corner);
    match location {
        TrianglePointLocation::OnVertex(0) => at(face.a, face.b, face.c),
        TrianglePointLocation::OnVertex(1) => at(face.b, face.c, face.a),
        TrianglePointLocation::OnVertex(_) => at(face.c, face.a, face.b),
        TrianglePointLocation::OnEdge(..) => PI,
        TrianglePointLocation::OnFace(..) | TrianglePointLocation::OnSolid => TAU,
    }
}

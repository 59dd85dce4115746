//! What can be touched: the real bodies of the cake in a tree, so that a ray meets the right one exactly and quickly.

use std::collections::BTreeMap;
use std::sync::Arc;

use glam::{DAffine3, DVec3};
use parry3d_f64::bounding_volume::Aabb;
use parry3d_f64::partitioning::{Bvh, BvhBuildStrategy};
use parry3d_f64::query::{Ray as Line, RayCast};
use parry3d_f64::shape::TriMesh;

use crate::cake::{Body, Owner};
use crate::shapes::Mesh;

/// Farther than any cake reaches, mm.
const FAR: f64 = 1e6;

/// Of more bodies that stand elsewhere, or meshes that nothing uses any more, all are taken anew.
const MOST_AT_ONCE: usize = 64;

/// A ray that meets nothing but the edge between two triangles may slip through between them: so far it is moved, mm, that
/// it meets one of them.
const BESIDE_EDGES: DVec3 = DVec3::new(1.7e-10, 2.3e-10, 0.9e-10);

/// A line of sight in the cake's frame, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ray {
    /// Where it begins: at the eye, or on the near plane.
    pub from: DVec3,
    /// Where it goes; any length but zero.
    pub toward: DVec3,
}

impl Ray {
    /// The same ray, moved.
    #[must_use]
    pub fn moved(self, by: DVec3) -> Self {
        Self { from: self.from + by, ..self }
    }

    /// The place where it meets the plane through `at`, in front of the eye.
    #[must_use]
    pub fn meets(self, at: DVec3, normal: DVec3) -> Option<DVec3> {
        let slope = self.toward.dot(normal);
        let way = (at - self.from).dot(normal) / slope;
        // Nearly along the plane a hair's move of the pointer would be a mile on it.
        let is_sure = slope.abs() > 0.02 * self.toward.length() * normal.length();
        (is_sure && way > 0.0).then(|| self.from + self.toward * way)
    }

    /// How far a place lies from it, mm.
    #[must_use]
    pub fn passes(self, at: DVec3) -> f64 {
        let along = self.toward.normalize_or_zero();
        let away = at - self.from;
        (away - along * away.dot(along).max(0.0)).length()
    }
}

/// Where a ray meets a body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hit {
    /// What the body is a part of.
    pub owner: Owner,
    /// Where, in the cake's frame, mm.
    pub at: DVec3,
    /// The surface's unit normal there, outward.
    pub normal: DVec3,
    /// From the ray's beginning, mm.
    pub distance: f64,
}

/// Every body of a cake, to be touched.
#[derive(Default)]
pub struct Touch {
    bodies: Vec<Touched>,
    tree: Bvh,
    /// Shapes by the place of their mesh in memory; the mesh is kept, so that no other takes its place.
    shapes: BTreeMap<usize, (Arc<Mesh>, Arc<TriMesh>)>,
}

struct Touched {
    owner: Owner,
    shape: Arc<TriMesh>,
    into: DAffine3,
    /// Where its mesh is in memory, and how the body stands.
    mesh: usize,
    pose: DAffine3,
}

impl Touched {
    fn new(body: &Body, shape: &Arc<TriMesh>) -> Self {
        let (mesh, pose) = (Arc::as_ptr(&body.mesh).addr(), body.pose);
        Self { owner: body.owner, shape: Arc::clone(shape), into: pose.inverse(), mesh, pose }
    }
}

impl std::fmt::Debug for Touch {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "Touch of {} bodies", self.bodies.len())
    }
}

impl Touch {
    /// Makes these bodies touchable.
    #[must_use]
    pub fn new(bodies: &[Body]) -> Self {
        let mut touch = Self::default();
        touch.follow(bodies);
        touch
    }

    /// Takes other bodies instead: only meshes that were not there before cost anything, and where few bodies of many stand
    /// elsewhere, only those.
    pub fn follow(&mut self, bodies: &[Body]) {
        if !self.follow_few(bodies) {
            self.follow_all(bodies);
        }
    }

    /// Whether that could be done body by body; otherwise all must be taken anew.
    fn follow_few(&mut self, bodies: &[Body]) -> bool {
        if bodies.len() != self.bodies.len() || self.shapes.len() > bodies.len() + MOST_AT_ONCE {
            return false;
        }
        let is_same = |(is, was): &(&Body, &Touched)| was.mesh == Arc::as_ptr(&is.mesh).addr() && was.pose == is.pose;
        let changed = bodies.iter().zip(&self.bodies).enumerate().filter(|(_, both)| !is_same(both));
        let changed: Vec<usize> = changed.map(|(number, _)| number).take(MOST_AT_ONCE + 1).collect();
        if changed.len() > MOST_AT_ONCE {
            return false;
        }
        for number in changed {
            let (Some(body), Ok(leaf)) = (bodies.get(number), u32::try_from(number)) else { continue };
            let known = self.shapes.get(&Arc::as_ptr(&body.mesh).addr()).cloned().or_else(|| shape(&body.mesh));
            // What has no surface is left out, and all numbers after it are others.
            let Some(known) = known else { return false };
            self.tree.insert(boxed(&known.1, &body.pose), leaf);
            let touched = Touched::new(body, &known.1);
            self.shapes.insert(touched.mesh, known);
            if let Some(place) = self.bodies.get_mut(number) {
                *place = touched;
            }
        }
        for (touched, body) in self.bodies.iter_mut().zip(bodies) {
            touched.owner = body.owner;
        }
        true
    }

    fn follow_all(&mut self, bodies: &[Body]) {
        let mut before = std::mem::take(&mut self.shapes);
        self.bodies.clear();
        let mut boxes = Vec::with_capacity(bodies.len());
        for body in bodies {
            let key = Arc::as_ptr(&body.mesh).addr();
            let known = self.shapes.get(&key).cloned().or_else(|| before.remove(&key));
            let Some((mesh, shape)) = known.or_else(|| shape(&body.mesh)) else { continue };
            boxes.push(boxed(&shape, &body.pose));
            self.bodies.push(Touched::new(body, &shape));
            self.shapes.insert(key, (mesh, shape));
        }
        self.tree = Bvh::from_leaves(BvhBuildStrategy::Binned, &boxes);
    }

    /// What a ray meets first, of the bodies that count.
    #[must_use]
    pub fn cast(&self, ray: Ray, counts: impl Fn(Owner) -> bool) -> Option<Hit> {
        let toward = ray.toward.normalize_or_zero();
        let ray = ray.moved(BESIDE_EDGES);
        let line = Line::new(ray.from, toward);
        // A body's frame may be larger or smaller than the cake's: the way along the ray is the same in both.
        let local = |body: &Touched| Line::new(body.into.transform_point3(ray.from), body.into.matrix3 * toward);
        let meets = |number: u32, best: f64| {
            let body = self.bodies.get(number as usize).filter(|body| counts(body.owner))?;
            body.shape.cast_local_ray(&local(body), best, false)
        };
        let (number, distance) = self.tree.cast_ray(&line, FAR, meets)?;
        let body = self.bodies.get(number as usize)?;
        let met = body.shape.cast_local_ray_and_get_normal(&local(body), FAR, false)?;
        // Normals go over by the transpose of the way back.
        let normal = (body.into.matrix3.transpose() * met.normal).normalize_or_zero();
        let normal = if normal.dot(toward) > 0.0 { -normal } else { normal };
        Some(Hit { owner: body.owner, at: ray.from + toward * distance, normal, distance })
    }
}

fn shape(mesh: &Arc<Mesh>) -> Option<(Arc<Mesh>, Arc<TriMesh>)> {
    let shape = TriMesh::new(mesh.positions.clone(), mesh.triangles.clone()).ok()?;
    Some((Arc::clone(mesh), Arc::new(shape)))
}

/// The box of a shape where it stands.
fn boxed(shape: &TriMesh, pose: &DAffine3) -> Aabb {
    let own = shape.local_aabb();
    let middle = pose.transform_point3((own.mins + own.maxs) / 2.0);
    let half = (own.maxs - own.mins) / 2.0;
    let turn = pose.matrix3;
    let reach = turn.x_axis.abs() * half.x + turn.y_axis.abs() * half.y + turn.z_axis.abs() * half.z;
    Aabb::new(middle - reach, middle + reach)
}

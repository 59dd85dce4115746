//! What stands round a seam: every solid of the cake, found fast where a curtain passes.

use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

use glam::{DAffine3, DVec3};
use parry3d_f64::bounding_volume::Aabb;
use parry3d_f64::partitioning::{Bvh, BvhBuildStrategy};

use super::comb::Comb;
use super::curtain::Curtain;
use crate::cake::{Body, Owner};
use crate::shapes::Mesh;

/// All solids, with a tree over the boxes they fit in.
#[derive(Debug)]
pub(super) struct Solids {
    things: Vec<Thing>,
    forms: Vec<Form>,
    tree: Bvh,
}

/// A body where it stands.
#[derive(Debug)]
struct Thing {
    form: usize,
    pose: DAffine3,
    owner: Owner,
}

/// A mesh with a tree over its triangles, grown when a curtain first comes near: equal bodies share both.
#[derive(Debug)]
struct Form {
    mesh: Arc<Mesh>,
    tree: OnceLock<Bvh>,
}

impl Solids {
    pub fn new<'a>(bodies: impl IntoIterator<Item = &'a Body>) -> Self {
        let mut known: BTreeMap<*const Mesh, (usize, (DVec3, DVec3))> = BTreeMap::new();
        let (mut things, mut forms, mut boxes) = (Vec::new(), Vec::<Form>::new(), Vec::new());
        for body in bodies {
            let Some(bounds) = body.mesh.bounds() else { continue };
            let (form, bounds) = *known.entry(Arc::as_ptr(&body.mesh)).or_insert_with(|| {
                forms.push(Form { mesh: Arc::clone(&body.mesh), tree: OnceLock::new() });
                (forms.len() - 1, bounds)
            });
            boxes.push(posed(bounds, &body.pose));
            things.push(Thing { form, pose: body.pose, owner: body.owner });
        }
        Self { things, forms, tree: Bvh::from_leaves(BvhBuildStrategy::Binned, &boxes) }
    }

    /// Hides from a seam what stands before it in a curtain; `counts` says whose bodies may.
    pub fn shade(&self, comb: &mut Comb, curtain: &Curtain, counts: impl Fn(Owner) -> bool) {
        for number in self.tree.leaves(|node| curtain.reaches(node.mins(), node.maxs())) {
            let Some(thing) = self.things.get(number as usize).filter(|thing| counts(thing.owner)) else { continue };
            if let Some(form) = self.forms.get(thing.form) {
                form.shade(comb, &curtain.within(&thing.pose));
            }
            if comb.is_hidden() {
                return;
            }
        }
    }
}

impl Form {
    fn shade(&self, comb: &mut Comb, curtain: &Curtain) {
        let mesh = &*self.mesh;
        let corners = |triangle: &[u32; 3]| {
            triangle.map(|corner| mesh.positions.get(corner as usize).copied().unwrap_or_default())
        };
        let tree = self.tree.get_or_init(|| {
            let boxes: Vec<Aabb> = mesh.triangles.iter().map(|triangle| around(&corners(triangle))).collect();
            Bvh::from_leaves(BvhBuildStrategy::Binned, &boxes)
        });
        for number in tree.leaves(|node| curtain.reaches(node.mins(), node.maxs())) {
            if let Some(edge) = mesh.triangles.get(number as usize).and_then(|triangle| curtain.cut(corners(triangle)))
            {
                comb.shade(edge, curtain.slopes);
            }
        }
    }
}

/// The box round some places.
fn around(places: &[DVec3]) -> Aabb {
    let (low, high) = places
        .iter()
        .fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), &place| (low.min(place), high.max(place)));
    Aabb::new(low, high)
}

/// The box, square to the cake, round a posed box.
fn posed((low, high): (DVec3, DVec3), pose: &DAffine3) -> Aabb {
    let (middle, half) = (pose.transform_point3((low + high) / 2.0), (high - low) / 2.0);
    let [x, y, z] = [pose.matrix3.x_axis, pose.matrix3.y_axis, pose.matrix3.z_axis].map(DVec3::abs);
    let reach = x * half.x + y * half.y + z * half.z;
    Aabb::new(middle - reach, middle + reach)
}

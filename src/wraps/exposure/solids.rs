//! What stands round a seam: every solid of the cake, found fast where a curtain passes.

use glam::{DVec2, DVec3};
use parry3d_f64::bounding_volume::Aabb;
use parry3d_f64::partitioning::{Bvh, BvhBuildStrategy};

use super::comb::Comb;
use super::curtain::Curtain;
use super::slabs::Slab;
use crate::cake::extent::piece_box;
use crate::cake::solids::{SolidStock, tier_solid};
use crate::cake::{Cake, CakePiece, Owner};
use crate::shapes::solid::{Skin, Solid, Standing};

/// All solids that may hide a seam, with a tree over the boxes they fit in.
#[derive(Debug)]
pub(super) struct Solids {
    things: Vec<Thing>,
    tree: Bvh,
}

/// A solid where it stands.
#[derive(Debug)]
pub(super) struct Thing {
    /// What of the cake it is a part of.
    pub owner: Owner,
    pub standing: Standing,
    /// Of a tier or course, in its own frame.
    slabs: Vec<Slab>,
}

impl Solids {
    /// Those of a cake. A piece that can't be made hides nothing; neither does one that stays within every tier's outline.
    pub fn new(cake: &Cake) -> Self {
        let (mut stock, mut things) = (SolidStock::default(), Vec::new());
        let mut add = |owner, solids: Vec<Standing>| {
            things.extend(solids.into_iter().map(|standing| Thing::new(owner, standing)));
        };
        for (number, tier) in cake.tiers.iter().enumerate() {
            add(Owner::Tier(number), vec![tier_solid(tier)]);
            for (count, course) in tier.courses.iter().enumerate() {
                add(Owner::Course(number, count), stock.course(tier, course));
            }
        }
        for placed in cake.pieces.iter().filter(|placed| sticks_out(cake, placed)) {
            add(Owner::Piece(placed.index), stock.piece(cake, placed));
        }
        // Large ones first: what they hide need not be hidden again.
        things.sort_by(|a, b| b.size().total_cmp(&a.size()));
        let boxes: Vec<Aabb> =
            things.iter().map(|thing: &Thing| Aabb::new(thing.standing.low, thing.standing.high)).collect();
        Self { things, tree: Bvh::from_leaves(BvhBuildStrategy::Binned, &boxes) }
    }

    /// All of them, large ones first.
    pub fn all(&self) -> &[Thing] {
        &self.things
    }

    /// Those whose box passes, and all boxes round it; large ones first.
    pub fn near(&self, passes: impl Fn(DVec3, DVec3) -> bool) -> Vec<&Thing> {
        let mut numbers: Vec<u32> = self.tree.leaves(|node| passes(node.mins(), node.maxs())).collect();
        numbers.sort_unstable();
        numbers.into_iter().filter_map(|number| self.things.get(number as usize)).collect()
    }
}

/// Can a piece stand before the side of any tier? Not while it is within all their outlines, as on a top.
fn sticks_out(cake: &Cake, placed: &CakePiece) -> bool {
    let (low, high) = piece_box(cake, placed);
    let corners = [low, DVec3::new(high.x, 0.0, low.z), high, DVec3::new(low.x, 0.0, high.z)];
    cake.tiers.iter().any(|tier| {
        let into = tier.pose().inverse();
        let inside = |corner: DVec3| {
            let corner = into.transform_point3(corner);
            tier.outline.contains(DVec2::new(corner.x, corner.z))
        };
        !tier.outline.is_convex() || !corners.into_iter().all(inside)
    })
}

impl Thing {
    fn new(owner: Owner, standing: Standing) -> Self {
        let slabs = match &*standing.solid {
            Solid::Block(block) => Slab::of_block(block),
            Solid::Rope(rope) => Slab::of_rope(rope),
            Solid::Ball(_) | Solid::Skin(_) => Vec::new(),
        };
        Self { owner, standing, slabs }
    }

    fn size(&self) -> f64 {
        self.standing.low.distance_squared(self.standing.high)
    }

    /// Hides from a seam what stands before it in a curtain.
    pub fn shade(&self, comb: &mut Comb, curtain: &Curtain) {
        let Standing { solid, pose, low, high, .. } = &self.standing;
        if !curtain.reaches(*low, *high) {
            return;
        }
        match &**solid {
            Solid::Ball(radius) => {
                if let Some(disc) = curtain.disc(pose.translation, *radius) {
                    comb.hide(curtain.slopes, |slope| disc.shadow(slope));
                }
            }
            Solid::Skin(skin) => shade_skin(skin, comb, &curtain.within(pose)),
            Solid::Block(_) | Solid::Rope(_) => shade_slabs(&self.slabs, comb, &curtain.within(pose)),
        }
    }
}

/// Hides what stands in the shadow of a mesh, which is that of all edges at which the curtain cuts it.
fn shade_skin(skin: &Skin, comb: &mut Comb, curtain: &Curtain) {
    let (low, high) = skin.bounds();
    if !comb.shows(curtain.slopes, curtain.shadow(low, high)) {
        return;
    }
    for face in skin.faces_where(|low, high| curtain.reaches(low, high)) {
        if let Some([a, b]) = curtain.cut(face) {
            comb.hide_edge(curtain.slopes, [a, b]);
        }
    }
}

fn shade_slabs(slabs: &[Slab], comb: &mut Comb, curtain: &Curtain) {
    let (from, towards, up) = curtain.in_plan();
    for slab in slabs {
        let (foot, top) = (slab.heights.0 + up, slab.heights.1 + up);
        if comb.is_above(top, curtain.slopes) {
            continue;
        }
        slab.outline.each_chord((from, towards), |near, far| {
            comb.hide(curtain.slopes, |slope| (foot - far * slope, top - near * slope));
        });
    }
}

//! Which of many boxes meet: a tree of boxes, so that the work grows with the number of boxes and of pairs found.

use glam::DVec3;
use parry3d_f64::bounding_volume::{Aabb, BoundingVolume};
use parry3d_f64::partitioning::{Bvh, BvhBuildStrategy};

/// So few boxes are compared with all others one by one, without a tree.
const FEW: usize = 8;

/// Pairs of boxes (least and greatest corner) that share any place and of which one at least counts, by number; the lower
/// number first, in order.
#[must_use]
pub fn near_pairs(boxes: &[(DVec3, DVec3)], counts: impl Fn(usize) -> bool) -> Vec<(usize, usize)> {
    let boxes: Vec<Aabb> = boxes.iter().map(|&(low, high)| Aabb::new(low, high)).collect();
    let counted: Vec<(usize, &Aabb)> = boxes.iter().enumerate().filter(|(number, _)| counts(*number)).collect();
    let mut pairs: Vec<(usize, usize)> = Vec::new();
    let mut meet = |one: usize, other: usize| {
        // Of two that both count each finds the other.
        if one != other && (one < other || !counts(other)) {
            pairs.push((one.min(other), one.max(other)));
        }
    };
    if counted.len() <= FEW {
        for (one, around) in counted {
            let met = boxes.iter().enumerate().filter(|(_, other)| around.intersects(other));
            met.for_each(|(other, _)| meet(one, other));
        }
    } else {
        let tree = Bvh::from_leaves(BvhBuildStrategy::Binned, &boxes);
        for (one, around) in counted {
            tree.intersect_aabb(around).for_each(|leaf| meet(one, leaf as usize));
        }
    }
    pairs.sort_unstable();
    pairs
}

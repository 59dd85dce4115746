//! Which of many boxes meet: a tree of boxes, so that the work grows with the number of boxes and of pairs found.

use glam::DVec3;
use parry3d_f64::bounding_volume::Aabb;
use parry3d_f64::partitioning::{Bvh, BvhBuildStrategy};

/// Pairs of boxes (least and greatest corner) that share any place, by number; the lower number first, in order.
#[must_use]
pub fn near_pairs(boxes: &[(DVec3, DVec3)]) -> Vec<(usize, usize)> {
    let boxes: Vec<Aabb> = boxes.iter().map(|&(low, high)| Aabb::new(low, high)).collect();
    let tree = Bvh::from_leaves(BvhBuildStrategy::Binned, &boxes);
    let mut pairs = Vec::new();
    for (first, around) in boxes.iter().enumerate() {
        let met = tree.intersect_aabb(around).map(|leaf| leaf as usize);
        pairs.extend(met.filter(|&second| second > first).map(|second| (first, second)));
    }
    pairs.sort_unstable();
    pairs
}

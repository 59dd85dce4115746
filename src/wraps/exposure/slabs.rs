//! Tiers and courses as upright slabs round an outline: exact in plan, without triangles.

use std::f64::consts::PI;

use crate::art::Join;
use crate::shapes::Outline;
use crate::shapes::solid::{Block, Rope};

/// A rope is cut into so many slabs.
const ROPE_SLABS: u32 = 4;

/// An outline carried up, in its tier's frame.
#[derive(Clone, Debug)]
pub(super) struct Slab {
    /// Seen from above.
    pub outline: Outline,
    /// Lower and upper face, mm.
    pub heights: (f64, f64),
}

impl Slab {
    /// A block as one slab; its rounded upper edge stays square.
    pub fn of_block(block: &Block) -> Vec<Self> {
        vec![Self { outline: block.outline.offset(block.out, Join::Round), heights: (block.foot, block.top) }]
    }

    /// A rope as slabs, each as far out as the rope is in the middle of its height.
    pub fn of_rope(rope: &Rope) -> Vec<Self> {
        let angle = |number: f64| PI * number / f64::from(ROPE_SLABS);
        let height = |number: f64| rope.up - rope.radius * angle(number).cos();
        let slab = |number: u32| {
            let number = f64::from(number);
            let out = rope.radius * (1.0 + angle(number + 0.5).sin());
            Self { outline: rope.outline.offset(out, Join::Round), heights: (height(number), height(number + 1.0)) }
        };
        (0..ROPE_SLABS).map(slab).collect()
    }
}

//! What a piece that takes its place from its seat must know of it.

use glam::{DVec2, DVec3};

use super::Posture;
use crate::shapes::Outline;

/// A seat, asked by pieces that lie all over it or along its edge. Places are as in a footprint: (x, z) on a top,
/// (along, up) on a side; mm.
pub trait Site {
    /// The middle of a ball so wide (its radius) that lies there, in any one frame; `None` where none may lie.
    fn ball(&self, at: DVec2, radius: f64) -> Option<DVec3>;

    /// The edge of what it lies on, seen as a plan: y is z on a top, and downward on a side. `None`: it has none.
    fn edge(&self) -> Option<Outline>;

    /// Once round the side of a tier, `out` mm outside; `None` elsewhere.
    fn around(&self, out: f64) -> Option<f64>;
}

/// A seat without end.
#[derive(Clone, Copy, Debug)]
pub struct Endless(pub Posture);

impl Site for Endless {
    fn ball(&self, at: DVec2, radius: f64) -> Option<DVec3> {
        Some(self.0.place(at, radius))
    }

    fn edge(&self) -> Option<Outline> {
        None
    }

    fn around(&self, _: f64) -> Option<f64> {
        None
    }
}

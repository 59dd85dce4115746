//! What is in front of the camera.

use glam::DVec3;

use crate::art::Colour;
use crate::cake::{Body, corners};

/// The bodies of a cake on a table before a plain backdrop.
#[derive(Clone, Debug)]
pub struct Stage {
    /// Everything that is seen, in the cake's frame, mm.
    pub bodies: Vec<Body>,
    /// Height of the table's top in the cake's frame, mm: the underside of the board.
    pub floor: f64,
    /// The colour behind everything: exactly this in the picture's corners, a little lighter behind the cake.
    pub backdrop: Colour,
}

impl Default for Stage {
    /// An empty table.
    fn default() -> Self {
        Self { bodies: Vec::new(), floor: 0.0, backdrop: Self::BACKDROP }
    }
}

impl Stage {
    /// The backdrop a proof is photographed on: a warm light grey, on which white paste still has an edge.
    pub const BACKDROP: Colour = Colour::new(0xdc, 0xd8, 0xd2);

    /// Least and greatest corner of all bodies, mm; one point on the table when there are none.
    #[must_use]
    pub fn bounds(&self) -> (DVec3, DVec3) {
        let points = corners(&self.bodies).into_iter().filter(|point| point.is_finite());
        points.map(|point| (point, point)).reduce(|(a, b), (c, d)| (a.min(c), b.max(d))).unwrap_or_else(|| {
            let middle = DVec3::new(0.0, self.floor, 0.0);
            (middle, middle)
        })
    }
}

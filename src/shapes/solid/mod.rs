//! Solids that can be asked how deep a place lies in them, and how deep two of them run into each other.
//!
//! In: a ball, an upright block or rope round an outline, or any closed mesh (concave too). Out: for a place its [`Depth`], for
//! two [`Standing`] solids their [`overlap`], for many boxes the [`near_pairs`].
//!
//! ```text
//!    solid A      f_A(p): how far inside A the place p lies (below zero: how far outside)
//!   +-------+
//!   |    +--|----+   depth of the overlap = the most that f_A(p) + f_B(p) comes to, over all places p:
//!   |    |p |    |   0 where they only touch; never more than the least move that separates them; exactly that
//!   +----|--+    |   move for two balls, for a ball in anything convex, for boxes face to face, for a corner in a face
//!        +-------+ B
//! ```
//!
//! Why never more: a ball of radius f_A(p) about p lies in A; after a move by t it lies outside B only if
//! f_B(p + t) ≤ −f_A(p), and f_B changes by at most the length of t.

mod block;
mod near;
mod overlap;
mod patches;
mod skin;

use std::sync::Arc;

use glam::{DAffine3, DVec3};

pub use block::{Block, Rope};
pub use near::near_pairs;
pub use overlap::{Overlap, overlap};
pub use patches::{Patch, Patches};
pub use skin::Skin;

use super::Mesh;

/// How a place lies to a solid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Depth {
    /// How far inside, mm; below zero: how far outside.
    pub inside: f64,
    /// The nearest place of the surface.
    pub nearest: DVec3,
}

impl Depth {
    /// Of a place, from the nearest place of a surface and on which side of it the place lies.
    fn at(place: DVec3, nearest: DVec3, is_inside: bool) -> Self {
        let away = place.distance(nearest);
        Self { inside: if is_inside { away } else { -away }, nearest }
    }
}

/// One solid in its own frame, mm.
#[derive(Debug)]
pub enum Solid {
    /// A ball of this radius about the origin.
    Ball(f64),
    /// A tier, a board, a band.
    Block(Block),
    /// A rope round a tier.
    Rope(Rope),
    /// The inside of a closed mesh.
    Skin(Skin),
}

impl Solid {
    /// The inside of a closed mesh; `None` for an empty one.
    #[must_use]
    pub fn skin(mesh: Arc<Mesh>) -> Option<Self> {
        Skin::new(mesh).map(Self::Skin)
    }

    /// How a place in its own frame lies to it.
    #[must_use]
    pub fn depth(&self, place: DVec3) -> Depth {
        match self {
            Self::Ball(radius) => {
                let out = place.try_normalize().unwrap_or(DVec3::Y);
                Depth { inside: radius - place.length(), nearest: out * *radius }
            }
            Self::Block(block) => block.depth(place),
            Self::Rope(rope) => rope.depth(place),
            Self::Skin(skin) => skin.depth(place),
        }
    }

    /// Least and greatest corner of the box round it.
    #[must_use]
    pub fn bounds(&self) -> (DVec3, DVec3) {
        match self {
            Self::Ball(radius) => (DVec3::splat(-radius), DVec3::splat(*radius)),
            Self::Block(block) => block.bounds(),
            Self::Rope(rope) => rope.bounds(),
            Self::Skin(skin) => (skin.low, skin.high),
        }
    }
}

/// A solid where it stands.
#[derive(Clone, Debug)]
pub struct Standing {
    /// What it is; equal ones are shared.
    pub solid: Arc<Solid>,
    /// From the solid's frame to the common one.
    pub pose: DAffine3,
    back: DAffine3,
    /// Least corner of the box round it where it stands, mm.
    pub low: DVec3,
    /// Greatest corner of that box.
    pub high: DVec3,
}

impl Standing {
    /// A solid at a pose, which turns and moves but never stretches or mirrors.
    #[must_use]
    pub fn new(solid: Arc<Solid>, pose: DAffine3) -> Self {
        let (low, high) = solid.bounds();
        let (middle, half) = (pose.transform_point3((low + high) / 2.0), (high - low) / 2.0);
        let turned = pose.matrix3;
        let half = match *solid {
            Solid::Ball(_) => half,
            // The box of a turned box: its half sides, each turned, added up without their signs.
            _ => turned.x_axis.abs() * half.x + turned.y_axis.abs() * half.y + turned.z_axis.abs() * half.z,
        };
        Self { solid, pose, back: pose.inverse(), low: middle - half, high: middle + half }
    }

    /// How a place of the common frame lies to it.
    #[must_use]
    pub fn depth(&self, place: DVec3) -> Depth {
        let found = self.solid.depth(self.back.transform_point3(place));
        Depth { nearest: self.pose.transform_point3(found.nearest), ..found }
    }

    /// The corners of its mesh where it stands; none for a solid without one.
    pub fn corners(&self) -> impl Iterator<Item = DVec3> {
        let mesh = match &*self.solid {
            Solid::Skin(skin) => Some(&skin.mesh),
            Solid::Ball(_) | Solid::Block(_) | Solid::Rope(_) => None,
        };
        let positions = mesh.map_or(&[][..], |mesh| &mesh.positions);
        positions.iter().map(|&at| self.pose.transform_point3(at))
    }

    /// Whether its box and another share any place.
    #[must_use]
    pub fn meets(&self, (low, high): (DVec3, DVec3)) -> bool {
        self.low.cmple(high).all() && self.high.cmpge(low).all()
    }

    /// Whether anything within a box could run more than `least` mm into it; `false` is certain.
    #[must_use]
    pub fn could_hold(&self, (low, high): (DVec3, DVec3), least: f64) -> bool {
        let (middle, half) = ((low + high) / 2.0, (high - low) / 2.0);
        let most = match &*self.solid {
            Solid::Block(block) => block.most_within(self.back.transform_point3(middle), half),
            Solid::Ball(_) | Solid::Rope(_) | Solid::Skin(_) => self.depth(middle).inside + half.length(),
        };
        most > least
    }
}

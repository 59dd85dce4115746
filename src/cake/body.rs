//! A body: one solid thing of the cake as a renderer, a GLB file or a scale sees it.

use std::collections::BTreeMap;
use std::sync::Arc;

use glam::{DAffine3, DVec3};

use super::Cake;
use crate::art::{Colour, Picture};
use crate::design::Look;
use crate::shapes::{Mesh, box_corners};

/// One solid of one finish. Equal bodies share one mesh (the same [`Arc`]), so that a renderer may draw them together.
#[derive(Clone, Debug)]
pub struct Body {
    /// A readable name, unique within the cake: `base · waves`, `lighthouse · backing`.
    pub name: Arc<str>,
    /// The surface, in the body's own frame, mm.
    pub mesh: Arc<Mesh>,
    /// From the body's frame to the cake's frame (origin: centre of the board's top face). Never mirrors.
    pub pose: DAffine3,
    /// What it looks like.
    pub surface: Surface,
    /// What of the cake it is a part of.
    pub owner: Owner,
}

/// What of the cake a body is a part of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Owner {
    /// The board.
    Board,
    /// A tier, counted from the board up.
    Tier(usize),
    /// A course: its tier, and its own number from the tier's foot up.
    Course(usize, usize),
    /// A piece, by its number in the design.
    Piece(usize),
}

impl Owner {
    /// What the cake calls it.
    #[must_use]
    pub fn name(self, cake: &Cake) -> String {
        let tier = |index: usize| cake.tiers.get(index);
        let found = match self {
            Self::Board => None,
            Self::Tier(index) => tier(index).map(|tier| tier.name.as_str()),
            Self::Course(index, number) => {
                tier(index).and_then(|tier| tier.courses.get(number)).map(|course| course.name.as_str())
            }
            Self::Piece(index) => cake.design.pieces.get(index).map(|piece| piece.name.as_str()),
        };
        found.unwrap_or("board").to_owned()
    }
}

/// What a body looks like.
#[derive(Clone, Debug)]
pub struct Surface {
    /// The colour of the finish; under a picture, what shows where the picture is transparent.
    pub colour: Colour,
    /// How it takes the light.
    pub look: Look,
    /// A printed picture, laid on by the mesh's picture places.
    pub picture: Option<Arc<Picture>>,
}

/// The corners of the boxes round bodies, in the cake's frame, mm; equal meshes are measured once.
#[must_use]
pub fn corners(bodies: &[Body]) -> Vec<DVec3> {
    let mut boxes: BTreeMap<usize, Option<[DVec3; 8]>> = BTreeMap::new();
    let own = |mesh: &Mesh| mesh.bounds().map(|(low, high)| box_corners(low, high));
    let of_body = |body: &Body| {
        let corners = *boxes.entry(Arc::as_ptr(&body.mesh).addr()).or_insert_with(|| own(&body.mesh));
        corners.map(|corners| corners.map(|corner| body.pose.transform_point3(corner)))
    };
    bodies.iter().filter_map(of_body).flatten().collect()
}

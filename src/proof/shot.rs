//! A picture that was taken of the cake, with the view it shows.

use crate::art::Picture;

use super::view::Camera;

/// Pixels and the view they show.
#[derive(Clone, Debug, PartialEq)]
pub struct Shot {
    /// The view's name: `customer`, `front`, …
    pub view: String,
    /// The camera it was taken with.
    pub camera: Camera,
    /// What it shows; opaque.
    pub picture: Picture,
}

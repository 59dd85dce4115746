//! What the kitchen works from: portions and pastes.
//!
//! In: the resolved cake. Out: portions by a named way of cutting, and how much paste of each colour to mix.

mod paste;
mod servings;

pub use paste::{PasteMass, pastes, piece_mass, rolled_out_area};
pub use servings::{SliceSize, portions, portions_by_volume};

//! What the kitchen works from: portions, pastes, masses, dowels.
//!
//! In: the resolved cake. Out: portions by a named way of cutting, how much paste of each colour to mix, what
//! everything weighs, and what stands under each tier.

mod mass;
mod paste;
mod servings;
mod supports;

pub use mass::{cake_mass, laden, tier_mass};
pub use paste::{PasteMass, pastes, piece_mass, rolled_out_area};
pub use servings::{SliceSize, portions, portions_by_volume};
pub use supports::{DowelRow, Support, supports};

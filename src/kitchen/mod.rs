//! What the kitchen works from: portions, pastes, masses, dowels.
//!
//! In: the resolved cake. Out: portions by a named way of cutting, how much paste of each colour to mix, what
//! everything weighs, and what stands under each tier.

mod making;
mod mass;
mod paste;
mod patterns;
mod placing;
mod price;
mod schedule;
mod servings;
mod supports;

pub use making::{Make, making};
pub use mass::{cake_mass, laden, tier_mass};
pub use paste::{CoveringMass, PasteMass, covering, pastes, piece_mass, rolled_out, rolled_out_area};
pub use patterns::{MOST_PATTERNS, Pattern, Way, patterns};
pub use placing::{Placing, Spot, placing};
pub use price::{Effort, Gain, Price, PriceLine, price};
pub use schedule::{Doing, Schedule, Step, schedule, work_minutes};
pub use servings::{Cutting, SliceSize, cutting, portions, portions_by_volume};
pub use supports::{DowelRow, Support, supports};

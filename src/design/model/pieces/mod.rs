//! What each kind of piece is made of, one file a kind.

mod ball;
mod bow;
mod plaque;
mod rod;
mod rope;
mod scatter;
mod sign;
mod solid;
mod topper;

pub use ball::Ball;
pub use bow::{Bow, TailCut};
pub use plaque::{Cells, Plaque};
pub use rod::{Rod, RodPart, Stick};
pub use rope::{Rope, RopeLine, RopeSection};
pub use scatter::{Over, Scatter};
pub use sign::{Letters, Sign};
pub use solid::{Solid, SolidForm};
pub use topper::{Backing, Picks, ReferenceSide, SidePins, Topper};

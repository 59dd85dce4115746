//! Lengths, angles and the spaces they are measured in.
//!
//! In: what a person types (`5 3/8 in`, `12 cm`, `¾"`). Out: [`Length`] and [`Angle`], which everything above uses.
//! Nothing here knows what a cake is.

mod angle;
mod length;
pub mod spaces;

pub use angle::Angle;
pub use length::{Length, Unit};
pub use spaces::{PlanPoint, TapePoint};

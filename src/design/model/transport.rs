//! What the finished cake must go into: a box, a shelf.

use crate::measure::Length;

/// Room on the way to the customer; each may be left open.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Transport {
    /// The box inside: width and depth.
    pub inside: Option<[Length; 2]>,
    /// The box inside: from its floor to its lid.
    pub height: Option<Length>,
    /// Clear height of the shelf, in a fridge or a car.
    pub shelf: Option<Length>,
}

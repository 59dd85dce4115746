//! The two spaces in which a person places things.
//!
//! ```text
//!   plan, seen from above            tape, the side unrolled
//!        back                          up
//!         |                            ^
//!   ------+------> x                   |
//!         |                            +------0------> along
//!         v z (front, the customer)     left  front  right
//! ```

use super::Length;

/// A place on a top or on the board, from its centre.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PlanPoint {
    /// To the customer's right.
    pub x: Length,
    /// Towards the customer.
    pub z: Length,
}

/// A place on a side: the tape reads 0 at front centre, positive to the right as one faces the cake.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TapePoint {
    /// Arc length along the finished outline from front centre, in (-L/2, L/2].
    pub along: Length,
    /// Height above the tier's foot.
    pub up: Length,
}

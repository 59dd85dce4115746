//! From where the cake will be looked at.

use crate::measure::Angle;

/// Where the people stand who will look at the cake.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Viewing {
    /// Azimuth of the middle of them: 0° before the front, 90° at the cake's right.
    pub front: Angle,
    /// How far round to either side of there they stand.
    pub spread: Angle,
    /// How steeply they look down, from the level: least and greatest.
    pub down: [Angle; 2],
}

impl Default for Viewing {
    fn default() -> Self {
        Self { front: Angle::ZERO, spread: Angle::degrees(70.0), down: [Angle::degrees(10.0), Angle::degrees(35.0)] }
    }
}

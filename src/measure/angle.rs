//! A turn or a lean, kept in degrees.

/// An angle in degrees. Turns are seen from above, counter-clockwise positive.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Angle(f64);

impl Angle {
    /// No turn.
    pub const ZERO: Self = Self(0.0);

    /// An angle of so many degrees.
    #[must_use]
    pub const fn degrees(value: f64) -> Self {
        Self(value)
    }

    /// An angle of so many radians.
    #[must_use]
    pub const fn radians(value: f64) -> Self {
        Self(value.to_degrees())
    }

    /// The angle in degrees.
    #[must_use]
    pub const fn as_degrees(self) -> f64 {
        self.0
    }

    /// The angle in radians.
    #[must_use]
    pub const fn as_radians(self) -> f64 {
        self.0.to_radians()
    }
}

//! A length, kept in millimetres.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// Millimetres in one international inch, exactly (NIST SP 811, appendix B.6).
pub const MM_PER_INCH: f64 = 25.4;

/// A length in millimetres; never a bare number across a boundary.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Length(f64);

/// The unit a design is typed and shown in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Unit {
    /// International inches, shown in sixteenths.
    #[default]
    Inch,
    /// Millimetres.
    Millimetre,
    /// Centimetres.
    Centimetre,
}

impl Unit {
    /// Millimetres in one of this unit.
    #[must_use]
    pub const fn in_mm(self) -> f64 {
        match self {
            Self::Inch => MM_PER_INCH,
            Self::Millimetre => 1.0,
            Self::Centimetre => 10.0,
        }
    }

    /// The word a design file uses: `in`, `mm` or `cm`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Inch => "in",
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
        }
    }
}

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0.0);

    /// A length of so many millimetres.
    #[must_use]
    pub const fn mm(value: f64) -> Self {
        Self(value)
    }

    /// A length of so many international inches.
    #[must_use]
    pub const fn inches(value: f64) -> Self {
        Self(value * MM_PER_INCH)
    }

    /// A length of so many of `unit`.
    #[must_use]
    pub const fn of(value: f64, unit: Unit) -> Self {
        Self(value * unit.in_mm())
    }

    /// The length in millimetres.
    #[must_use]
    pub const fn as_mm(self) -> f64 {
        self.0
    }

    /// The length in international inches.
    #[must_use]
    pub const fn as_inches(self) -> f64 {
        self.0 / MM_PER_INCH
    }

    /// The length counted in `unit`.
    #[must_use]
    pub const fn as_unit(self, unit: Unit) -> f64 {
        self.0 / unit.in_mm()
    }

    /// The length without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// The smaller of two lengths.
    #[must_use]
    pub const fn min(self, other: Self) -> Self {
        Self(self.0.min(other.0))
    }

    /// The larger of two lengths.
    #[must_use]
    pub const fn max(self, other: Self) -> Self {
        Self(self.0.max(other.0))
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Mul<f64> for Length {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self(self.0 * factor)
    }
}

impl Div<f64> for Length {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self(self.0 / divisor)
    }
}

impl Div for Length {
    type Output = f64;
    fn div(self, other: Self) -> f64 {
        self.0 / other.0
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

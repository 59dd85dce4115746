//! A tier: one stacked cake, as its pan, its covering and the tape measure give it.

use super::Course;
use crate::measure::{Angle, Length, PlanPoint};

/// Outline of a tier, seen from above.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum TierShape {
    /// A circle; size is across.
    #[default]
    Round,
    /// A square; size is one side.
    Square,
    /// Width and depth.
    Rectangle,
    /// Six sides, one of them in front; size is corner to corner.
    Hexagon,
    /// Eight sides, one of them in front; size is corner to corner.
    Octagon,
    /// An ellipse; width and depth.
    Oval,
    /// Tip in front, cleft at the back; size is across.
    Heart,
    /// Round lobes, one of them in front; size is across.
    Petal,
}

/// A size as a person gives it: one length, or width and depth.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Size {
    /// Across, or width along x.
    pub width: Length,
    /// Depth along z, where the shape has one of its own.
    pub depth: Option<Length>,
}

impl Size {
    /// One length across.
    #[must_use]
    pub const fn across(width: Length) -> Self {
        Self { width, depth: None }
    }

    /// The depth: its own, or the same as the width.
    #[must_use]
    pub fn depth(self) -> Length {
        self.depth.unwrap_or(self.width)
    }
}

/// What the tape measure read on the iced and covered cake; each overrides the computed one.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Measured {
    /// Once round the side.
    pub around: Option<Length>,
    /// Across, as the shape's size is meant.
    pub across: Option<Length>,
    /// From foot to top.
    pub height: Option<Length>,
}

/// Dowels under a tier, where the person knows better than the handbook; only what is given overrides it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Dowels {
    /// How many.
    pub count: Option<u32>,
    /// Across one.
    pub diameter: Option<Length>,
    /// How far inside the outline of the tier they carry.
    pub inset: Option<Length>,
}

/// One stacked cake.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tier {
    /// Unique among tiers.
    pub name: String,
    /// Outline of the pan.
    pub shape: TierShape,
    /// Size of the pan.
    pub size: Size,
    /// Radius of the pan's vertical corners.
    pub corner: Length,
    /// Number of lobes; petal only.
    pub petals: u32,
    /// As it stands iced and covered.
    pub height: Length,
    /// Baked layers.
    pub layers: u32,
    /// Thickness of the icing on the side.
    pub icing: Length,
    /// Thickness of the covering paste; zero: none.
    pub paste: Length,
    /// Name of the finish.
    pub finish: String,
    /// Radius of the top edge.
    pub edge: Length,
    /// Place on what carries it.
    pub at: PlanPoint,
    /// Seen from above, counter-clockwise.
    pub turn: Angle,
    /// Raised so far above what carries it.
    pub gap: Length,
    /// What the tape read, if it did.
    pub measured: Measured,
    /// What stands under it in the tier below.
    pub dowels: Dowels,
    /// From the foot up.
    pub courses: Vec<Course>,
    /// Kept from being moved or changed in the editor; means nothing for the cake.
    pub locked: bool,
}

//! From where the cake will be looked at.

use super::{Fallback, Field, Kind, Shape};
use crate::design::model::Viewing;
use crate::design::tree::record;

/// `[viewing]`.
pub(super) static VIEWING: Shape = Shape {
    name: "viewing",
    meaning: "From where the cake will be looked at: joins are laid where few of these sight lines reach them.",
    fields: &[
        Field::or(
            "front",
            Kind::Number(-360.0, 360.0),
            Fallback::Number(0.0),
            "Where most stand, in degrees: 0 before the front, 90 at the cake's right, 180 behind it.",
        ),
        Field::or(
            "spread",
            Kind::Number(1.0, 90.0),
            Fallback::Number(70.0),
            "How far round to each side of there the others stand, in degrees; fewer the farther round.",
        ),
        Field::or(
            "down",
            Kind::Pair(&Kind::Number(0.0, 80.0), &Kind::Number(0.0, 80.0)),
            Fallback::Numbers(10.0, 35.0),
            "How steeply they look down on it, in degrees from the level: from and to.",
        ),
    ],
    kinds: &[],
    rules: &[],
};

record!(Viewing { front: "front", spread: "spread", down: "down" });

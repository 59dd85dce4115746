//! Paste: how much of each colour lies on the cake, and how much to mix.
//!
//! Masses follow from the volumes of the real solids and the paste's density. A covering is mixed by its rolled-out size;
//! everything else by what is used and the waste of rolling and cutting.

use std::collections::BTreeMap;

use crate::art::{Colour, Join};
use crate::cake::{Cake, CakePiece, CakeTier, course_volumes};
use crate::design::Design;
use crate::measure::Length;

/// A covering is rolled half an inch beyond the cake all round, to be trimmed (as in published disc sizes, D + 2H + 1 in).
const TRIM: Length = Length::inches(0.5);
/// Cubic millimetres in a cubic centimetre.
pub(super) const MM3_PER_CM3: f64 = 1000.0;

/// One paste.
#[derive(Clone, Debug, PartialEq)]
pub struct PasteMass {
    /// Its name.
    pub name: String,
    /// Its colour as mixed.
    pub colour: Colour,
    /// On the cake, g.
    pub on_cake: f64,
    /// To mix, g.
    pub to_mix: f64,
}

/// Every paste of the cake, by name.
#[must_use]
pub fn pastes(cake: &Cake) -> Vec<PasteMass> {
    let mut masses: BTreeMap<String, PasteMass> = BTreeMap::new();
    let mut add = |finish: &str, used: f64, rolled: Option<f64>| {
        let (name, paste) = cake.design.paste_of(finish);
        let grams = |volume: f64| volume / MM3_PER_CM3 * paste.density;
        let entry = masses.entry(name.clone()).or_insert_with(|| PasteMass {
            name,
            colour: paste.colour,
            on_cake: 0.0,
            to_mix: 0.0,
        });
        entry.on_cake += grams(used);
        entry.to_mix += rolled.map_or_else(|| grams(used) * (1.0 + paste.waste), grams);
    };
    for tier in &cake.tiers {
        if tier.paste > Length::ZERO {
            add(&tier.finish, tier.paste_volume(), Some(rolled_out_area(tier) * tier.paste.as_mm()));
        }
        for course in &tier.courses {
            for (finish, volume) in course_volumes(course, &tier.outline) {
                add(&finish, volume, None);
            }
        }
    }
    for (finish, volume) in cake.pieces.iter().flat_map(|piece| &piece.measure.volumes) {
        add(finish, *volume, None);
    }
    masses.into_values().filter(|paste| paste.on_cake > 0.0).collect()
}

/// Area of the covering as rolled out, mm²: the iced top, its height all round, and the trim.
#[must_use]
pub fn rolled_out_area(tier: &CakeTier) -> f64 {
    tier.iced.offset((tier.height + TRIM).as_mm(), Join::Round).area()
}

/// Mass of a piece on the cake, g.
#[must_use]
pub fn piece_mass(design: &Design, piece: &CakePiece) -> f64 {
    let grams = |(finish, volume): &(String, f64)| volume / MM3_PER_CM3 * design.paste_of(finish).1.density;
    // An empty sum of floats is minus zero.
    piece.measure.volumes.iter().map(grams).sum::<f64>() + 0.0
}

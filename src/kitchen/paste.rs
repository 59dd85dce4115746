//! Paste: how much of each colour lies on the cake, and how much to mix.
//!
//! Masses follow from the volumes of the real solids and the paste's density. A covering is mixed by its rolled-out size;
//! everything else by what is used and the waste of rolling and cutting.

use std::collections::BTreeMap;

use crate::art::{Colour, Join};
use crate::cake::{Cake, CakePiece, CakeTier, course_volumes};
use crate::design::Design;
use crate::measure::Length;
use crate::shapes::Outline;

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
    let mut add = |finish: &str, [on_cake, to_mix]: [f64; 2]| {
        let (name, paste) = cake.design.paste_of(finish);
        let empty = || PasteMass { name: name.clone(), colour: paste.colour, on_cake: 0.0, to_mix: 0.0 };
        let entry = masses.entry(name.clone()).or_insert_with(empty);
        entry.on_cake += on_cake;
        entry.to_mix += to_mix;
    };
    for tier in cake.tiers.iter().filter(|tier| tier.paste > Length::ZERO) {
        let covering = covering(&cake.design, tier);
        add(&tier.finish, [covering.on_cake, covering.rolled]);
    }
    let courses = cake.tiers.iter().flat_map(|tier| tier.courses.iter().map(|course| (course, &tier.outline)));
    let courses = courses.flat_map(|(course, outline)| course_volumes(course, outline));
    let pieces = cake.pieces.iter().flat_map(|piece| &piece.measure.volumes);
    for (finish, volume) in courses.chain(pieces.cloned()) {
        let paste = cake.design.paste_of(&finish).1;
        let grams = volume / MM3_PER_CM3 * paste.density;
        add(&finish, [grams, grams * (1.0 + paste.waste)]);
    }
    masses.into_values().filter(|paste| paste.on_cake > 0.0).collect()
}

/// A tier's covering: what stays on it, and what is rolled out to cover it; g.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct CoveringMass {
    /// On the cake.
    pub on_cake: f64,
    /// Rolled out, its trimmings included.
    pub rolled: f64,
}

/// What the covering of a tier weighs.
#[must_use]
pub fn covering(design: &Design, tier: &CakeTier) -> CoveringMass {
    let density = design.paste_of(&tier.finish).1.density;
    let grams = |volume: f64| volume / MM3_PER_CM3 * density;
    CoveringMass { on_cake: grams(tier.paste_volume()), rolled: grams(rolled_out_area(tier) * tier.paste.as_mm()) }
}

/// Area of the covering as rolled out, mm²: the iced top, its height all round, and the trim.
#[must_use]
pub fn rolled_out_area(tier: &CakeTier) -> f64 {
    rolled_out(tier).area()
}

/// The covering as rolled out, its middle over the tier's.
#[must_use]
pub fn rolled_out(tier: &CakeTier) -> Outline {
    tier.iced.offset((tier.height + TRIM).as_mm(), Join::Round)
}

/// Mass of a piece on the cake, g.
#[must_use]
pub fn piece_mass(design: &Design, piece: &CakePiece) -> f64 {
    let grams = |(finish, volume): &(String, f64)| volume / MM3_PER_CM3 * design.paste_of(finish).1.density;
    // An empty sum of floats is minus zero.
    piece.measure.volumes.iter().map(grams).sum::<f64>() + 0.0
}

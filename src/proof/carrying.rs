//! Facts of what carries the cake and what holds its pieces: dowels, sticks, masses, the box.

use std::collections::BTreeMap;

use serde::Serialize;

use super::facts::PieceFacts;
use crate::cake::Cake;
use crate::checks::cautions;
use crate::findings::Threshold;
use crate::kitchen::supports;

/// The dowels under one tier.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SupportFacts {
    /// The tier that they carry.
    pub under: String,
    /// The tier that they stand in.
    #[serde(rename = "in")]
    pub stands_in: String,
    /// How many.
    pub count: u32,
    /// The fewest and the most that books say.
    pub books: [u32; 2],
    /// Where count, diameter and place are from.
    pub source: String,
    /// What other books say, also of a centre dowel.
    pub note: String,
    /// Across one.
    pub diameter: f64,
    /// Cut to this length: level with the top of the tier they stand in.
    pub length: f64,
    /// Across the circle on which they stand, or the greatest way over their line.
    pub circle: f64,
    /// Where each stands, in the cake's plan.
    pub positions: Vec<PositionFacts>,
    /// All that stands on them, g.
    pub load: f64,
    /// What each carries, g.
    pub load_each: f64,
}

/// A place in the cake's plan, from the centre of the board.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PositionFacts {
    /// To the customer's right.
    pub x: f64,
    /// Towards the customer.
    pub z: f64,
}

/// Equal sticks to cut.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StickFacts {
    /// `dowel`, `stick`, `pin` or `side pin`.
    pub what: String,
    /// Across.
    pub diameter: f64,
    /// Cut to this length.
    pub length: f64,
    /// How many.
    pub count: usize,
}

/// What to mind about this cake.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CautionFacts {
    /// One word: `sticks`, `finishes` …
    pub about: String,
    /// What to mind.
    pub text: String,
    /// Where it is from.
    pub source: String,
}

/// A box with the usual room in it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BoxFacts {
    /// Inside, left to right.
    pub width: f64,
    /// Inside, front to back.
    pub depth: f64,
    /// Inside, from its floor to its lid.
    pub height: f64,
}

impl BoxFacts {
    /// For a cake of this outer size (mm), board included.
    #[must_use]
    pub fn round(size: glam::DVec3) -> Self {
        let room = Threshold::BoxClearance.value();
        Self { width: size.x + 2.0 * room, depth: size.z + 2.0 * room, height: size.y + room }
    }
}

pub(super) fn support_facts(cake: &Cake) -> Vec<SupportFacts> {
    let name = |number: usize| cake.tiers.get(number).map(|tier| tier.name.clone()).unwrap_or_default();
    let facts = supports(cake).into_iter().map(|support| SupportFacts {
        under: name(support.under),
        stands_in: name(support.stands_in),
        count: support.count,
        books: support.row.range,
        source: support.row.source.clone(),
        note: support.row.note.clone(),
        diameter: support.diameter.as_mm(),
        length: support.length.as_mm(),
        circle: support.circle.as_mm(),
        positions: support.places.iter().map(|place| PositionFacts { x: place.x, z: place.y }).collect(),
        load: support.load,
        load_each: support.load_each(),
    });
    facts.collect()
}

/// Every stick of the cake, those together that are cut alike (to a millimetre, to the longest): thick ones first, then long ones.
pub(super) fn stick_facts(supports: &[SupportFacts], pieces: &[PieceFacts]) -> Vec<StickFacts> {
    let tenths = |mm: f64| (mm * 10.0).round() as i64;
    let mut counts: BTreeMap<(i64, i64, &str), StickFacts> = BTreeMap::new();
    let mut add = |what: &'static str, diameter: f64, length: f64, count: usize| {
        let key = (-tenths(diameter), -(length.round() as i64), what);
        let sticks =
            counts.entry(key).or_insert_with(|| StickFacts { what: what.to_owned(), diameter, length, count: 0 });
        sticks.count += count;
        sticks.length = sticks.length.max(length);
    };
    for support in supports {
        add("dowel", support.diameter, support.length, support.positions.len());
    }
    for pick in pieces.iter().flat_map(|piece| &piece.picks) {
        add(pick.what, pick.diameter, pick.length, 1);
    }
    counts.into_values().filter(|sticks| sticks.count > 0).collect()
}

pub(super) fn caution_facts(cake: &Cake) -> Vec<CautionFacts> {
    let facts = cautions(cake).into_iter();
    facts.map(|caution| CautionFacts { about: caution.about, text: caution.text, source: caution.source }).collect()
}

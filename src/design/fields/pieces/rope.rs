//! A free rope.

use super::{Bound, Fallback, Field, Kind, Rule, Variant};
use crate::design::model::pieces::{Rope, RopeLine};
use crate::design::tree::{Record, Table};

pub(super) static ROPE: Variant = Variant {
    word: "rope",
    meaning: "A rolled rope that is not a course: a line or a ring.",
    fields: &[
        Field::must("size", Kind::Length(Bound::Above), "Across the rope."),
        Field::may("length", Kind::Length(Bound::Above), "Of a straight line, with its middle at the piece's place."),
        Field::may("ring", Kind::Length(Bound::Above), "Across a ring, to the rope's middle."),
        Field::or("pearls", Kind::Truth, Fallback::No, "Made of balls that touch instead of one roll."),
        Field::finish("finish", "Its finish."),
    ],
    rules: &[Rule::OneOf(&["length", "ring"])],
};

impl Record for Rope {
    fn from_table(table: &Table) -> Option<Self> {
        let line = match (table.take::<Option<_>>("length")?, table.take::<Option<_>>("ring")?) {
            (Some(length), None) => RopeLine::Straight(length),
            (None, Some(across)) => RopeLine::Ring(across),
            _ => return None,
        };
        Some(Self { diameter: table.take("size")?, line, pearls: table.take("pearls")?, finish: table.take("finish")? })
    }

    fn to_table(&self) -> Table {
        let mut table = Table::default();
        table.put("size", &self.diameter);
        match &self.line {
            RopeLine::Straight(length) => table.put("length", length),
            RopeLine::Ring(across) => table.put("ring", across),
        }
        table.put("pearls", &self.pearls);
        table.put("finish", &self.finish);
        table
    }
}

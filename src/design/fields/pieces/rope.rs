//! A free rope, band or row of pearls.

use super::{Bound, Fallback, Field, Kind, Rule, TILT, Variant};
use crate::design::model::pieces::{Rope, RopeLine, RopeSection};
use crate::design::tree::{Record, Table};
use crate::measure::Length;

pub(super) static ROPE: Variant = Variant {
    word: "rope",
    meaning: "A rope, band or row of pearls that is not a course: a line, a ring, or along an edge.",
    fields: &[
        Field::must("size", Kind::Length(Bound::Above), "Across the rope or a pearl; thickness of a band."),
        Field::may("length", Kind::Length(Bound::Above), "From end to end, with its middle at the piece's place."),
        Field::may("sag", Kind::Length(Bound::From), "How far the middle of such a line hangs below its ends."),
        Field::may("ring", Kind::Length(Bound::Above), "Across a ring, to the rope's middle."),
        Field::may(
            "edge",
            Kind::Length(Bound::Any),
            "Follows the edge of what it lies on, its middle so far inside; below zero: outside.",
        ),
        Field::or("pearls", Kind::Truth, Fallback::No, "Made of balls that touch instead of one roll."),
        Field::may("band", Kind::Length(Bound::Above), "Makes it a flat band of this width instead of a roll."),
        Field::finish("finish", "Its finish."),
        TILT,
    ],
    rules: &[
        Rule::OneOf(&["length", "ring", "edge"]),
        Rule::Needs("sag", "length"),
        Rule::Without { key: "band", truth: "pearls" },
    ],
};

impl Record for Rope {
    fn from_table(table: &Table) -> Option<Self> {
        let length = |key| table.take::<Option<Length>>(key);
        let line = match (length("length")?, length("ring")?, length("edge")?) {
            (Some(length), None, None) => {
                RopeLine::Straight { length, sag: table.take::<Option<_>>("sag")?.unwrap_or_default() }
            }
            (None, Some(across), None) => RopeLine::Ring(across),
            (None, None, Some(inside)) => RopeLine::Edge(inside),
            _ => return None,
        };
        let section = match (table.take("pearls")?, length("band")?) {
            (false, None) => RopeSection::Round,
            (true, None) => RopeSection::Pearls,
            (false, Some(width)) => RopeSection::Band(width),
            (true, Some(_)) => return None,
        };
        Some(Self { diameter: table.take("size")?, line, section, finish: table.take("finish")? })
    }

    fn to_table(&self) -> Table {
        let mut table = Table::default();
        table.put("size", &self.diameter);
        match &self.line {
            RopeLine::Straight { length, sag } => {
                table.put("length", length);
                if *sag > Length::ZERO {
                    table.put("sag", sag);
                }
            }
            RopeLine::Ring(across) => table.put("ring", across),
            RopeLine::Edge(inside) => table.put("edge", inside),
        }
        table.put("pearls", &(self.section == RopeSection::Pearls));
        if let RopeSection::Band(width) = &self.section {
            table.put("band", width);
        }
        table.put("finish", &self.finish);
        table
    }
}

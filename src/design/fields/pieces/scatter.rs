//! A scatter: balls of given sizes over a stretch, from a seed.

use super::{Bound, Fallback, Field, Kind, Shape, Variant};
use crate::design::model::pieces::{Over, Scatter};
use crate::design::tree::{Record, Table, record};

/// The greatest whole number that every reader of JSON keeps exactly (RFC 8259, section 6).
const GREATEST_SEED: u64 = (1 << 53) - 1;

pub(super) static SCATTER: Variant = Variant {
    word: "scatter",
    meaning: "Balls of given sizes over a stretch, none touching.",
    fields: &[
        Field::must("over", Kind::Table(&OVER), "The stretch they are spread over."),
        Field::must(
            "sizes",
            Kind::List(&Kind::Pair(&Kind::Length(Bound::Above), &Kind::Count(1, 20_000)), 1, 50),
            "Size across, and how many of that size.",
        ),
        Field::or("seed", Kind::Count(0, GREATEST_SEED), Fallback::Count(1), "The same seed gives the same places."),
        Field::may(
            "clear_of_seams",
            Kind::Length(Bound::From),
            "How far balls keep from every seam; they may lie on one when left out.",
        ),
        Field::finish("finish", "Its finish."),
    ],
    rules: &[],
};

static OVER: Shape = Shape {
    name: "over",
    meaning: "A stretch: along and up on a side, x and z elsewhere; each from and to.",
    fields: &[
        Field::may("along", Kind::Stretch, "Along the tape."),
        Field::may("up", Kind::Stretch, "Above the tier's foot."),
        Field::may("x", Kind::Stretch, "To the customer's right."),
        Field::may("z", Kind::Stretch, "Towards the customer."),
    ],
    kinds: &[],
    rules: &[],
};

record!(Scatter { over: "over", sizes: "sizes", seed: "seed", clear_of_seams: "clear_of_seams", finish: "finish" });

impl Record for Over {
    fn from_table(table: &Table) -> Option<Self> {
        let tape = table.take("along").zip(table.take("up")).map(|(along, up)| Self::Tape { along, up });
        tape.or_else(|| Some(Self::Plan { x: table.take("x")?, z: table.take("z")? }))
    }

    fn to_table(&self) -> Table {
        let mut table = Table::default();
        match self {
            Self::Tape { along, up } => {
                table.put("along", along);
                table.put("up", up);
            }
            Self::Plan { x, z } => {
                table.put("x", x);
                table.put("z", z);
            }
        }
        table
    }
}

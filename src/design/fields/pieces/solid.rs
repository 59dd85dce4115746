//! A solid: a simple body for the space that something takes.

use super::{Bound, Field, Kind, TILT, Variant};
use crate::design::model::pieces::{Solid, SolidForm};
use crate::design::tree::{Record, Table, words};
use crate::measure::Length;

pub(super) static SOLID: Variant = Variant {
    word: "solid",
    meaning: "A candle, a figure or flowers: a simple body for the space it takes.",
    fields: &[
        Field::must("form", Kind::Word(SolidForm::WORDS), "What it stands for."),
        Field::must("size", Kind::Lengths(Bound::Above), "Across its footprint, and its height."),
        Field::finish("finish", "Its finish."),
        TILT,
    ],
    rules: &[],
};

words!(SolidForm { Candle: "candle", Figure: "figure", Flowers: "flowers" });

impl Record for Solid {
    fn from_table(table: &Table) -> Option<Self> {
        let [across, height]: [Length; 2] = table.take("size")?;
        Some(Self { form: table.take("form")?, across, height, finish: table.take("finish")? })
    }

    fn to_table(&self) -> Table {
        let mut table = Table::default();
        table.put("form", &self.form);
        table.put("size", &[self.across, self.height]);
        table.put("finish", &self.finish);
        table
    }
}

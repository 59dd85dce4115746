//! A plaque: flat art or a shape, lying on a top or bent to a side.

use super::topper::{given_side, put_side};
use super::{Bound, Fallback, Field, Kind, Names, Rule, Shape, TILT, TextForm, Variant};
use crate::design::model::pieces::{Cells, Plaque};
use crate::design::tree::{Record, Table, record};
use crate::measure::Length;

pub(super) static PLAQUE: Variant = Variant {
    word: "plaque",
    meaning: "Flat art or a shape, lying on a top or bent to a side.",
    fields: &[
        Field::may("size", Kind::Lengths(Bound::Above), "Width, and height (depth when lying)."),
        Field::may("width", Kind::Length(Bound::Above), "With art: its width; the height follows."),
        Field::may("height", Kind::Length(Bound::Above), "With art: its height; the width follows."),
        Field::may("art", Kind::Text(TextForm::Path), "The art whose outline it takes."),
        Field::length("corner", Bound::From, Length::ZERO, "Radius of a rectangle's corners."),
        Field::may("cells", Kind::Table(&CELLS), "Cells set into it."),
        Field::or("stiff", Kind::Truth, Fallback::No, "Dried flat before it goes on; else it bends to a side."),
        Field::length("thickness", Bound::Above, Length::inches(0.125), "Of the plate."),
        Field::finish("finish", "Its finish."),
        TILT,
    ],
    rules: &[Rule::OneOf(&["size", "width", "height"]), Rule::Needs("width", "art"), Rule::Needs("height", "art")],
};

static CELLS: Shape = Shape {
    name: "cells",
    meaning: "Cells set into a plaque, in rows and columns.",
    fields: &[
        Field::must("rows", Kind::Count(1, 100), "From back to front."),
        Field::must("columns", Kind::Count(1, 100), "From left to right."),
        Field::length("gap", Bound::From, Length::ZERO, "Between cells, and from the outer cells to the edge."),
        Field::length("inset", Bound::From, Length::ZERO, "How deep a cell lies below the face."),
        Field::must("finishes", Kind::List(&Kind::Name(Names::Finish), 1, 100), "Dealt row by row, over and over."),
    ],
    kinds: &[],
    rules: &[],
};

record!(Cells { rows: "rows", columns: "columns", gap: "gap", inset: "inset", finishes: "finishes" });

impl Record for Plaque {
    fn from_table(table: &Table) -> Option<Self> {
        Some(Self {
            size: given_side(table)?,
            art: table.take("art")?,
            corner: table.take("corner")?,
            cells: table.take("cells")?,
            stiff: table.take("stiff")?,
            thickness: table.take("thickness")?,
            finish: table.take("finish")?,
        })
    }

    fn to_table(&self) -> Table {
        let mut table = Table::default();
        put_side(&mut table, self.size);
        table.put("art", &self.art);
        table.put("corner", &self.corner);
        table.put("cells", &self.cells);
        table.put("stiff", &self.stiff);
        table.put("thickness", &self.thickness);
        table.put("finish", &self.finish);
        table
    }
}

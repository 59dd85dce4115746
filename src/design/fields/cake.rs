//! The whole document.

use super::board::BOARD;
use super::finish::{FINISH, PASTE, SHEET};
use super::order::{KITCHEN, ORDER, PROOF};
use super::piece::PIECE;
use super::planning::PLANNING;
use super::tier::TIER;
use super::transport::TRANSPORT;
use super::viewing::VIEWING;
use super::{Fallback, Field, Form, Kind, Shape};
use crate::design::model::Design;
use crate::design::tree::{Leaf, Value, record};
use crate::measure::Unit;

/// The layout of the document that this program reads and writes.
pub(crate) const FORMAT: u64 = 1;

/// The top of `cake.toml`.
pub(crate) static CAKE: Shape = Shape {
    name: "design",
    meaning: "One cake, its pieces, its order.",
    fields: &[
        Field::or("format", Kind::Count(1, FORMAT), Fallback::Count(FORMAT), "Layout of this file."),
        Field::or("title", Kind::Text(Form::Line), Fallback::Text(""), "What the cake is called."),
        Field::must("unit", Kind::Word(&["in", "mm", "cm"]), "The unit of bare numbers, and of everything shown."),
        Field::or("order", Kind::Table(&ORDER), Fallback::Table, "For whom, when and how many."),
        Field::or("board", Kind::Table(&BOARD), Fallback::Table, "What the cake stands on."),
        Field::must("tier", Kind::Tables(&TIER, 1, 12), "The stacked cakes, from the board up."),
        Field::or("piece", Kind::Tables(&PIECE, 0, 20_000), Fallback::Nothing, "Everything placed on the cake."),
        Field::or("finish", Kind::ByName(&FINISH), Fallback::Table, "The design's own finishes, by name."),
        Field::or("paste", Kind::ByName(&PASTE), Fallback::Table, "The design's own pastes, by name."),
        Field::or("sheet", Kind::ByName(&SHEET), Fallback::Table, "The design's own printing sheets, by name."),
        Field::or("viewing", Kind::Table(&VIEWING), Fallback::Table, "From where the cake will be looked at."),
        Field::or("transport", Kind::Table(&TRANSPORT), Fallback::Table, "What the finished cake must go into."),
        Field::or("kitchen", Kind::Table(&KITCHEN), Fallback::Table, "The person's own habits and rates."),
        Field::or("proof", Kind::Table(&PROOF), Fallback::Table, "How the proof is made."),
        Field::or("planning", Kind::Table(&PLANNING), Fallback::Table, "What a wrap's seams are weighed by."),
    ],
    kinds: &[],
    rules: &[],
};

impl Leaf for Unit {
    fn from_value(value: &Value) -> Option<Self> {
        let units = [Self::Inch, Self::Millimetre, Self::Centimetre];
        units.into_iter().find(|unit| *value == Value::Text(unit.word().to_owned()))
    }

    fn to_value(&self) -> Option<Value> {
        Some(Value::Text(self.word().to_owned()))
    }
}

record!(Design {
    title: "title",
    unit: "unit",
    order: "order",
    board: "board",
    tiers: "tier",
    pieces: "piece",
    finishes: "finish",
    pastes: "paste",
    sheets: "sheet",
    viewing: "viewing",
    transport: "transport",
    kitchen: "kitchen",
    proof: "proof",
    planning: "planning",
});

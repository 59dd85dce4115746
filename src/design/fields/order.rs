//! The order, the person's habits, the paper of the proof.

use super::{Bound, Fallback, Field, Form, Kind, Names, Rule, Shape};
use crate::design::model::{Kitchen, Order, Paper, Proof, Slice};
use crate::design::tree::{Leaf, Value, record, words};

/// `[order]`.
pub(super) static ORDER: Shape = Shape {
    name: "order",
    meaning: "For whom, when and how many.",
    fields: &[
        Field::or("for", Kind::Text(Form::Line), Fallback::Text(""), "The customer, as printed on the proof."),
        Field::or("event", Kind::Text(Form::Line), Fallback::Text(""), "What is celebrated."),
        Field::may("handover", Kind::Text(Form::Moment), "Local time of the hand-over."),
        Field::may(
            "planned_on",
            Kind::Text(Form::Date),
            "The day on which work can begin; a plan that begins earlier is impossible.",
        ),
        Field::may("portions", Kind::Count(1, 10_000), "Portions wanted."),
        Field::or(
            "slice",
            Kind::Either(&["party", "wedding"], &Kind::Lengths(Bound::Above)),
            Fallback::Text("party"),
            "How it is cut: 1 1/2 in x 2 in, 1 in x 2 in, or width and depth of a slice.",
        ),
        Field::or(
            "allergens",
            Kind::List(&Kind::Text(Form::Line), 0, 50),
            Fallback::Nothing,
            "As the decorator declares them. Major ones in US law (FALCPA, FASTER Act): milk, eggs, fish, crustacean shellfish, tree nuts, peanuts, \
             wheat, soybeans, sesame.",
        ),
        Field::or("notes", Kind::Text(Form::Lines), Fallback::Text(""), "Anything else, for the proof."),
    ],
    kinds: &[],
    rules: &[],
};

/// `[kitchen]`.
pub(super) static KITCHEN: Shape = Shape {
    name: "kitchen",
    meaning: "The person's own habits and rates; a price is told only from these.",
    fields: &[
        Field::may(
            "working_hours",
            Kind::Pair(&Kind::Text(Form::Clock), &Kind::Text(Form::Clock)),
            "First and last working hour of a day.",
        ),
        Field::may(
            "stuck_with",
            Kind::Text(Form::Line),
            "What pieces and courses are stuck on with, where they say nothing of their own.",
        ),
        Field::may("hour_rate", Kind::Number(0.0, 1e6), "Price of one hour's work."),
        Field::may("hours", Kind::Number(0.0, 2000.0), "Hours of work; those of the plan when left out."),
        Field::may(
            "materials",
            Kind::Number(0.0, 1e6),
            "Cost of all that is bought but paste and sheets: cake, filling, icing, board, box.",
        ),
        Field::may(
            "paste_price",
            Kind::Number(0.0, 1e6),
            "Cost of one kilogram of paste; part of the materials when left out.",
        ),
        Field::may(
            "sheet_price",
            Kind::Number(0.0, 1e6),
            "Cost of one printed sheet; part of the materials when left out.",
        ),
        Field::may("overhead", Kind::Number(0.0, 1e6), "Share of rent, power, insurance and the like for this cake."),
        Field::may("markup", Kind::Number(0.0, 1000.0), "Percent of the cost that is added to it."),
        Field::may("margin", Kind::Number(0.0, 99.0), "Percent of the price that is left after the cost."),
        Field::may("currency", Kind::Text(Form::Currency), "Of the prices."),
        Field::may(
            "sheet",
            Kind::Name(Names::Sheet),
            "The sheet that pieces are printed on; that of the first wrap when left out, else by the unit.",
        ),
    ],
    kinds: &[],
    rules: &[Rule::AtMostOne(&["markup", "margin"])],
};

/// `[proof]`.
pub(super) static PROOF: Shape = Shape {
    name: "proof",
    meaning: "How the proof is made.",
    fields: &[
        Field::may("paper", Kind::Word(Paper::WORDS), "Its paper; by the unit when left out."),
        Field::may("price", Kind::Truth, "Whether it names the price, without how it is reckoned; no when left out."),
    ],
    kinds: &[],
    rules: &[],
};

record!(Order {
    customer: "for",
    event: "event",
    handover: "handover",
    planned_on: "planned_on",
    portions: "portions",
    slice: "slice",
    allergens: "allergens",
    notes: "notes",
});

record!(Kitchen {
    working_hours: "working_hours",
    stuck_with: "stuck_with",
    hour_rate: "hour_rate",
    hours: "hours",
    materials: "materials",
    paste_price: "paste_price",
    sheet_price: "sheet_price",
    overhead: "overhead",
    markup: "markup",
    margin: "margin",
    currency: "currency",
    sheet: "sheet",
});

record!(Proof { paper: "paper", price: "price" });

words!(Paper { Letter: "letter", A4: "a4" });

impl Leaf for Slice {
    fn from_value(value: &Value) -> Option<Self> {
        match value {
            Value::Text(word) if word == "party" => Some(Self::Party),
            Value::Text(word) if word == "wedding" => Some(Self::Wedding),
            _ => <(_, _)>::from_value(value).map(|(width, depth)| Self::Own(width, depth)),
        }
    }

    fn to_value(&self) -> Option<Value> {
        match *self {
            Self::Party => Some(Value::Text("party".to_owned())),
            Self::Wedding => Some(Value::Text("wedding".to_owned())),
            Self::Own(width, depth) => (width, depth).to_value(),
        }
    }
}

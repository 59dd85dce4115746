//! The order, the person's habits, the paper of the proof.

use super::{Bound, Fallback, Field, Form, Kind, Names, Shape};
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
            "As the decorator declares them.",
        ),
        Field::or("notes", Kind::Text(Form::Lines), Fallback::Text(""), "Anything else, for the proof."),
    ],
    kinds: &[],
    rules: &[],
};

/// `[kitchen]`.
pub(super) static KITCHEN: Shape = Shape {
    name: "kitchen",
    meaning: "The person's own habits and rates.",
    fields: &[
        Field::may(
            "working_hours",
            Kind::Pair(&Kind::Text(Form::Clock), &Kind::Text(Form::Clock)),
            "First and last working hour of a day.",
        ),
        Field::may("hour_rate", Kind::Number(0.0, 1e6), "Price of one hour's work."),
        Field::may("currency", Kind::Text(Form::Currency), "Of the prices."),
        Field::may(
            "sheet",
            Kind::Name(Names::Sheet),
            "The sheet that pieces are printed on; that of the first wrap when left out, else by the unit.",
        ),
    ],
    kinds: &[],
    rules: &[],
};

/// `[proof]`.
pub(super) static PROOF: Shape = Shape {
    name: "proof",
    meaning: "How the proof is made.",
    fields: &[Field::may("paper", Kind::Word(Paper::WORDS), "Its paper; by the unit when left out.")],
    kinds: &[],
    rules: &[],
};

record!(Order {
    customer: "for",
    event: "event",
    handover: "handover",
    portions: "portions",
    slice: "slice",
    allergens: "allergens",
    notes: "notes",
});

record!(Kitchen { working_hours: "working_hours", hour_rate: "hour_rate", currency: "currency", sheet: "sheet" });

record!(Proof { paper: "paper" });

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

//! What each kind of piece adds to a piece, one file a kind.

mod ball;
mod bow;
mod plaque;
mod rod;
mod rope;
mod scatter;
mod sign;
mod solid;
mod topper;

use super::{Bound, Fallback, Field, Form as TextForm, Kind, Names, Rule, Shape, Variant};
use crate::design::model::Form;
use crate::design::tree::{Record, Table};

/// How a piece leans, for kinds that look different then.
const TILT: Field = Field::or(
    "tilt",
    Kind::Angle,
    Fallback::Number(0.0),
    "Leant towards the front; on a side: its upper edge away from the side.",
);

/// Every kind there is.
pub(super) const KINDS: &[&Variant] = &[
    &topper::TOPPER,
    &plaque::PLAQUE,
    &ball::BALL,
    &scatter::SCATTER,
    &rope::ROPE,
    &bow::BOW,
    &sign::SIGN,
    &rod::ROD,
    &solid::SOLID,
];

/// The part of a piece that its kind decides.
pub(super) fn form(table: &Table) -> Option<Form> {
    match table.text("kind")? {
        "topper" => Record::from_table(table).map(Form::Topper),
        "plaque" => Record::from_table(table).map(Form::Plaque),
        "ball" => Record::from_table(table).map(Form::Ball),
        "scatter" => Record::from_table(table).map(Form::Scatter),
        "rope" => Record::from_table(table).map(Form::Rope),
        "bow" => Record::from_table(table).map(Form::Bow),
        "sign" => Record::from_table(table).map(Form::Sign),
        "rod" => Record::from_table(table).map(Form::Rod),
        "solid" => Record::from_table(table).map(Form::Solid),
        _ => None,
    }
}

/// The keys that the kind of a piece decides.
pub(super) fn table(form: &Form) -> Table {
    match form {
        Form::Topper(topper) => topper.to_table(),
        Form::Plaque(plaque) => plaque.to_table(),
        Form::Ball(ball) => ball.to_table(),
        Form::Scatter(scatter) => scatter.to_table(),
        Form::Rope(rope) => rope.to_table(),
        Form::Bow(bow) => bow.to_table(),
        Form::Sign(sign) => sign.to_table(),
        Form::Rod(rod) => rod.to_table(),
        Form::Solid(solid) => solid.to_table(),
    }
}

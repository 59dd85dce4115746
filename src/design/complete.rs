//! Makes whole things from the few keys that matter, with the defaults of the description for the rest.

use super::fields::{CAKE, Kind, Need, Shape};
use super::model::{Course, Piece};
use super::read::settle_seat;
use super::tree::{Record, Table, Value};

/// A piece from its keys; names that are tiers' are told so. `None` where a key that must be there is not.
pub(crate) fn new_piece(mut keys: Table, tiers: &[&str]) -> Option<Piece> {
    complete(shape_of("piece")?, &mut keys);
    let mut piece = Piece::from_table(&keys)?;
    settle_seat(&mut piece, tiers);
    Some(piece)
}

/// A course from its keys. `None` where a key that must be there is not.
pub(crate) fn new_course(mut keys: Table) -> Option<Course> {
    let Kind::Tables(course, ..) = shape_of("tier")?.fields.iter().find(|field| field.key == "course")?.kind else {
        return None;
    };
    complete(course, &mut keys);
    Course::from_table(&keys)
}

/// The shape of a list of tables at the top.
fn shape_of(key: &str) -> Option<&'static Shape> {
    match CAKE.fields.iter().find(|field| field.key == key)?.kind {
        Kind::Tables(shape, ..) => Some(shape),
        _ => None,
    }
}

/// Adds what is left out, with what its absence stands for.
pub(super) fn complete(shape: &'static Shape, table: &mut Table) {
    let variant = table.text("kind").and_then(|word| shape.variant(word));
    for field in shape.fields_with(variant) {
        if let (Need::Default(fallback), None) = (field.need, table.get(field.key)) {
            table.set(field.key, fallback.value());
        }
        complete_inside(&field.kind, table.get_mut(field.key));
    }
}

fn complete_inside(kind: &Kind, value: Option<&mut Value>) {
    match (kind, value) {
        (Kind::Table(shape), Some(Value::Table(table))) => complete(shape, table),
        (Kind::List(kind, ..), Some(Value::List(list))) => {
            list.iter_mut().for_each(|value| complete_inside(kind, Some(value)));
        }
        _ => {}
    }
}

//! Tables that no file had yet, in the order of the description, without what is left at its default.

use toml_edit::{ArrayOfTables, DocumentMut, InlineTable, Item, Table as TomlTable};

use super::values::toml;
use crate::design::fields::{CAKE, FORMAT, Fallback, Field, Kind, Need, Shape};
use crate::design::tree::{Table, Value};
use crate::measure::Unit;

/// A whole design.
pub(super) fn document(design: &Table, unit: Unit) -> DocumentMut {
    let mut document = DocumentMut::new();
    document.insert("format", i64::try_from(FORMAT).unwrap_or(1).into());
    let root = table(&CAKE, design, unit);
    for (key, item) in root {
        document.insert(&key, item);
    }
    document
}

/// A table under a heading of its own.
pub(super) fn table(shape: &'static Shape, values: &Table, unit: Unit) -> TomlTable {
    let mut table = TomlTable::new();
    for (field, value) in to_write(shape, values) {
        table.insert(field.key, item(field, value, unit));
        if let Some(kind) = values.text("kind").filter(|_| !shape.kinds.is_empty() && !table.contains_key("kind")) {
            table.insert("kind", kind.into());
        }
    }
    table
}

/// A table in braces.
pub(super) fn inline(shape: &'static Shape, values: &Table, unit: Unit) -> InlineTable {
    to_write(shape, values).map(|(field, value)| (field.key, toml(&field.kind, value, unit, None))).collect()
}

/// A key's value: tables by name, repeated ones and those at the top get headings, the others braces.
pub(super) fn item(field: &Field, value: &Value, unit: Unit) -> Item {
    match (&field.kind, value) {
        (Kind::ByName(shape), Value::Table(named)) => {
            let mut parent = TomlTable::new();
            parent.set_implicit(true);
            for (name, values) in named.iter().filter_map(|(name, value)| Some((name, value.table()?))) {
                parent.insert(name, Item::Table(table(shape, values, unit)));
            }
            Item::Table(parent)
        }
        (Kind::Tables(shape, _, _), Value::List(list)) => {
            let tables = list.iter().filter_map(Value::table).map(|values| table(shape, values, unit));
            Item::ArrayOfTables(tables.collect::<ArrayOfTables>())
        }
        (Kind::Table(shape), Value::Table(values)) if is_at_the_top(field) => Item::Table(table(shape, values, unit)),
        (kind, value) => Item::Value(toml(kind, value, unit, None)),
    }
}

/// Whether a value is what its absence stands for.
pub(super) fn is_default(field: &Field, value: &Value) -> bool {
    match (field.need, &field.kind, value) {
        (Need::Default(Fallback::Table), Kind::Table(shape), Value::Table(table)) => {
            to_write(shape, table).next().is_none()
        }
        (Need::Default(fallback), _, value) => *value == fallback.value(),
        _ => false,
    }
}

fn is_at_the_top(field: &Field) -> bool {
    CAKE.fields.iter().any(|top| std::ptr::eq(top, field))
}

/// The fields whose values must be written, in the order of the description.
fn to_write<'a>(shape: &'static Shape, values: &'a Table) -> impl Iterator<Item = (&'static Field, &'a Value)> {
    let variant = values.text("kind").and_then(|word| shape.variant(word));
    let given = shape.fields_with(variant).filter_map(|field| Some((field, values.get(field.key)?)));
    given.filter(|(field, value)| !is_default(field, value))
}

//! Puts what differs between two trees into the text of the older one.

use std::collections::BTreeSet;

use toml_edit::{ArrayOfTables, InlineTable, Item, Table as TomlTable, TableLike, Value as Toml};

use super::fresh::{self, is_default};
use super::values::toml;
use crate::design::fields::{CAKE, Field, Kind, Shape};
use crate::design::tree::{Table, Value};
use crate::measure::Unit;

/// The old and the new value of the same thing.
type Both<'a, T> = (&'a T, &'a T);

/// Brings a whole document from the old design to the new one.
pub(super) fn design(root: &mut TomlTable, both: Both<'_, Table>, unit: Unit) {
    table(root, &CAKE, both, unit);
}

fn table(target: &mut dyn TableLike, shape: &'static Shape, both: Both<'_, Table>, unit: Unit) {
    let (old, new) = both;
    if old == new {
        return;
    }
    let variant = new.text("kind").and_then(|word| shape.variant(word));
    if let Some(variant) = variant.filter(|variant| old.text("kind") != Some(variant.word)) {
        set(target, "kind", variant.word.into());
    }
    let keys: BTreeSet<_> = shape.fields_with(variant).map(|field| field.key).chain(["kind"]).collect();
    let gone: Vec<_> =
        target.iter().map(|(key, _)| key.to_owned()).filter(|key| !keys.contains(key.as_str())).collect();
    for key in gone {
        target.remove(&key);
    }
    for field in shape.fields_with(variant) {
        let (old, new) = (old.get(field.key), new.get(field.key));
        match new {
            _ if old == new => {}
            None => {
                target.remove(field.key);
            }
            Some(new) if !target.contains_key(field.key) => {
                if !is_default(field, new) {
                    add(target, field, new, unit);
                }
            }
            Some(new) => change(target, field, (old, new), unit),
        }
    }
}

/// Adds a key that the file did not have.
fn add(target: &mut dyn TableLike, field: &Field, new: &Value, unit: Unit) {
    target.insert(field.key, fresh::item(field, new, unit));
}

/// Changes the value of a key that the file has.
fn change(target: &mut dyn TableLike, field: &Field, both: (Option<&Value>, &Value), unit: Unit) {
    let (old, new) = both;
    let Some(item) = target.get_mut(field.key) else { return };
    match (&field.kind, item, old, new) {
        (Kind::Table(shape), item, Some(Value::Table(old)), Value::Table(new)) => {
            in_place(item, shape, (old, new), unit);
        }
        (Kind::ByName(shape), Item::Table(parent), Some(Value::Table(old)), Value::Table(new)) => {
            by_name(parent, shape, (old, new), unit);
        }
        (Kind::Tables(shape, _, _), Item::ArrayOfTables(tables), Some(Value::List(old)), Value::List(new)) => {
            repeated(tables, shape, (old, new), unit);
        }
        (Kind::Tables(..) | Kind::ByName(_), item, _, new) => *item = fresh::item(field, new, unit),
        (kind, Item::Value(text), old, new) => replace(text, kind, (old, new), unit),
        (kind, item, _, new) => *item = Item::Value(toml(kind, new, unit, None)),
    }
}

/// Changes a table where it stands, under a heading or in braces.
fn in_place(item: &mut Item, shape: &'static Shape, both: Both<'_, Table>, unit: Unit) {
    match item {
        Item::Value(Toml::InlineTable(target)) => braces(target, shape, both, unit),
        Item::Table(target) => table(target, shape, both, unit),
        _ => {}
    }
}

fn braces(target: &mut InlineTable, shape: &'static Shape, both: Both<'_, Table>, unit: Unit) {
    let keys = |target: &InlineTable| target.iter().map(|(key, _)| key.to_owned()).collect::<Vec<_>>();
    let before = keys(target);
    table(target, shape, both, unit);
    if keys(target) != before {
        // The spaces inside the braces belonged to the keys that were there.
        target.fmt();
    }
}

fn by_name(parent: &mut TomlTable, shape: &'static Shape, both: Both<'_, Table>, unit: Unit) {
    let (old, new) = both;
    for (name, _) in old.iter().filter(|(name, _)| new.get(name).is_none()) {
        parent.remove(name);
    }
    for (name, values) in new.iter().filter_map(|(name, value)| Some((name, value.table()?))) {
        match (parent.get_mut(name), old.table(name)) {
            (Some(item), Some(old)) => in_place(item, shape, (old, values), unit),
            _ => {
                parent.insert(name, Item::Table(fresh::table(shape, values, unit)));
            }
        }
    }
}

/// Repeated tables: each new one goes into the text of the old one of its name, or else of its place.
fn repeated(tables: &mut ArrayOfTables, shape: &'static Shape, both: Both<'_, [Value]>, unit: Unit) {
    let (old, new) = both;
    let name = |value: &Value| value.table().and_then(|table| table.text("name")).map(str::to_owned);
    let new_names: BTreeSet<_> = new.iter().filter_map(name).collect();
    let old_names: Vec<_> = old.iter().map(name).collect();
    let place_of: std::collections::BTreeMap<_, _> = old_names.iter().flatten().zip(0..).collect();
    let mut texts: Vec<_> = tables.iter().cloned().map(Some).collect();
    tables.clear();
    for (value, number) in new.iter().zip(0..) {
        let Some(values) = value.table() else { continue };
        let same_name = name(value).and_then(|name| place_of.get(&name).copied());
        let renamed = || old_names.get(number)?.as_ref().filter(|name| !new_names.contains(*name)).map(|_| number);
        let source = same_name.or_else(renamed);
        let text = source.and_then(|source| texts.get_mut(source)?.take());
        let before = source.and_then(|source| old.get(source)?.table());
        tables.push(match text.zip(before) {
            Some((mut text, before)) => {
                table(&mut text, shape, (before, values), unit);
                text
            }
            None => fresh::table(shape, values, unit),
        });
    }
}

/// Replaces a value and keeps the spaces and comments round it; of a list, only the elements that differ.
fn replace(text: &mut Toml, kind: &Kind, both: (Option<&Value>, &Value), unit: Unit) {
    if let (Toml::Array(array), (Some(Value::List(old)), Value::List(new))) = (&mut *text, both)
        && array.len() == new.len()
        && old.len() == new.len()
        && let Toml::Array(changed) = toml(kind, both.1, unit, Some(&Toml::Array(array.clone())))
    {
        let pairs = old.iter().zip(new).zip(changed).enumerate();
        for (number, (_, changed)) in pairs.filter(|(_, ((old, new), _))| old != new) {
            array.replace(number, changed);
        }
        return;
    }
    let spaces = text.decor().clone();
    *text = toml(kind, both.1, unit, Some(text));
    *text.decor_mut() = spaces;
}

fn set(target: &mut dyn TableLike, key: &str, value: Toml) {
    match target.get_mut(key) {
        Some(Item::Value(text)) => {
            let spaces = text.decor().clone();
            *text = value;
            *text.decor_mut() = spaces;
        }
        _ => {
            target.insert(key, Item::Value(value));
        }
    }
}

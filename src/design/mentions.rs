//! Who names whom: every place where a design names a finish, a paste, a sheet, a tier or a seat.
//!
//! Walks the description, as the reader does, so that a key which is added there is found here too.

use super::fields::{CAKE, Kind, Names, Shape};
use super::model::Design;
use super::read::settled;
use super::tree::{Record, Table, Value};

/// Where a design names this, in the reader's words: `piece “bow”, finish`.
pub(crate) fn mentions(design: &Design, among: &[Names], name: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut note = |names: Names, text: &mut String, trail: &[String]| {
        if among.contains(&names) && text == name {
            found.push(trail.join(", "));
        }
    };
    Visit { see: &mut note, trail: Vec::new() }.table(&CAKE, &mut design.to_table());
    found
}

/// The design in which everything that named `from` names `to`. What has the name is renamed before: a seat is told by it.
pub(crate) fn renamed(design: &Design, among: &[Names], (from, to): (&str, &str)) -> Option<Design> {
    let mut tree = design.to_table();
    let mut change = |names: Names, text: &mut String, _: &[String]| {
        if among.contains(&names) && text == from {
            to.clone_into(text);
        }
    };
    Visit { see: &mut change, trail: Vec::new() }.table(&CAKE, &mut tree);
    Design::from_table(&tree).map(settled)
}

/// Keys by which two tables of one thing differ, in the order of their names: `at`, `ribbon`.
pub(crate) fn differences<T: Record>(one: &T, other: &T) -> Vec<String> {
    let (one, other) = (one.to_table(), other.to_table());
    let gone = other.iter().filter(|(key, _)| one.get(key).is_none());
    let differ = one.iter().filter(|(key, value)| other.get(key) != Some(value));
    let mut keys: Vec<String> = differ.chain(gone).map(|(key, _)| key.to_owned()).collect();
    keys.sort_unstable();
    keys
}

struct Visit<'a> {
    see: &'a mut dyn FnMut(Names, &mut String, &[String]),
    trail: Vec<String>,
}

impl Visit<'_> {
    fn table(&mut self, shape: &'static Shape, table: &mut Table) {
        let variant = table.text("kind").and_then(|word| shape.variant(word));
        for field in shape.fields_with(variant) {
            let Some(value) = table.get_mut(field.key) else { continue };
            self.trail.push(field.key.to_owned());
            self.value(&field.kind, value);
            self.trail.pop();
        }
    }

    fn value(&mut self, kind: &Kind, value: &mut Value) {
        match (kind, value) {
            (Kind::Name(names), Value::Text(text)) => (self.see)(*names, text, &self.trail),
            (Kind::Either(words, _), Value::Text(text)) if words.contains(&text.as_str()) => {}
            (Kind::Either(_, other), value) => self.value(other, value),
            (Kind::Table(shape), Value::Table(table)) => self.table(shape, table),
            (Kind::List(kind, _, _), Value::List(list)) => list.iter_mut().for_each(|value| self.value(kind, value)),
            (Kind::Pair(first, second), Value::List(list)) => {
                list.iter_mut().zip([first, second]).for_each(|(value, kind)| self.value(kind, value));
            }
            (Kind::Tables(shape, _, _), Value::List(list)) => {
                for table in list.iter_mut().filter_map(Value::table_mut) {
                    let name = table.text("name").unwrap_or_default().to_owned();
                    self.named(shape, &name, table);
                }
            }
            (Kind::ByName(shape), Value::Table(named)) => {
                for (name, value) in named.iter_mut() {
                    if let Some(table) = value.table_mut() {
                        self.named(shape, name, table);
                    }
                }
            }
            _ => {}
        }
    }

    /// A table with a name of its own, told as the reader tells it.
    fn named(&mut self, shape: &'static Shape, name: &str, table: &mut Table) {
        let key = self.trail.pop();
        self.trail.push(format!("{} “{name}”", shape.name));
        self.table(shape, table);
        self.trail.pop();
        self.trail.extend(key);
    }
}

#[cfg(test)]
mod tests {
    use super::super::read_design;
    use super::{Names, differences, mentions, renamed};

    const TEXT: &str = "unit = 'in'\n[[tier]]\nname = 'base'\nsize = 7\nheight = 5\nfinish = 'sea'\n\
        [[tier.course]]\nname = 'rim'\nkind = 'band'\nheight = 'fill'\nsize = 0.1\nfinish = 'sea'\n\
        [[piece]]\nname = 'oar'\nkind = 'rod'\nseat = { on = 'board', surface = 'board' }\nleans_on = 'base'\n\
        parts = [{ length = 5, from = 0.5, to = 0.5, finish = 'sea' }]\n\
        [[piece]]\nname = 'ball'\nkind = 'ball'\nsize = 1\nseat = { on = 'base', surface = 'top' }\n\
        [[piece]]\nname = 'bee'\nkind = 'ball'\nsize = 1\nseat = { on = 'ball', surface = 'top' }\n\
        [finish.sea]\ncolor = '#4f9aa8'\npaste = 'blue'\n";

    #[test]
    fn everything_that_names_a_thing_is_found_and_follows() {
        let design = read_design(TEXT, "").expect("design");
        let finish = mentions(&design, &[Names::Finish], "sea");
        assert_eq!(finish, ["tier “base”, finish", "tier “base”, course “rim”, finish", "piece “oar”, parts, finish"]);
        assert_eq!(mentions(&design, &[Names::Paste], "blue"), ["finish “sea”, paste"]);
        let places = [Names::Tier, Names::Seat];
        assert_eq!(mentions(&design, &places, "base").len(), 2);
        let mut other = design.clone();
        other.tiers[0].name = "bottom".to_owned();
        let other = renamed(&other, &places, ("base", "bottom")).expect("renamed");
        assert_eq!(super::super::accept(&other).as_ref(), Ok(&other));
        assert_eq!(mentions(&other, &places, "bottom").len(), 2);
        assert_eq!(differences(&design.pieces[1], &design.pieces[2]), ["name", "seat"]);
    }
}

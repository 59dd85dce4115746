//! Documents with one thing changed, and whether our reader takes them, for a JSON Schema checker to judge as well.

use std::path::Path;

use serde_json::{Value, json};
use tierproof::design::read_design;
use toml_edit::{DocumentMut, Item, Table, Value as Toml};

use super::{designs, folder, save, text_of};

/// Changed documents made from each good one.
const CHANGES: u32 = 60;

/// A source of chance (xorshift64, Marsaglia 2003).
struct Chance(u64);

impl Chance {
    fn below(&mut self, count: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as usize % count.max(1)
    }
}

/// One table of a document, however it is written.
enum Node<'a> {
    Long(&'a mut Table),
    Short(&'a mut toml_edit::InlineTable),
}

impl Node<'_> {
    fn keys(&self) -> Vec<String> {
        match self {
            Self::Long(table) => table.iter().map(|(key, _)| key.to_owned()).collect(),
            Self::Short(table) => table.iter().map(|(key, _)| key.to_owned()).collect(),
        }
    }

    fn remove(&mut self, key: &str) -> Option<Item> {
        match self {
            Self::Long(table) => table.remove(key),
            Self::Short(table) => table.remove(key).map(Item::Value),
        }
    }

    fn put(&mut self, key: &str, item: Item) {
        match self {
            Self::Long(table) => drop(table.insert(key, item)),
            Self::Short(table) => {
                if let Ok(value) = item.into_value() {
                    table.insert(key, value);
                }
            }
        }
    }
}

/// Calls `change` on the `wanted`th table of a document, counted through in order; tables passed over are counted off.
fn visit(item: &mut Item, wanted: &mut usize, change: &mut dyn FnMut(Node)) {
    match item {
        Item::Table(table) => visit_table(table, wanted, change),
        Item::ArrayOfTables(tables) => tables.iter_mut().for_each(|table| visit_table(table, wanted, change)),
        Item::Value(value) => visit_value(value, wanted, change),
        Item::None => {}
    }
}

fn visit_table(table: &mut Table, wanted: &mut usize, change: &mut dyn FnMut(Node)) {
    if *wanted == 0 {
        change(Node::Long(table));
    }
    *wanted = wanted.wrapping_sub(1);
    table.iter_mut().for_each(|(_, item)| visit(item, wanted, change));
}

fn visit_value(value: &mut Toml, wanted: &mut usize, change: &mut dyn FnMut(Node)) {
    match value {
        Toml::InlineTable(table) => {
            if *wanted == 0 {
                change(Node::Short(table));
            }
            *wanted = wanted.wrapping_sub(1);
            table.iter_mut().for_each(|(_, value)| visit_value(value, wanted, change));
        }
        Toml::Array(array) => array.iter_mut().for_each(|value| visit_value(value, wanted, change)),
        _ => {}
    }
}

fn tables(document: &mut DocumentMut) -> usize {
    let mut count = usize::MAX;
    visit_table(document.as_table_mut(), &mut count, &mut |_| {});
    usize::MAX - count
}

/// A value that may or may not stand where it is put.
fn odd_value(chance: &mut Chance) -> Toml {
    match chance.below(18) {
        0 => Toml::from("x"),
        1 => Toml::from(""),
        2 => Toml::from(-1),
        3 => Toml::from(0),
        4 => Toml::from(f64::NAN),
        5 => Toml::from(f64::INFINITY),
        6 => Toml::from(1e9),
        7 => Toml::from(true),
        8 => Toml::from("long ".repeat(1000)),
        9 => Toml::Array(toml_edit::Array::new()),
        10 => Toml::Array([1, 2].into_iter().collect()),
        11 => Toml::InlineTable(toml_edit::InlineTable::new()),
        12 => Toml::from("3 1/2 in"),
        13 => Toml::from("-2 cm"),
        14 => Toml::from(2.5),
        15 => Toml::from("../up.png"),
        16 => Toml::from("round"),
        _ => Toml::from("12 parsecs"),
    }
}

/// The document with one key dropped, renamed, given another value, or added; and what was done.
fn changed(text: &str, chance: &mut Chance) -> (String, String) {
    let mut document: DocumentMut = text.parse().expect("toml");
    let mut wanted = chance.below(tables(&mut document));
    let mut done = String::new();
    visit_table(document.as_table_mut(), &mut wanted, &mut |mut node| {
        let keys = node.keys();
        let Some(key) = keys.get(chance.below(keys.len())) else { return };
        done = match chance.below(8) {
            0 => {
                node.remove(key);
                format!("drop {key}")
            }
            1 => {
                let item = node.remove(key).expect("there");
                node.put(&format!("{key}s"), item);
                format!("rename {key}")
            }
            2 => {
                node.put("glaze", Item::Value(odd_value(chance)));
                "add glaze".to_owned()
            }
            _ => {
                let value = odd_value(chance);
                let shown: String = value.to_string().chars().take(20).collect();
                node.put(key, Item::Value(value));
                format!("{key} ={shown}")
            }
        };
    });
    (document.to_string(), done)
}

fn judged(name: &str, text: &str) -> Value {
    let problems = read_design(text, name).err();
    let list = problems.iter().flat_map(|problems| &problems.list);
    let said: Vec<Value> = list
        .map(|problem| json!({"place": problem.place, "found": problem.found, "expected": problem.expected}))
        .collect();
    json!({"name": name, "text": text, "accepted": problems.is_none(), "problems": said})
}

#[test]
fn changed_documents() {
    let everything = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/promises/good/everything.toml");
    let mut good = vec![("everything".to_owned(), std::fs::read_to_string(everything).expect("text"))];
    good.extend(designs().into_iter().map(|(name, path)| (name, text_of(&path))));
    let mut chance = Chance(0x5EED);
    let mut written = Vec::new();
    for (name, text) in &good {
        written.push(judged(name, text));
        for number in 0..CHANGES {
            let (text, done) = changed(text, &mut chance);
            written.push(judged(&format!("{name} {number}: {done}"), &text));
        }
    }
    save(&folder("documents"), "changed.json", &Value::from(written));
}

//! What differs between two designs, in words, along the description: every key is found here as the reader finds it.

use super::fields::{CAKE, Kind, Shape};
use super::model::Design;
use super::tree::{Record, Table, Value};
use crate::measure::{Unit, show_length};

/// One thing that differs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// Where, in the reader's words: `piece “bow”, at, along`.
    pub place: String,
    /// What it was; `None` where it was not there.
    pub before: Option<String>,
    /// What it is; `None` where it is no more.
    pub after: Option<String>,
}

/// Everything that differs, in the order in which a design is written. Lengths are in the second design's unit. What is locked
/// in the editor makes no difference.
#[must_use]
pub fn compare(before: &Design, after: &Design) -> Vec<Difference> {
    let mut found = Compare { unit: after.unit, trail: Vec::new(), found: Vec::new() };
    found.tables(&CAKE, &before.to_table(), &after.to_table());
    found.found
}

/// Tables with names of their own, in order.
type Things<'a> = Vec<(String, &'a Table)>;

struct Compare {
    unit: Unit,
    trail: Vec<String>,
    found: Vec<Difference>,
}

impl Compare {
    fn tables(&mut self, shape: &'static Shape, before: &Table, after: &Table) {
        let kind = |table: &Table| table.text("kind").and_then(|word| shape.variant(word));
        let (old, new) = (kind(before), kind(after));
        let further = if old.map(|kind| kind.word) == new.map(|kind| kind.word) { new } else { None };
        if !shape.kinds.is_empty() && further.is_none() {
            let word = |table: &Table| table.text("kind").map(str::to_owned);
            self.note("kind", (word(before), word(after)));
        }
        for field in shape.fields_with(further).filter(|field| !matches!(field.key, "locked" | "format" | "kind")) {
            let (was, is) = (before.get(field.key), after.get(field.key));
            if was != is {
                self.trail.push(field.key.replace('_', " "));
                self.values(&field.kind, (was, is));
                self.trail.pop();
            }
        }
    }

    fn values(&mut self, kind: &Kind, (before, after): (Option<&Value>, Option<&Value>)) {
        match (kind, before, after) {
            (Kind::Table(shape), Some(Value::Table(was)), Some(Value::Table(is))) => self.tables(shape, was, is),
            (Kind::Tables(shape, ..), was, is) if was.is_some_and(named) || is.is_some_and(named) => {
                self.trail.pop();
                self.named(shape, (by_name(was), by_name(is)));
                self.trail.push(String::new());
            }
            (Kind::ByName(shape), was, is) => {
                self.trail.pop();
                self.named(shape, (by_key(was), by_key(is)));
                self.trail.push(String::new());
            }
            _ => {
                let says = |value: Option<&Value>| value.map(|value| self.words(kind, value));
                let both = (says(before), says(after));
                self.add(both);
            }
        }
    }

    /// Things with names: those that are in both are compared, the others are new or gone.
    fn named(&mut self, shape: &'static Shape, (before, after): (Things<'_>, Things<'_>)) {
        let find = |all: &[(String, &Table)], name: &str| all.iter().position(|(known, _)| known == name);
        for (name, is) in &after {
            self.trail.push(format!("{} “{name}”", shape.name));
            match find(&before, name).and_then(|place| before.get(place)) {
                Some((_, was)) => self.tables(shape, was, is),
                None => self.add((None, Some(self.summary(shape, is)))),
            }
            self.trail.pop();
        }
        for (name, was) in before.iter().filter(|(name, _)| find(&after, name).is_none()) {
            self.trail.push(format!("{} “{name}”", shape.name));
            self.add((Some(self.summary(shape, was)), None));
            self.trail.pop();
        }
        let kept = |all: &[(String, &Table)], other: &[(String, &Table)]| -> Vec<String> {
            all.iter().filter(|(name, _)| find(other, name).is_some()).map(|(name, _)| name.clone()).collect()
        };
        let (was, is) = (kept(&before, &after), kept(&after, &before));
        if was != is {
            self.note(&format!("order of every {}", shape.name), (Some(was.join(", ")), Some(is.join(", "))));
        }
    }

    /// A thing that is new or gone, in a word: its kind, else what it is called.
    fn summary(&self, shape: &'static Shape, table: &Table) -> String {
        let word = ["kind", "shape"].into_iter().find_map(|key| table.text(key));
        word.unwrap_or(shape.name).to_owned()
    }

    fn note(&mut self, key: &str, both: (Option<String>, Option<String>)) {
        self.trail.push(key.to_owned());
        self.add(both);
        self.trail.pop();
    }

    fn add(&mut self, (before, after): (Option<String>, Option<String>)) {
        self.found.push(Difference { place: self.trail.join(", "), before, after });
    }

    fn words(&self, kind: &Kind, value: &Value) -> String {
        match (kind, value) {
            (_, Value::Truth(truth)) => if *truth { "yes" } else { "no" }.to_owned(),
            (_, Value::Count(count)) => count.to_string(),
            (Kind::Angle, Value::Number(degrees)) => format!("{degrees}°"),
            (Kind::Hours, Value::Number(hours)) => format!("{hours} h"),
            (_, Value::Number(number)) => number.to_string(),
            (_, Value::Length(length)) => show_length(*length, self.unit),
            (_, Value::Text(text)) => text.clone(),
            (Kind::List(kind, ..) | Kind::Either(_, kind), Value::List(list)) => self.list(kind, list),
            (_, Value::List(list)) => self.list(kind, list),
            (Kind::Table(shape) | Kind::Tables(shape, ..) | Kind::ByName(shape), Value::Table(table)) => {
                let given = shape.fields.iter().filter_map(|field| Some((field, table.get(field.key)?)));
                let says = given.map(|(field, value)| format!("{} {}", field.key, self.words(&field.kind, value)));
                says.collect::<Vec<_>>().join(" ")
            }
            (_, Value::Table(table)) => {
                let says = table.iter().map(|(key, value)| format!("{key} {}", self.words(kind, value)));
                says.collect::<Vec<_>>().join(" ")
            }
        }
    }

    fn list(&self, kind: &Kind, list: &[Value]) -> String {
        if list.is_empty() {
            return "none".to_owned();
        }
        list.iter().map(|value| self.words(kind, value)).collect::<Vec<_>>().join(", ")
    }
}

/// Whether these are tables with names of their own.
fn named(value: &Value) -> bool {
    by_name(Some(value)).first().is_some_and(|(name, _)| !name.is_empty())
}

fn by_name(value: Option<&Value>) -> Things<'_> {
    let Some(Value::List(list)) = value else { return Vec::new() };
    let tables = list.iter().filter_map(Value::table);
    tables.map(|table| (table.text("name").unwrap_or_default().to_owned(), table)).collect()
}

fn by_key(value: Option<&Value>) -> Things<'_> {
    let Some(Value::Table(table)) = value else { return Vec::new() };
    table.iter().filter_map(|(key, value)| Some((key.to_owned(), value.table()?))).collect()
}

#[cfg(test)]
mod tests {
    use super::super::read_design;
    use super::compare;

    const TEXT: &str = "title = 'Sea'\nunit = 'in'\n[[tier]]\nname = 'base'\nsize = 7\nheight = 5\nfinish = 'sea'\n\
        [[tier.course]]\nname = 'rim'\nkind = 'band'\nheight = 'fill'\nsize = 0.125\nfinish = 'sea'\n\
        [[piece]]\nname = 'oar'\nkind = 'rod'\nseat = { on = 'board', surface = 'board' }\n\
        parts = [{ length = 5, from = 0.5, to = 0.5, finish = 'sea' }]\n\
        [[piece]]\nname = 'ball'\nkind = 'ball'\nsize = 1\nseat = { on = 'base', surface = 'top' }\n\
        [finish.sea]\ncolor = '#4f9aa8'\n";

    fn told(from: &str, to: &str) -> Vec<String> {
        assert!(TEXT.contains(from), "{from}");
        let [before, after] = [TEXT, &TEXT.replace(from, to)].map(|text| read_design(text, "").expect("design"));
        let word = |text: Option<String>| text.unwrap_or_else(|| "–".to_owned());
        compare(&before, &after)
            .into_iter()
            .map(|it| format!("{}: {} > {}", it.place, word(it.before), word(it.after)))
            .collect()
    }

    #[test]
    fn every_difference_is_told_where_it_is() {
        assert_eq!(told("'Sea'", "'Lake'"), ["title: Sea > Lake"]);
        assert_eq!(told("height = 5", "height = '5 1/8'"), ["tier “base”, height: 5 in > 5 1/8 in"]);
        assert_eq!(told("size = 0.125", "size = 0.25"), ["tier “base”, course “rim”, size: 1/8 in > 1/4 in"]);
        assert_eq!(told("#4f9aa8", "#4f9aa9"), ["finish “sea”, color: #4f9aa8 > #4f9aa9"]);
        assert_eq!(
            told("from = 0.5", "from = 0.25"),
            [
                "piece “oar”, parts: length 5 in from 1/2 in to 1/2 in finish sea > length 5 in from 1/4 in to 1/2 in finish sea"
            ]
        );
        assert_eq!(told("name = 'ball'", "at = { x = 1, z = 0 }\nname = 'ball'"), ["piece “ball”, at, x: 0 in > 1 in"]);
        assert_eq!(told("height = 5\n", "height = 5\nlocked = true\n"), [""; 0]);
    }

    #[test]
    fn what_is_new_or_gone_is_told_once() {
        let ball = "[[piece]]\nname = 'ball'\nkind = 'ball'\nsize = 1\nseat = { on = 'base', surface = 'top' }\n";
        assert_eq!(told(ball, ""), ["piece “ball”: ball > –"]);
        assert_eq!(told("name = 'ball'", "name = 'moon'"), ["piece “moon”: – > ball", "piece “ball”: ball > –"]);
        let figure = "kind = 'solid'\nform = 'figure'\nsize = 1";
        let kind = told("kind = 'ball'\nsize = 1", &figure.replace("size = 1", "size = [1, 1]"));
        assert_eq!(kind.first().map(String::as_str), Some("piece “ball”, kind: ball > solid"));
    }
}

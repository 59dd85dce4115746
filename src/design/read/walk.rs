//! Walks through the file along the description, collects the tree and everything that is wrong.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::ops::Range;

use toml_edit::TableLike;

use super::raw::{Raw, shortened};
use crate::design::fields::{CAKE, Fallback, Field, Kind, Names, Need, Shape, Variant};
use crate::design::hint::{choice, nearest};
use crate::design::problem::Fault;
use crate::design::tree::{Table, Value};
use crate::measure::Unit;

/// Faults that are kept; what lies beyond is only counted, so that a hopeless file costs no more than a bad one.
const MOST_KEPT: usize = 200;

/// A name that must be that of something else.
pub(super) struct Reference {
    pub(super) names: Names,
    pub(super) name: String,
    pub(super) span: Range<usize>,
    pub(super) place: String,
}

/// The walk: where it is, and what it found so far.
pub(super) struct Walk {
    pub(super) unit: Unit,
    trail: Vec<Cow<'static, str>>,
    faults: Vec<Fault>,
    more: usize,
    pub(super) references: Vec<Reference>,
}

/// What was found, what was expected, and what mends it.
pub(super) struct Report {
    pub(super) found: String,
    pub(super) expected: String,
    pub(super) mend: String,
}

/// A report from anything that makes texts.
pub(super) fn report(found: impl Into<String>, expected: impl Into<String>, mend: impl Into<String>) -> Report {
    Report { found: found.into(), expected: expected.into(), mend: mend.into() }
}

impl Walk {
    pub(super) fn new(unit: Unit) -> Self {
        Self { unit, trail: Vec::new(), faults: Vec::new(), more: 0, references: Vec::new() }
    }

    pub(super) fn into_faults(self) -> (Vec<Fault>, usize) {
        (self.faults, self.more)
    }

    /// Whether no further fault will be kept, so that looking for its mend is wasted.
    pub(super) fn is_full(&self) -> bool {
        self.faults.len() >= MOST_KEPT
    }

    /// Where the walk is, in words.
    pub(super) fn place(&self) -> String {
        self.trail.join(", ")
    }

    /// Keeps a fault at the walk's place.
    pub(super) fn fault(&mut self, span: Range<usize>, report: Report) {
        self.fault_at(self.place(), span, report);
    }

    /// Keeps a fault at a place of its own.
    pub(super) fn fault_at(&mut self, place: String, span: Range<usize>, report: Report) {
        if self.is_full() {
            self.more += 1;
        } else {
            let Report { found, expected, mend } = report;
            self.faults.push(Fault { span, place, found, expected, mend });
        }
    }

    /// The whole document.
    pub(super) fn design(&mut self, root: &toml_edit::Table) -> Table {
        self.table(&CAKE, root, 0..0)
    }

    /// One value of a kind; `None` when it is none, which is then a fault.
    pub(super) fn value(&mut self, kind: &Kind, raw: Raw<'_>, span: &Range<usize>) -> Option<Value> {
        match kind {
            Kind::Table(shape) => self.one_table(shape, raw, span).map(Value::Table),
            Kind::Tables(shape, least, most) => self.tables(shape, raw, (span, *least, *most)),
            Kind::ByName(shape) => self.by_name(shape, raw, span),
            Kind::List(kind, least, most) => {
                let elements = self.elements(raw, (span, *least, *most))?;
                let values = elements.iter().map(|raw| self.value(kind, *raw, &raw.span().unwrap_or(span.clone())));
                values.collect::<Vec<_>>().into_iter().collect::<Option<_>>().map(Value::List)
            }
            Kind::Pair(first, second) => self.pair([first, second], raw, span),
            _ => self.scalar(kind, raw, span),
        }
    }

    /// Two values, each of its own kind.
    pub(super) fn pair(&mut self, kinds: [&Kind; 2], raw: Raw<'_>, span: &Range<usize>) -> Option<Value> {
        let elements = raw.elements().filter(|elements| elements.len() == 2);
        let Some(elements) = elements else {
            self.fault(span.clone(), report(raw.words(), "a list of two", "write two values in brackets: [a, b]"));
            return None;
        };
        let read =
            kinds.iter().zip(&elements).map(|(kind, raw)| self.value(kind, *raw, &raw.span().unwrap_or(span.clone())));
        read.collect::<Vec<_>>().into_iter().collect::<Option<_>>().map(Value::List)
    }

    fn one_table(&mut self, shape: &'static Shape, raw: Raw<'_>, span: &Range<usize>) -> Option<Table> {
        if let Some(table) = raw.table() {
            return Some(self.table(shape, table, span.clone()));
        }
        let mend = format!("write {{ {} = … }}", shape.fields.first().map_or("key", |field| field.key));
        self.fault(span.clone(), report(raw.words(), format!("a table: {}", shape.name), mend));
        None
    }

    fn elements<'a>(&mut self, raw: Raw<'a>, limits: (&Range<usize>, usize, usize)) -> Option<Vec<Raw<'a>>> {
        let (span, least, most) = limits;
        let elements = raw.elements();
        let count = elements.as_ref().map(Vec::len);
        if count.is_some_and(|count| (least..=most).contains(&count)) {
            return elements;
        }
        let found = count.map_or_else(|| raw.words(), |count| format!("a list of {count}"));
        self.fault(
            span.clone(),
            report(found, format!("a list of {least} to {most}"), "write them in brackets: [a, b]"),
        );
        None
    }

    fn tables(&mut self, shape: &'static Shape, raw: Raw<'_>, limits: (&Range<usize>, usize, usize)) -> Option<Value> {
        let elements = self.elements(raw, limits)?;
        let mut names = BTreeSet::new();
        let mut tables = Vec::new();
        for (raw, number) in elements.into_iter().zip(1..) {
            let name = raw.table().and_then(|table| table.get("name")).and_then(|item| item.as_str());
            let label = name.map_or_else(|| number.to_string(), |name| format!("“{}”", shortened(name)));
            self.trail.pop();
            self.trail.push(format!("{} {label}", shape.name).into());
            let span = raw.span().unwrap_or_else(|| limits.0.clone());
            if let Some(name) = name
                && !names.insert(name)
            {
                let found = format!("a second {} with the name “{}”", shape.name, shortened(name));
                let at = raw.table().map_or(span.clone(), |table| span_of(table, "name", &span));
                self.fault(at, report(found, "a name of its own", "give one of the two another name"));
            }
            tables.push(Value::Table(self.one_table(shape, raw, &span).unwrap_or_default()));
        }
        Some(Value::List(tables))
    }

    fn by_name(&mut self, shape: &'static Shape, raw: Raw<'_>, span: &Range<usize>) -> Option<Value> {
        let Some(table) = raw.table() else {
            let mend = format!("write [{}.NAME] and its keys below", shape.name);
            self.fault(span.clone(), report(raw.words(), "tables by name", mend));
            return None;
        };
        let mut named = Table::default();
        for (name, item) in table.iter() {
            let Some(raw) = Raw::of(item) else { continue };
            let span = raw.span().unwrap_or_else(|| key_span(table, name, span));
            self.trail.pop();
            self.trail.push(format!("{} “{}”", shape.name, shortened(name)).into());
            self.name(name, &key_span(table, name, &span));
            let read = self.one_table(shape, raw, &span).unwrap_or_default();
            named.set(name.to_owned(), Value::Table(read));
        }
        Some(Value::Table(named))
    }

    /// A table whose keys are described; keys with faults are left out of what is given.
    fn table(&mut self, shape: &'static Shape, raw: &dyn TableLike, span: Range<usize>) -> Table {
        let mut table = Table::default();
        let variant = self.variant(shape, raw, &span);
        if let Some(variant) = variant {
            table.set("kind", Value::Text(variant.word.to_owned()));
        }
        // A kind that is not known leaves open which keys it has; then only the common ones are looked at.
        let kind_is_open = !shape.kinds.is_empty() && variant.is_none();
        let mut meant = Vec::new();
        for (key, _) in raw.iter().filter(|(_, item)| !item.is_none()) {
            let is_kind = key == "kind" && variant.is_some();
            let described = is_kind || shape.fields_with(variant).any(|field| field.key == key);
            if !described && !kind_is_open {
                meant.extend(self.unknown_key(shape, variant, (key, key_span(raw, key, &span))));
            }
        }
        // A key that stands there mistyped is not told a second time as missing.
        let is_told = |field: &&Field| meant.contains(&field.key) && !raw.contains_key(field.key);
        for field in shape.fields_with(variant).filter(|field| !is_told(field)) {
            self.trail.push(field.key.into());
            if let Some(value) = self.field(field, raw, &span) {
                table.set(field.key, value);
            }
            self.trail.pop();
        }
        for rule in shape.rules_with(variant) {
            self.rule(rule, (raw, &table), &span);
        }
        table
    }

    fn field(&mut self, field: &Field, raw: &dyn TableLike, header: &Range<usize>) -> Option<Value> {
        if let Some(found) = raw.get(field.key).and_then(Raw::of) {
            let span = found.span().unwrap_or_else(|| key_span(raw, field.key, header));
            return self.value(&field.kind, found, &span);
        }
        match field.need {
            Need::Optional => None,
            Need::Default(fallback) => Some(self.fallback(fallback, &field.kind)),
            Need::Required => {
                let found = format!("no key “{}”", field.key);
                self.fault(header.clone(), report(found, field.kind.words(), field.how_to_add(self.unit)));
                None
            }
        }
    }

    fn fallback(&mut self, fallback: Fallback, kind: &Kind) -> Value {
        match (fallback, kind) {
            (Fallback::Table, Kind::Table(shape)) => Value::Table(self.table(shape, &toml_edit::Table::new(), 0..0)),
            _ => fallback.value(),
        }
    }

    fn variant(&mut self, shape: &Shape, raw: &dyn TableLike, header: &Range<usize>) -> Option<&'static Variant> {
        if shape.kinds.is_empty() {
            return None;
        }
        let words = || shape.kinds.iter().map(|variant| variant.word);
        let Some(found) = raw.get("kind").and_then(Raw::of) else {
            let mend = format!("add kind = \"{}\"", words().next().unwrap_or_default());
            self.fault(header.clone(), report("no key “kind”", choice(words()), mend));
            return None;
        };
        let word = found.value().and_then(toml_edit::Value::as_str).unwrap_or_default();
        let variant = shape.variant(word);
        if variant.is_none() {
            let span = found.span().unwrap_or_else(|| header.clone());
            let mend = nearest(word, words()).map_or_else(
                || format!("choose the kind of this {}", shape.name),
                |nearest| format!("write kind = \"{nearest}\""),
            );
            let expected = choice(words());
            self.fault(span, report(format!("the kind {}", found.words()), expected, mend));
        }
        variant
    }

    /// Tells an unknown key, and gives the key that was most likely meant.
    fn unknown_key(
        &mut self,
        shape: &Shape,
        variant: Option<&'static Variant>,
        found: (&str, Range<usize>),
    ) -> Option<&'static str> {
        let (key, span) = found;
        let tag = (!shape.kinds.is_empty()).then_some("kind");
        let known: Vec<_> = shape.fields_with(variant).map(|field| field.key).chain(tag).collect();
        let kind = variant.map(|variant| format!(" of kind {}", variant.word)).unwrap_or_default();
        let meant = nearest(key, known.iter().copied());
        let mend = meant.map_or_else(|| "leave it out".to_owned(), |meant| format!("write “{meant}”, or leave it out"));
        let found = format!("the unknown key “{}”", shortened(key));
        let expected = format!("a key of a {}{kind}: {}", shape.name, known.join(", "));
        self.fault(span, report(found, expected, mend));
        meant
    }
}

/// Where a key stands; `other` when the file doesn't tell.
pub(super) fn key_span(table: &dyn TableLike, key: &str, other: &Range<usize>) -> Range<usize> {
    table.key(key).and_then(toml_edit::Key::span).unwrap_or_else(|| other.clone())
}

/// Where the value of a key stands; `other` when the file doesn't tell.
pub(super) fn span_of(table: &dyn TableLike, key: &str, other: &Range<usize>) -> Range<usize> {
    table.get(key).and_then(toml_edit::Item::span).unwrap_or_else(|| other.clone())
}

//! The blanks of any part of a design, from the document's own description: what may stand there, what it means, what it says.
//!
//! ```text
//!   part ──▶ table ──▶ rows: one a key, nested tables indented ──▶ Change { act, value } ──▶ table with it, tidied ──▶ part
//! ```

use egui::{Id, RichText, Ui};

use super::rows::Rows;
use super::value;
use crate::design::{Field, Kind, Need, Shape, Table, Value, is_asked, tidied};
use crate::panels::signs::{heading, muted, small};
use crate::panels::words;

/// When a change counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Act {
    /// While this field is typed in.
    Typing(Id),
    /// At once.
    Now,
    /// What was shown last is kept.
    Kept,
    /// What was shown is given up.
    GivenUp,
}

/// What a blank asks for; `None` takes the key out.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Change {
    pub act: Act,
    pub value: Option<Value>,
}

impl Change {
    pub fn now(value: impl Into<Option<Value>>) -> Self {
        Self { act: Act::Now, value: value.into() }
    }
}

/// A change of a whole table.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct TableChange {
    pub act: Act,
    pub table: Table,
}

/// Shows the blanks of a table whose keys count as `shown`; gives the table as it is to be.
pub(super) fn table(
    ui: &mut Ui,
    rows: &mut Rows<'_>,
    (shape, table): (&'static Shape, &Table),
    shown: &dyn Fn(&Field) -> bool,
) -> Option<TableChange> {
    let variant = table.text("kind").and_then(|word| shape.variant(word));
    let asked = |field: &&'static Field| shown(field) && is_asked(shape, table, field.key);
    let fields: Vec<&'static Field> = shape.fields_with(variant).filter(asked).collect();
    let (rare, usual): (Vec<_>, Vec<_>) = fields.into_iter().partition(|field| words::is_rare(shape.name, field.key));
    let mut found = None;
    for field in usual {
        found = found.or(row(ui, rows, (shape, table), field));
    }
    if !rare.is_empty() {
        let more = egui::CollapsingHeader::new(words::MORE).id_salt(rows.id("more"));
        more.show(ui, |ui| {
            for field in rare {
                found = found.take().or(row(ui, rows, (shape, table), field));
            }
        });
    }
    found
}

/// One key of a table.
fn row(
    ui: &mut Ui,
    rows: &mut Rows<'_>,
    (shape, table): (&'static Shape, &Table),
    field: &'static Field,
) -> Option<TableChange> {
    let label = words::label(shape.name, field.key);
    let value = table.get(field.key);
    let change = rows.under(field.key, &label, |rows| match (&field.kind, value) {
        (Kind::Table(inner), Some(Value::Table(found))) => nested(ui, rows, (field, inner, found), &label),
        (Kind::Table(inner), None) => add_nested(ui, rows, inner, &label),
        (Kind::List(kind, least, most), Some(Value::List(list))) => {
            heading(ui, &label);
            value::list(ui, rows, (kind, (*least, *most)), list)
        }
        (kind, value) => {
            let given = value.is_some();
            let mut change = None;
            ui.horizontal_wrapped(|ui| {
                ui.label(RichText::new(&label)).on_hover_text(field.meaning);
                change = value::one(ui, rows, (kind, field), value);
                if let Some(words) = rows.proportion(field.key, value).filter(|_| given) {
                    muted(ui, words);
                }
            });
            change
        }
    })?;
    Some(changed(rows, (shape, table), field.key, change))
}

/// The table with a change of one of its keys.
fn changed(
    rows: &Rows<'_>,
    (shape, table): (&'static Shape, &Table),
    key: &'static str,
    change: Change,
) -> TableChange {
    let mut table = table.clone();
    if !matches!(change.act, Act::Kept | Act::GivenUp) {
        match change.value {
            Some(value) => table.set(key, value),
            None => table.drop(key),
        }
        tidied(shape, &mut table, (key, &|key| rows.first(shape, key)));
    }
    TableChange { act: change.act, table }
}

fn nested(
    ui: &mut Ui,
    rows: &mut Rows<'_>,
    (field, inner, found): (&'static Field, &'static Shape, &Table),
    label: &str,
) -> Option<Change> {
    let is_extra = matches!(field.need, Need::Optional);
    let mut removed = false;
    ui.horizontal(|ui| {
        heading(ui, label);
        if is_extra {
            removed = small(ui, "✖", &format!("Without {}", label.to_lowercase())).clicked();
        }
    });
    let mut change = removed.then(|| Change::now(None));
    ui.indent(rows.id("inside"), |ui| {
        // Places and stretches have keys of two kinds, of which only those that are given count.
        let shown = |field: &Field| found.get(field.key).is_some() || !words::is_either(inner.name);
        let inside = self::table(ui, rows, (inner, found), &shown);
        change =
            change.take().or(inside.map(|inside| Change { act: inside.act, value: Some(Value::Table(inside.table)) }));
    });
    change
}

fn add_nested(ui: &mut Ui, rows: &Rows<'_>, inner: &'static Shape, label: &str) -> Option<Change> {
    let label = format!("Add {}", label.to_lowercase());
    let clicked = ui.button(&label).on_hover_text(inner.meaning).clicked();
    clicked.then(|| Change::now(Value::Table(rows.first_table(inner))))
}

//! One look at the three ways in which TOML writes a value: plain, under a heading, under repeated headings.

use std::ops::Range;

use toml_edit::{ArrayOfTables, Item, Table, TableLike, Value};

/// A value of the file.
#[derive(Clone, Copy)]
pub(super) enum Raw<'a> {
    /// Behind an equals sign.
    Value(&'a Value),
    /// Under a heading.
    Table(&'a Table),
    /// Under repeated headings.
    Tables(&'a ArrayOfTables),
}

impl<'a> Raw<'a> {
    pub(super) fn of(item: &'a Item) -> Option<Self> {
        match item {
            Item::None => None,
            Item::Value(value) => Some(Self::Value(value)),
            Item::Table(table) => Some(Self::Table(table)),
            Item::ArrayOfTables(tables) => Some(Self::Tables(tables)),
        }
    }

    pub(super) fn value(self) -> Option<&'a Value> {
        match self {
            Self::Value(value) => Some(value),
            _ => None,
        }
    }

    pub(super) fn table(self) -> Option<&'a dyn TableLike> {
        match self {
            Self::Value(Value::InlineTable(table)) => Some(table),
            Self::Table(table) => Some(table),
            _ => None,
        }
    }

    pub(super) fn elements(self) -> Option<Vec<Raw<'a>>> {
        match self {
            Self::Value(Value::Array(array)) => Some(array.iter().map(Raw::Value).collect()),
            Self::Tables(tables) => Some(tables.iter().map(Raw::Table).collect()),
            _ => None,
        }
    }

    pub(super) fn span(self) -> Option<Range<usize>> {
        match self {
            Self::Value(value) => value.span(),
            Self::Table(table) => table.span(),
            Self::Tables(tables) => tables.span(),
        }
    }

    /// In words, for a message.
    pub(super) fn words(self) -> String {
        match self {
            Self::Value(Value::String(text)) => format!("“{}”", shortened(text.value())),
            Self::Value(Value::Integer(number)) => number.value().to_string(),
            Self::Value(Value::Float(number)) => number.value().to_string(),
            Self::Value(Value::Boolean(truth)) => truth.value().to_string(),
            Self::Value(Value::Datetime(time)) => format!("the time {}", time.value()),
            Self::Value(Value::Array(array)) => format!("a list of {}", array.len()),
            Self::Value(Value::InlineTable(_)) | Self::Table(_) => "a table".to_owned(),
            Self::Tables(tables) => format!("a list of {} tables", tables.len()),
        }
    }
}

/// At most forty characters of a text, without control characters.
pub(super) fn shortened(text: &str) -> String {
    let mut short: String = text.chars().take(40).map(|c| if c.is_control() { '�' } else { c }).collect();
    if text.chars().nth(40).is_some() {
        short.push('…');
    }
    short
}

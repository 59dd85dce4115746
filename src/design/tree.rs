//! A design as plain named values: what reading, writing, the schema and the revision have in common.
//!
//! ```text
//!   cake.toml --read--> Table --> Design --> Table --write--> cake.toml
//!                                               \----------> revision
//! ```
//!
//! Lengths are lengths here, however they were typed; keys that a file leaves out stand here with their default.

use std::borrow::Cow;
use std::collections::BTreeMap;

use crate::measure::Length;

/// One value.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Value {
    /// Yes or no.
    Truth(bool),
    /// A whole number.
    Count(u64),
    /// A number or an angle in degrees.
    Number(f64),
    /// A length.
    Length(Length),
    /// A text, a word, a name, a colour, a time.
    Text(String),
    /// Values in order.
    List(Vec<Value>),
    /// Named values.
    Table(Table),
}

/// Named values, in the order of their names.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Table(BTreeMap<Cow<'static, str>, Value>);

impl Table {
    /// The value of a key, if it has one.
    pub(crate) fn get(&self, key: &str) -> Option<&Value> {
        self.0.get(key)
    }

    /// The text of a key, if it has one.
    pub(crate) fn text(&self, key: &str) -> Option<&str> {
        match self.get(key) {
            Some(Value::Text(text)) => Some(text),
            _ => None,
        }
    }

    /// The tables of a key that has a list of them.
    pub(crate) fn tables<'a>(&'a self, key: &str) -> impl Iterator<Item = (usize, &'a Self)> + use<'a> {
        let list = match self.get(key) {
            Some(Value::List(list)) => list.as_slice(),
            _ => &[],
        };
        list.iter().enumerate().filter_map(|(number, value)| Some((number, value.table()?)))
    }

    /// The table of a key, if it has one.
    pub(crate) fn table(&self, key: &str) -> Option<&Table> {
        self.get(key).and_then(Value::table)
    }

    /// Sets the value of a key.
    pub(crate) fn set(&mut self, key: impl Into<Cow<'static, str>>, value: Value) {
        self.0.insert(key.into(), value);
    }

    /// Takes a key out.
    #[cfg(feature = "panels")]
    pub(crate) fn drop(&mut self, key: &str) {
        self.0.remove(key);
    }

    /// The value of a key, to be changed.
    pub(crate) fn get_mut(&mut self, key: &str) -> Option<&mut Value> {
        self.0.get_mut(key)
    }

    /// Keys and values, to be changed.
    pub(crate) fn iter_mut(&mut self) -> impl Iterator<Item = (&str, &mut Value)> {
        self.0.iter_mut().map(|(key, value)| (key.as_ref(), value))
    }

    /// Keys and values, in the order of the keys.
    pub(crate) fn iter(&self) -> impl Iterator<Item = (&str, &Value)> {
        self.0.iter().map(|(key, value)| (key.as_ref(), value))
    }

    /// Reads the value of a key as `T`; `None` when it is missing or something else.
    pub(crate) fn take<T: Leaf>(&self, key: &str) -> Option<T> {
        self.get(key).map_or_else(T::from_absent, T::from_value)
    }

    /// Sets a key to a value, or leaves it out when the value is absent.
    pub(crate) fn put<T: Leaf>(&mut self, key: &'static str, value: &T) {
        if let Some(value) = value.to_value() {
            self.set(key, value);
        }
    }
}

impl Value {
    /// The table that this value is, to be changed.
    pub(crate) fn table_mut(&mut self) -> Option<&mut Table> {
        match self {
            Self::Table(table) => Some(table),
            _ => None,
        }
    }

    /// The table that this value is.
    pub(crate) fn table(&self) -> Option<&Table> {
        match self {
            Self::Table(table) => Some(table),
            _ => None,
        }
    }
}

/// Something of the model that is one value of the tree.
pub(crate) trait Leaf: Sized {
    /// From a value that the description let through; `None` where the description and the model disagree.
    fn from_value(value: &Value) -> Option<Self>;

    /// What an absent key means; most keys must be there, with their default if need be.
    fn from_absent() -> Option<Self> {
        None
    }

    /// As a value; `None` is left out.
    fn to_value(&self) -> Option<Value>;
}

/// Something of the model that is one table of the tree.
pub(crate) trait Record: Sized {
    /// From a table that the description let through; `None` where the description and the model disagree.
    fn from_table(table: &Table) -> Option<Self>;

    /// As a table.
    fn to_table(&self) -> Table;
}

impl Record for Table {
    fn from_table(table: &Table) -> Option<Self> {
        Some(table.clone())
    }

    fn to_table(&self) -> Table {
        self.clone()
    }
}

impl<R: Record> Leaf for R {
    fn from_value(value: &Value) -> Option<Self> {
        R::from_table(value.table()?)
    }

    fn to_value(&self) -> Option<Value> {
        Some(Value::Table(self.to_table()))
    }
}

/// Writes both directions between a struct of the model and a table, from one line a key.
macro_rules! record {
    ($type:ty { $($field:ident: $key:literal),+ $(,)? }) => {
        impl $crate::design::tree::Record for $type {
            fn from_table(table: &$crate::design::tree::Table) -> Option<Self> {
                Some(Self { $($field: table.take($key)?),+ })
            }

            fn to_table(&self) -> $crate::design::tree::Table {
                let mut table = $crate::design::tree::Table::default();
                $(table.put($key, &self.$field);)+
                table
            }
        }
    };
}

/// Names the words of an enum of the model, in both directions.
macro_rules! words {
    ($type:ident { $($variant:ident: $word:literal),+ $(,)? }) => {
        impl $type {
            /// Every word a design file may use for it.
            pub const WORDS: &'static [&'static str] = &[$($word),+];

            /// The word a design file uses.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self {
                    $(Self::$variant => $word),+
                }
            }
        }

        impl $crate::design::tree::Leaf for $type {
            fn from_value(value: &$crate::design::tree::Value) -> Option<Self> {
                match value {
                    $($crate::design::tree::Value::Text(word) if word == $word => Some(Self::$variant),)+
                    _ => None,
                }
            }

            fn to_value(&self) -> Option<$crate::design::tree::Value> {
                Some($crate::design::tree::Value::Text(self.word().to_owned()))
            }
        }
    };
}

pub(crate) use {record, words};

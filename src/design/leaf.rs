//! The plain values of the model as values of the tree: lengths, counts, texts, pairs, lists, times.

use std::collections::BTreeMap;

use jiff::civil::{Date, DateTime, Time};

use super::model::Size;
use super::tree::{Leaf, Table, Value};
use crate::art::Colour;
use crate::measure::{Angle, Length, PlanPoint};

impl Leaf for bool {
    fn from_value(value: &Value) -> Option<Self> {
        match value {
            Value::Truth(truth) => Some(*truth),
            _ => None,
        }
    }

    fn to_value(&self) -> Option<Value> {
        Some(Value::Truth(*self))
    }
}

impl Leaf for u64 {
    fn from_value(value: &Value) -> Option<Self> {
        match value {
            Value::Count(count) => Some(*count),
            _ => None,
        }
    }

    fn to_value(&self) -> Option<Value> {
        Some(Value::Count(*self))
    }
}

impl Leaf for u32 {
    fn from_value(value: &Value) -> Option<Self> {
        Self::try_from(u64::from_value(value)?).ok()
    }

    fn to_value(&self) -> Option<Value> {
        u64::from(*self).to_value()
    }
}

impl Leaf for f64 {
    fn from_value(value: &Value) -> Option<Self> {
        match value {
            Value::Number(number) => Some(*number),
            _ => None,
        }
    }

    fn to_value(&self) -> Option<Value> {
        Some(Value::Number(*self))
    }
}

impl Leaf for Angle {
    fn from_value(value: &Value) -> Option<Self> {
        f64::from_value(value).map(Self::degrees)
    }

    fn to_value(&self) -> Option<Value> {
        self.as_degrees().to_value()
    }
}

impl Leaf for Length {
    fn from_value(value: &Value) -> Option<Self> {
        match value {
            Value::Length(length) => Some(*length),
            _ => None,
        }
    }

    fn to_value(&self) -> Option<Value> {
        Some(Value::Length(*self))
    }
}

impl Leaf for String {
    fn from_value(value: &Value) -> Option<Self> {
        match value {
            Value::Text(text) => Some(text.clone()),
            _ => None,
        }
    }

    fn to_value(&self) -> Option<Value> {
        Some(Value::Text(self.clone()))
    }
}

impl Leaf for Colour {
    fn from_value(value: &Value) -> Option<Self> {
        Self::read(&String::from_value(value)?)
    }

    fn to_value(&self) -> Option<Value> {
        self.to_string().to_value()
    }
}

impl Leaf for DateTime {
    fn from_value(value: &Value) -> Option<Self> {
        String::from_value(value)?.parse().ok()
    }

    fn to_value(&self) -> Option<Value> {
        let text = self.to_string();
        text.strip_suffix(":00").unwrap_or(&text).to_owned().to_value()
    }
}

impl Leaf for Date {
    fn from_value(value: &Value) -> Option<Self> {
        String::from_value(value)?.parse().ok()
    }

    fn to_value(&self) -> Option<Value> {
        self.to_string().to_value()
    }
}

impl Leaf for Time {
    fn from_value(value: &Value) -> Option<Self> {
        String::from_value(value)?.parse().ok()
    }

    fn to_value(&self) -> Option<Value> {
        let text = self.to_string();
        text.strip_suffix(":00").unwrap_or(&text).to_owned().to_value()
    }
}

impl<T: Leaf> Leaf for Option<T> {
    fn from_value(value: &Value) -> Option<Self> {
        T::from_value(value).map(Some)
    }

    fn from_absent() -> Option<Self> {
        Some(None)
    }

    fn to_value(&self) -> Option<Value> {
        self.as_ref()?.to_value()
    }
}

impl<T: Leaf> Leaf for Vec<T> {
    fn from_value(value: &Value) -> Option<Self> {
        match value {
            Value::List(list) => list.iter().map(T::from_value).collect(),
            _ => None,
        }
    }

    fn to_value(&self) -> Option<Value> {
        self.iter().map(T::to_value).collect::<Option<_>>().map(Value::List)
    }
}

impl<A: Leaf, B: Leaf> Leaf for (A, B) {
    fn from_value(value: &Value) -> Option<Self> {
        match value {
            Value::List(list) => match list.as_slice() {
                [first, second] => Some((A::from_value(first)?, B::from_value(second)?)),
                _ => None,
            },
            _ => None,
        }
    }

    fn to_value(&self) -> Option<Value> {
        Some(Value::List(vec![self.0.to_value()?, self.1.to_value()?]))
    }
}

impl<T: Leaf + Copy> Leaf for [T; 2] {
    fn from_value(value: &Value) -> Option<Self> {
        <(T, T)>::from_value(value).map(Into::into)
    }

    fn to_value(&self) -> Option<Value> {
        <(T, T)>::from(*self).to_value()
    }
}

impl<T: Leaf> Leaf for BTreeMap<String, T> {
    fn from_value(value: &Value) -> Option<Self> {
        value.table()?.iter().map(|(name, value)| Some((name.to_owned(), T::from_value(value)?))).collect()
    }

    fn to_value(&self) -> Option<Value> {
        let mut table = Table::default();
        for (name, value) in self {
            table.set(name.clone(), value.to_value()?);
        }
        Some(Value::Table(table))
    }
}

impl Leaf for Size {
    fn from_value(value: &Value) -> Option<Self> {
        let pair = <[Length; 2]>::from_value(value).map(|[width, depth]| Self { width, depth: Some(depth) });
        pair.or_else(|| Length::from_value(value).map(Self::across))
    }

    fn to_value(&self) -> Option<Value> {
        self.depth.map_or_else(|| self.width.to_value(), |depth| [self.width, depth].to_value())
    }
}

/// A tier's place: x and z in a list.
impl Leaf for PlanPoint {
    fn from_value(value: &Value) -> Option<Self> {
        <[Length; 2]>::from_value(value).map(|[x, z]| Self { x, z })
    }

    fn to_value(&self) -> Option<Value> {
        [self.x, self.z].to_value()
    }
}

//! What the rows of a card have in common: their names, their unit, what may be named, and first values.

use egui::Id;

use super::blanks::Change;
use crate::cake::CakeTier;
use crate::design::Design;
use crate::design::{Bound, Kind, Names, Need, Shape, Table, TextForm, Value, known_finishes, known_sheets, tidied};
use crate::edits::on_ruler;
use crate::measure::{Length, Unit};
use crate::panels::proportion::{Against, proportion};
use crate::panels::typing::Fields;

/// The rows of one card.
pub(super) struct Rows<'a> {
    pub design: &'a Design,
    pub fields: &'a mut Fields,
    /// What the card is of: no two cards have fields of one identity.
    pub of: String,
    /// The keys that lead to the row, and its name in full.
    trail: Vec<String>,
    names: Vec<String>,
    /// What comes before each row's name where a card has several parts of one kind.
    pub called: Option<String>,
    /// The tier that sizes are compared with.
    pub beside: Option<&'a CakeTier>,
    /// A picture is to be chosen for this.
    pub wants_art: bool,
}

impl<'a> Rows<'a> {
    pub fn new(design: &'a Design, fields: &'a mut Fields, of: impl Into<String>) -> Self {
        let of = of.into();
        Self { design, fields, of, trail: Vec::new(), names: Vec::new(), called: None, beside: None, wants_art: false }
    }

    /// Goes one key further while rows under it are shown.
    pub fn under(&mut self, key: &str, name: &str, show: impl FnOnce(&mut Self) -> Option<Change>) -> Option<Change> {
        self.trail.push(key.to_owned());
        self.names.push(name.to_owned());
        let change = show(self);
        self.trail.pop();
        self.names.pop();
        change
    }

    /// The identity of a widget of this row.
    pub fn id(&self, part: &str) -> Id {
        Id::new(("card", &self.of, &self.trail, part))
    }

    /// The row's name in full, for those who hear it: `Backing, border`.
    pub fn name(&self) -> String {
        let names = || self.called.iter().chain(&self.names);
        let mut name = names().next().cloned().unwrap_or_default();
        for more in names().skip(1) {
            name = format!("{name}, {}", more.to_lowercase());
        }
        name
    }

    pub fn unit(&self) -> Unit {
        self.design.unit
    }

    /// The size in proportion, to stand beside it: `half the top's width`.
    pub fn proportion(&self, key: &str, value: Option<&Value>) -> Option<String> {
        let (Some(Value::Length(length)), Some(tier)) = (value, self.beside) else { return None };
        let inside = self.trail.len() > 1;
        let against = match key {
            "width" | "height" | "size" | "length" | "ring" | "loop" | "ribbon" if !inside => Against::Width,
            "tail" if !inside => Against::Height,
            _ => return None,
        };
        proportion(*length, against, tier)
    }

    /// What a name may be.
    pub fn choices(&self, names: Names) -> Vec<String> {
        let design = self.design;
        let mut choices: Vec<String> = match names {
            Names::Finish => known_finishes().keys().chain(design.finishes.keys()).cloned().collect(),
            Names::Paste => {
                known_finishes().keys().chain(design.finishes.keys()).chain(design.pastes.keys()).cloned().collect()
            }
            Names::Sheet => known_sheets().keys().chain(design.sheets.keys()).cloned().collect(),
            Names::Tier => design.tiers.iter().map(|tier| tier.name.clone()).collect(),
            Names::Seat => Vec::new(),
        };
        if names != Names::Tier {
            choices.sort();
            choices.dedup();
        }
        choices
    }

    /// A first value for a key that must be there: what it usually is, on a ruler of the design's unit.
    pub fn first(&self, shape: &'static Shape, key: &str) -> Option<Value> {
        let variants = shape.kinds.iter().flat_map(|variant| variant.fields);
        let field = shape.fields.iter().chain(variants).find(|field| field.key == key)?;
        first(&field.kind, (shape.name, key), self)
    }

    /// A first value of a kind.
    pub fn first_of(&self, kind: &Kind) -> Option<Value> {
        first(kind, ("", ""), self)
    }

    /// A table with first values for all keys that must be there.
    pub fn first_table(&self, shape: &'static Shape) -> Table {
        let mut table = Table::default();
        for field in shape.fields {
            if let (Need::Required, Some(value)) = (field.need, self.first(shape, field.key)) {
                table.set(field.key, value);
            }
        }
        tidied(shape, &mut table, ("", &|_| None));
        table
    }
}

/// A first value of a kind (common practice, no source): sticks an eighth of an inch thick, two inches deep, and so on.
fn first(kind: &Kind, (shape, key): (&str, &str), rows: &Rows<'_>) -> Option<Value> {
    let length = |inches: f64| Value::Length(on_ruler(Length::inches(inches), rows.unit()));
    Some(match (shape, key) {
        ("side_pins", "diameter") => length(0.0625),
        ("picks" | "side_pins", "into_piece") => length(1.0),
        ("picks" | "side_pins", "into_cake") => length(2.0),
        ("join_free", "width") => length(6.0),
        (_, "repeat") => length(2.0),
        _ => match kind {
            Kind::Length(Bound::Any) => Value::Length(Length::ZERO),
            Kind::Length(_) => length(0.125),
            Kind::Lengths(_) | Kind::Stretch => Value::List(vec![length(0.5), length(1.0)]),
            Kind::Count(least, most) => Value::Count(2.clamp(*least, *most)),
            Kind::Number(least, _) => Value::Number(*least),
            Kind::Angle | Kind::Hours => Value::Number(0.0),
            Kind::Truth => Value::Truth(false),
            Kind::Word(words) | Kind::Either(words, _) => Value::Text((*words.first()?).to_owned()),
            Kind::Name(names) => Value::Text(rows.choices(*names).into_iter().find(|name| name == "white")?),
            Kind::Pair(one, other) => {
                Value::List(vec![first(one, (shape, ""), rows)?, first(other, (shape, ""), rows)?])
            }
            Kind::List(kind, least, _) => {
                let one = first(kind, (shape, ""), rows)?;
                Value::List(vec![one; (*least).max(1)])
            }
            Kind::Table(shape) => Value::Table(rows.first_table(shape)),
            Kind::Size => length(1.0),
            Kind::Text(TextForm::Line) => Value::Text(String::new()),
            Kind::Text(_) | Kind::Tables(..) | Kind::ByName(_) => return None,
        },
    })
}

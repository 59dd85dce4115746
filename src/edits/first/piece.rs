//! A new piece of every kind.

use super::room::{Room, on_ruler};
use crate::design::model::pieces::SolidForm;
use crate::design::model::{At, Piece, Seat, Surface};
use crate::design::{Design, Table, Value, new_piece};
use crate::edits::{Refusal, free_name};
use crate::measure::{Length, PlanPoint, TapePoint, Unit};

/// A piece that is added.
#[derive(Clone, Debug, PartialEq)]
pub struct NewPiece {
    /// What it is to be.
    pub kind: NewKind,
    /// Where it goes.
    pub seat: Seat,
    /// Where on it; the place where such a piece usually sits when left out.
    pub at: Option<At>,
}

/// What a new piece is to be.
#[derive(Clone, Debug, PartialEq)]
pub enum NewKind {
    /// A topper, cut after this art (a path in the design's folder).
    Topper(String),
    /// A plaque: a rectangle, or cut after art.
    Plaque(Option<String>),
    /// A ball.
    Ball,
    /// Balls over a stretch.
    Scatter,
    /// A line of rope.
    Rope,
    /// A line of pearls.
    Pearls,
    /// A bow.
    Bow,
    /// A sign with this lettering.
    Sign(String),
    /// A standing prop.
    Rod,
    /// A candle, a figure, a cluster of flowers.
    Solid(SolidForm),
}

/// A new piece on its seat.
pub(in crate::edits) fn first_piece(design: &Design, new: &NewPiece) -> Result<Piece, Refusal> {
    let senseless = || Refusal::senseless("this can't be added there", "choose another seat");
    make(design, new).ok_or_else(senseless)
}

fn make(design: &Design, new: &NewPiece) -> Option<Piece> {
    let room = Room::of_seat(design, &new.seat);
    let at = new.at.or_else(|| usual_place(new.seat.surface, room))?;
    let mut keys = new.kind.keys(room)?;
    let word = keys.text("kind").unwrap_or_default().to_owned();
    let name = if let NewKind::Solid(form) = &new.kind { form.word() } else { &word };
    keys.set("name", text(free_name(design, name)));
    keys.set("seat", table([("on", text(new.seat.on.word())), ("surface", text(new.seat.surface.word()))]));
    // A scatter lies where its stretch is.
    if new.kind == NewKind::Scatter {
        keys.set("over", stretch_about(at, room)?);
    } else {
        keys.set("at", at_value(at));
    }
    let tiers: Vec<&str> = design.tiers.iter().map(|tier| tier.name.as_str()).collect();
    new_piece(keys, &tiers)
}

/// Where a piece goes that is added without a place: the middle of a top, the middle of a side's front, before the cake.
fn usual_place(surface: Surface, room: Room) -> Option<At> {
    Some(match surface {
        Surface::Top => At::Plan(PlanPoint::default()),
        Surface::Side => At::Tape(TapePoint { along: Length::ZERO, up: on_ruler(room.height / 2.0, room.unit) }),
        Surface::Board => {
            let z = on_ruler(room.width / 2.0 + room.first("board", "before")?, room.unit);
            At::Plan(PlanPoint { x: Length::ZERO, z })
        }
    })
}

fn at_value(at: At) -> Value {
    match at {
        At::Plan(at) => table([("x", length(at.x)), ("z", length(at.z))]),
        At::Tape(at) => table([("along", length(at.along)), ("up", length(at.up))]),
    }
}

fn stretch_about(at: At, room: Room) -> Option<Value> {
    let wide = room.first("scatter", "stretch")? / 2.0;
    let high = room.first("scatter", "size")? * 1.5;
    let about = |middle: Length, half: Length| Value::List(vec![length(middle - half), length(middle + half)]);
    Some(match at {
        At::Tape(at) => table([("along", about(at.along, wide)), ("up", about(at.up, high))]),
        At::Plan(at) => table([("x", about(at.x, wide)), ("z", about(at.z, high))]),
    })
}

impl NewKind {
    /// Which kind of piece that is, as a design file says it.
    const fn word(&self) -> &'static str {
        match self {
            Self::Topper(_) => "topper",
            Self::Plaque(_) => "plaque",
            Self::Ball => "ball",
            Self::Scatter => "scatter",
            Self::Rope | Self::Pearls => "rope",
            Self::Bow => "bow",
            Self::Sign(_) => "sign",
            Self::Rod => "rod",
            Self::Solid(_) => "solid",
        }
    }

    /// The keys of a design file that are not left at their defaults.
    fn keys(&self, room: Room) -> Option<Table> {
        let kind = self.word();
        let first = |figure: &str| room.first(kind, figure);
        let mut keys = Table::default();
        keys.set("kind", text(kind));
        match self {
            Self::Topper(art) => {
                keys.set("art", text(art));
                // Who brings a picture in wants to see it; one who cuts its form in plain paste unticks it.
                keys.set("print", Value::Truth(true));
                keys.set("height", length(first("height")?));
                keys.set("backing", table([("border", length(first("border")?))]));
                let mut picks = Table::default();
                for figure in ["diameter", "into_piece", "into_cake"] {
                    picks.set(figure, length(first(figure)?));
                }
                keys.set("picks", Value::Table(picks));
            }
            Self::Plaque(Some(art)) => {
                keys.set("art", text(art));
                keys.set("width", length(first("width")?));
            }
            Self::Plaque(None) => keys.set("size", pair(first("width")?, first("height")?)),
            Self::Ball => keys.set("size", length(first("size")?)),
            Self::Scatter => keys.set("sizes", scatter_sizes(first("size")?, room.unit)),
            Self::Rope | Self::Pearls => {
                keys.set("size", length(first("size")?));
                keys.set("length", length(first("length")?));
                keys.set("pearls", Value::Truth(*self == Self::Pearls));
            }
            Self::Bow => {
                for figure in ["ribbon", "loop", "tail"] {
                    keys.set(figure, length(first(figure)?));
                }
                keys.set("cut", text("slant"));
            }
            Self::Sign(words) => {
                keys.set("text", text(words));
                keys.set("letters", table([("height", length(first("letters")?))]));
                keys.set("size", pair(first("width")?, first("height")?));
            }
            Self::Rod => {
                let across = first("across")?;
                let long = length(first("length")?);
                let part = table([("length", long), ("from", length(across)), ("to", length(across))]);
                keys.set("parts", Value::List(vec![part]));
                let stick = [("diameter", length(first("stick")?)), ("into_board", length(first("into_board")?))];
                keys.set("stick", table(stick));
            }
            Self::Solid(form) => {
                keys.set("form", text(form.word()));
                keys.set("size", pair(first("across")?, first("height")?));
            }
        }
        Some(keys)
    }
}

/// Three sizes, the smaller the more.
fn scatter_sizes(largest: Length, unit: Unit) -> Value {
    let sizes = [(1.0, 2), (0.75, 3), (0.5, 4)];
    let size = |(share, count)| Value::List(vec![length(on_ruler(largest * share, unit)), Value::Count(count)]);
    Value::List(sizes.into_iter().map(size).collect())
}

fn text(text: impl Into<String>) -> Value {
    Value::Text(text.into())
}

fn length(length: Length) -> Value {
    Value::Length(length)
}

fn pair(first: Length, second: Length) -> Value {
    Value::List(vec![Value::Length(first), Value::Length(second)])
}

fn table<const N: usize>(keys: [(&'static str, Value); N]) -> Value {
    let mut table = Table::default();
    for (key, value) in keys {
        table.set(key, value);
    }
    Value::Table(table)
}

//! First sizes: what a new tier, course or piece is like on *this* cake, before anybody has changed it.
//!
//! Shares of the width and height of what it goes on, from `assets/tables/first_sizes.csv`, rounded to what a ruler shows:
//! 1/8 in or 5 mm (1 mm for small things).

use std::sync::LazyLock;

use super::Refusal;
use super::names::{free_name, tier_index};
use crate::design::model::pieces::SolidForm;
use crate::design::model::{At, Course, CourseHeight, CourseKind, Measured, Piece, Seat, Size, Surface, Target, Tier};
use crate::design::{Design, Table, Value, new_course, new_piece};
use crate::measure::table::{Row, read_table};
use crate::measure::{Angle, Length, PlanPoint, TapePoint, Unit, read_length};

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

/// What a new course is to be.
#[derive(Clone, Debug, PartialEq)]
pub enum NewCourse {
    /// A rope.
    Rope,
    /// A row of pearls.
    Pearls,
    /// A band.
    Band,
    /// A wrap with this art (a path in the design's folder): side by side when it is a pattern, else one picture.
    Wrap(String),
    /// The covering, left as it is.
    Bare,
}

static TABLE: LazyLock<Vec<Row>> =
    LazyLock::new(|| read_table(include_str!("../../assets/tables/first_sizes.csv")).unwrap_or_default());

/// Width and height of what something goes on.
#[derive(Clone, Copy, Debug)]
struct Room {
    width: Length,
    height: Length,
    unit: Unit,
}

impl Room {
    fn of_tier(tier: &Tier, unit: Unit) -> Self {
        let coat = (tier.icing + tier.paste) * 2.0;
        let width = tier.measured.across.unwrap_or(tier.size.width.min(tier.size.depth()) + coat);
        Self { width, height: tier.measured.height.unwrap_or(tier.height), unit }
    }

    /// Of a seat: of its tier; else of the lowest tier, as what stands on the board is seen beside it.
    fn of_seat(design: &Design, seat: &Seat) -> Self {
        let mut on = &seat.on;
        for _ in 0..design.pieces.len() {
            let Target::Piece(name) = on else { break };
            let Some(piece) = design.pieces.iter().find(|piece| piece.name == *name) else { break };
            on = &piece.seat.on;
        }
        let tier = design.tiers.iter().find(|tier| *on == Target::Tier(tier.name.clone())).or(design.tiers.first());
        let usual = Self { width: Length::inches(7.0), height: Length::inches(4.0), unit: design.unit };
        tier.map_or(usual, |tier| Self::of_tier(tier, design.unit))
    }

    /// A first size of the table, as a ruler shows it.
    fn first(self, what: &str, figure: &str) -> Length {
        let is_it = |row: &&Row| row.text("what") == Ok(what) && row.text("figure") == Ok(figure);
        let found = TABLE.iter().find(is_it).and_then(|row| {
            let of = if row.text("of").ok()? == "width" { self.width } else { self.height };
            let bound = |column| read_length(row.text(column).ok()?, Unit::Inch).ok();
            Some((of * row.figure("share").ok()?).max(bound("least")?).min(bound("most")?))
        });
        on_ruler(found.unwrap_or(self.height / 2.0), self.unit)
    }
}

/// A length as a ruler shows it: eighths (sixteenths below half an inch), or 5 mm (1 mm below 20 mm).
#[must_use]
pub fn on_ruler(length: Length, unit: Unit) -> Length {
    let step = match unit {
        Unit::Inch if length < Length::inches(0.5) => Length::inches(1.0 / 16.0),
        Unit::Inch => Length::inches(0.125),
        _ if length < Length::mm(20.0) => Length::mm(1.0),
        _ => Length::mm(5.0),
    };
    step * (length / step).round().max(1.0)
}

/// A new piece on its seat.
pub(super) fn first_piece(design: &Design, new: &NewPiece) -> Result<Piece, Refusal> {
    let room = Room::of_seat(design, &new.seat);
    let mut keys = new.kind.keys(room);
    let word = keys.text("kind").unwrap_or_default().to_owned();
    let name = if let NewKind::Solid(form) = &new.kind { form.word() } else { &word };
    keys.set("name", text(free_name(design, name)));
    keys.set("seat", table([("on", text(new.seat.on.word())), ("surface", text(new.seat.surface.word()))]));
    keys.set("at", at_value(new.at.unwrap_or_else(|| usual_place(new.seat.surface, room))));
    if let NewKind::Scatter = new.kind {
        let at = new.at.unwrap_or_else(|| usual_place(new.seat.surface, room));
        keys.set("over", stretch_about(at, room));
    }
    let tiers: Vec<&str> = design.tiers.iter().map(|tier| tier.name.as_str()).collect();
    new_piece(keys, &tiers)
        .ok_or_else(|| Refusal::senseless(format!("a {word} can't be added there"), "choose another seat"))
}

/// Where a piece goes that is added without a place: the middle of a top, the middle of a side's front, before the cake.
fn usual_place(surface: Surface, room: Room) -> At {
    match surface {
        Surface::Top => At::Plan(PlanPoint::default()),
        Surface::Side => At::Tape(TapePoint { along: Length::ZERO, up: on_ruler(room.height / 2.0, room.unit) }),
        Surface::Board => {
            let z = on_ruler(room.width / 2.0 + room.first("board", "before"), room.unit);
            At::Plan(PlanPoint { x: Length::ZERO, z })
        }
    }
}

fn at_value(at: At) -> Value {
    match at {
        At::Plan(at) => table([("x", length(at.x)), ("z", length(at.z))]),
        At::Tape(at) => table([("along", length(at.along)), ("up", length(at.up))]),
    }
}

fn stretch_about(at: At, room: Room) -> Value {
    let wide = room.first("scatter", "stretch") / 2.0;
    let high = room.first("scatter", "size") * 1.5;
    let about = |middle: Length, half: Length| Value::List(vec![length(middle - half), length(middle + half)]);
    match at {
        At::Tape(at) => table([("along", about(at.along, wide)), ("up", about(at.up, high))]),
        At::Plan(at) => table([("x", about(at.x, wide)), ("z", about(at.z, high))]),
    }
}

impl NewKind {
    /// The keys of a design file that are not left at their defaults.
    fn keys(&self, room: Room) -> Table {
        let (kind, what) = match self {
            Self::Topper(_) => ("topper", "topper"),
            Self::Plaque(_) => ("plaque", "plaque"),
            Self::Ball => ("ball", "ball"),
            Self::Scatter => ("scatter", "scatter"),
            Self::Rope | Self::Pearls => ("rope", "rope"),
            Self::Bow => ("bow", "bow"),
            Self::Sign(_) => ("sign", "sign"),
            Self::Rod => ("rod", "rod"),
            Self::Solid(_) => ("solid", "solid"),
        };
        let first = |figure: &str| room.first(what, figure);
        let mut keys = Table::default();
        keys.set("kind", text(kind));
        match self {
            Self::Topper(art) => {
                keys.set("art", text(art));
                keys.set("height", length(first("height")));
                keys.set("backing", table([("border", length(first("border")))]));
                let picks = [("diameter", "diameter"), ("into_piece", "into_piece"), ("into_cake", "into_cake")];
                keys.set("picks", table(picks.map(|(key, figure)| (key, length(first(figure))))));
            }
            Self::Plaque(Some(art)) => {
                keys.set("art", text(art));
                keys.set("width", length(first("width")));
            }
            Self::Plaque(None) => keys.set("size", pair(first("width"), first("height"))),
            Self::Ball => keys.set("size", length(first("size"))),
            Self::Scatter => keys.set("sizes", scatter_sizes(first("size"), room.unit)),
            Self::Rope | Self::Pearls => {
                keys.set("size", length(first("size")));
                keys.set("length", length(first("length")));
                keys.set("pearls", Value::Truth(*self == Self::Pearls));
            }
            Self::Bow => {
                for figure in ["ribbon", "loop", "tail"] {
                    keys.set(figure, length(first(figure)));
                }
                keys.set("cut", text("slant"));
            }
            Self::Sign(words) => {
                keys.set("text", text(words));
                keys.set("letters", table([("height", length(first("letters")))]));
                keys.set("size", pair(first("width"), first("height")));
            }
            Self::Rod => {
                let across = first("across");
                let part =
                    table([("length", length(first("length"))), ("from", length(across)), ("to", length(across))]);
                keys.set("parts", Value::List(vec![part]));
                let stick = [("diameter", length(first("stick"))), ("into_board", length(first("into_board")))];
                keys.set("stick", table(stick));
            }
            Self::Solid(form) => {
                keys.set("form", text(form.word()));
                keys.set("size", pair(first("across"), first("height")));
            }
        }
        keys
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

/// A new tier at a place from the board up.
pub(super) fn first_tier(design: &Design, place: usize) -> Tier {
    let model = place.checked_sub(1).and_then(|below| design.tiers.get(below)).or(design.tiers.first());
    let model = model.cloned().unwrap_or_default();
    let unit = design.unit;
    let smaller = |length: Length| {
        let room = Room { width: length, height: length, unit };
        if place == 0 { length } else { room.first("tier", "size").min(length) }
    };
    let size = Size { width: smaller(model.size.width), depth: model.size.depth.map(smaller) };
    let lid = Course {
        name: "covering".to_owned(),
        kind: CourseKind::Bare { height: CourseHeight::Fill { weight: 1.0, least: Length::ZERO } },
        locked: false,
    };
    Tier {
        name: free_name(design, if place == 0 { "lower tier" } else { "upper tier" }),
        size,
        courses: vec![lid],
        at: PlanPoint::default(),
        turn: Angle::ZERO,
        gap: Length::ZERO,
        measured: Measured::default(),
        locked: false,
        ..model
    }
}

/// A new course for a tier: it fills what is left unless another course does already.
pub(super) fn first_course(design: &Design, (tier, new): (&str, &NewCourse)) -> Result<Course, Refusal> {
    let tier_index = tier_index(design, tier)?;
    let tier = design.tiers.get(tier_index).ok_or_else(|| Refusal::missing("tier", tier))?;
    let room = Room::of_tier(tier, design.unit);
    let is_filled = tier.courses.iter().any(|course| fills(&course.kind));
    let (kind, what) = match new {
        NewCourse::Rope => ("rope", "rope course"),
        NewCourse::Pearls => ("pearls", "pearls course"),
        NewCourse::Band => ("band", "band course"),
        NewCourse::Wrap(_) => ("wrap", "wrap course"),
        NewCourse::Bare => ("bare", "bare course"),
    };
    let mut keys = Table::default();
    keys.set("kind", text(kind));
    keys.set("name", text(kind));
    match new {
        NewCourse::Rope | NewCourse::Pearls | NewCourse::Band => keys.set("size", length(room.first(what, "size"))),
        NewCourse::Wrap(art) => keys.set("art", text(art)),
        NewCourse::Bare => {}
    }
    match new {
        NewCourse::Rope | NewCourse::Pearls => {}
        NewCourse::Wrap(_) | NewCourse::Bare if !is_filled => keys.set("height", text("fill")),
        _ => keys.set("height", length(room.first(what, "height"))),
    }
    new_course(keys).ok_or_else(|| Refusal::senseless("this course can't be added", "choose another kind"))
}

fn fills(kind: &CourseKind) -> bool {
    let height = match kind {
        CourseKind::Band { height, .. } | CourseKind::Bare { height } => *height,
        CourseKind::Wrap(wrap) => wrap.height,
        CourseKind::Rope { .. } | CourseKind::Pearls { .. } => return false,
    };
    matches!(height, CourseHeight::Fill { .. })
}

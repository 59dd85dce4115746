//! Snapping: where a dragged piece or seam comes to rest, and why, in words for the readout.
//!
//! In this order a place goes to: front centre and the quarter points, other pieces' middles, even spacing, edges of courses;
//! and, where none of them is near, to the marks of a ruler. Each of the two directions of a seat snaps by itself.

mod lines;
mod nudge;
mod readout;

pub use nudge::{Direction, nudge, nudge_step, ruler_step};
pub use readout::{Gap, Readout, readout};

use super::choose::{Place, outline_on_seat, placed};
use crate::cake::{Cake, CakeTier};
use crate::design::model::{At, Piece, Surface, Target};
use crate::measure::{Length, PlanPoint, TapePoint, Unit};
use lines::{Line, Lines};

/// A place after snapping.
#[derive(Clone, Debug, PartialEq)]
pub struct Snapped {
    /// Where it comes to rest.
    pub at: At,
    /// What it snapped to, in words; empty where it is free or only at a mark of the ruler.
    pub words: Vec<String>,
}

impl Snapped {
    /// A place that snapped to nothing.
    #[must_use]
    pub const fn free(at: At) -> Self {
        Self { at, words: Vec::new() }
    }
}

/// Where a piece comes to rest that is to be at a place; `strength` says how near something must be.
#[must_use]
pub fn snap(cake: &Cake, piece: &str, (place, strength): (&Place, Length)) -> Snapped {
    let unit = cake.design.unit;
    let tier = match &place.seat.on {
        Target::Tier(name) => cake.tier(name),
        Target::Board | Target::Piece(_) => None,
    };
    let extents = extents(cake, piece);
    let others = neighbours(cake, piece, place);
    let mut words = Vec::new();
    let mut settle = |value: Length, lines: Lines| {
        let near = lines.nearest(value.as_mm(), strength.as_mm());
        near.map_or_else(
            || on_marks(value, unit),
            |line| {
                words.push(line.words);
                Length::mm(line.at)
            },
        )
    };
    let at = match (place.at, tier, place.seat.surface) {
        (At::Tape(at), Some(tier), Surface::Side) => {
            let along = settle(at.along, Lines::along(tier, &others));
            let up = settle(at.up, Lines::up(tier, &others, extents));
            At::Tape(TapePoint { along: Length::mm(tier.outline.reading(along.as_mm())), up })
        }
        (At::Tape(at), ..) => {
            At::Tape(TapePoint { along: settle(at.along, Lines::middle()), up: settle(at.up, Lines::none()) })
        }
        (At::Plan(at), ..) => {
            let x = settle(at.x, Lines::plan(&others, |at| at.x));
            let z = settle(at.z, Lines::plan(&others, |at| at.y));
            At::Plan(PlanPoint { x, z })
        }
    };
    Snapped { at: rounded(at, unit), words }
}

/// Where a seam comes to rest on its tier's tape.
#[must_use]
pub fn snap_seam(cake: &Cake, (tier, along): (&CakeTier, Length), strength: Length) -> Snapped {
    let at = |along| At::Tape(TapePoint { along, up: Length::ZERO });
    if strength <= Length::ZERO {
        return Snapped::free(rounded(at(along), cake.design.unit));
    }
    let lines = Lines::seam(cake, tier);
    let near = lines.nearest(along.as_mm(), strength.as_mm());
    let (along, words) = near.map_or_else(
        || (on_marks(along, cake.design.unit), Vec::new()),
        |line: Line| (Length::mm(line.at), vec![line.words]),
    );
    Snapped { at: rounded(at(Length::mm(tier.outline.reading(along.as_mm()))), cake.design.unit), words }
}

/// The nearest mark of the ruler.
fn on_marks(value: Length, unit: Unit) -> Length {
    let step = ruler_step(unit);
    step * (value / step).round()
}

/// A place as a person would write it: whole 64ths of an inch, or tenths of a millimetre; finer than anybody places sugar.
#[must_use]
pub fn rounded(at: At, unit: Unit) -> At {
    let step = if unit == Unit::Inch { Length::inches(1.0 / 64.0) } else { Length::mm(0.1) };
    // Dividing by a whole number keeps tenths exact where multiplying by 0.1 would not.
    let parts = if unit == Unit::Inch { 64.0 } else { 10.0 };
    let round = |length: Length| {
        let count = (length / step).round();
        if unit == Unit::Inch { Length::inches(count / parts) } else { Length::mm(count / parts) }
    };
    match at {
        At::Tape(at) => At::Tape(TapePoint { along: round(at.along), up: round(at.up) }),
        At::Plan(at) => At::Plan(PlanPoint { x: round(at.x), z: round(at.z) }),
    }
}

/// Another piece on the same seat: its name and its place, mm.
#[derive(Clone, Copy, Debug)]
struct Neighbour<'a> {
    name: &'a str,
    at: glam::DVec2,
}

fn neighbours<'a>(cake: &'a Cake, piece: &str, place: &Place) -> Vec<Neighbour<'a>> {
    let on_it = |other: &&Piece| !other.hidden && other.name != piece && other.seat == place.seat;
    let at = |other: &'a Piece| {
        let at = match super::middle(other) {
            At::Tape(at) => glam::DVec2::new(at.along.as_mm(), at.up.as_mm()),
            At::Plan(at) => glam::DVec2::new(at.x.as_mm(), at.z.as_mm()),
        };
        Neighbour { name: &other.name, at }
    };
    cake.design.pieces.iter().filter(on_it).map(at).collect()
}

/// How far a piece reaches below and above its place, mm.
fn extents(cake: &Cake, piece: &str) -> (f64, f64) {
    let Some(placed) = placed(cake, piece) else { return (0.0, 0.0) };
    let up = match cake.designed(placed).map(super::middle) {
        Some(At::Tape(at)) => at.up.as_mm(),
        _ => return (0.0, 0.0),
    };
    let ups = outline_on_seat(cake, placed).into_iter().map(|corner| corner.y - up);
    let (low, high) = ups.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), up| (low.min(up), high.max(up)));
    if low.is_finite() { (low, high) } else { (0.0, 0.0) }
}

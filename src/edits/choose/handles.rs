//! Handles of a chosen piece: what it is turned and resized by.
//!
//! ```text
//!   standing on a top        lying, or on a side
//!        H                      .  H  S
//!     +-----+ S                 +-----+
//!     |     |                   |     | W       T
//!     |     | W                 +-----+
//!     +--o--+    T           (o, its place, in the middle or where the kind has it)
//! ```

use glam::{DVec2, DVec3};

use super::on_tape::in_cake;
use super::thing::placed;
use super::{Ray, outline_on_seat};
use crate::cake::{Cake, CakePiece};
use crate::design::model::{At, Form, Piece, Surface};
use crate::edits::has_free_sides;
use crate::measure::{Length, TapePoint};

/// Gap between a piece and the handle that turns it, mm.
const TURN_GAP: f64 = 12.0;

/// What a piece is held by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grip {
    /// By itself: it moves along its seat.
    Move,
    /// By its handle beside it: it turns about its place.
    Turn,
    /// By a corner: everything grows together.
    Scale,
    /// By its right side: it becomes wider.
    Width,
    /// By its upper side: it becomes higher.
    Height,
}

/// A handle, and where it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Handle {
    /// What happens when it is dragged.
    pub grip: Grip,
    /// In the cake's frame, mm.
    pub at: DVec3,
    /// On the tape of its tier, for pieces on a side.
    pub on_tape: Option<TapePoint>,
}

/// The handles of a piece; none for one that is hidden or locked. Rods and scatters aren't turned by hand.
#[must_use]
pub fn handles(cake: &Cake, piece: &str) -> Vec<Handle> {
    let Some(placed) = placed(cake, piece) else { return Vec::new() };
    let Some(piece) = cake.designed(placed).filter(|piece| !piece.locked) else { return Vec::new() };
    let reach = Reach::of(cake, (piece, placed));
    let mut spots = vec![(Grip::Scale, reach.high)];
    if has_free_sides(&piece.form) {
        spots.push((Grip::Width, DVec2::new(reach.high.x, reach.middle.y)));
        spots.push((Grip::Height, DVec2::new(reach.middle.x, reach.high.y)));
    }
    if !matches!(piece.form, Form::Scatter(_) | Form::Ball(_)) {
        spots.push((Grip::Turn, DVec2::new(reach.high.x + TURN_GAP, reach.turn_height)));
    }
    spots.into_iter().filter_map(|(grip, local)| stand(cake, (piece, placed), (grip, local))).collect()
}

/// The handle that a ray passes within `reach` of, the nearest first.
#[must_use]
pub fn handle_under(handles: &[Handle], ray: Ray, reach: Length) -> Option<Handle> {
    let near = handles.iter().filter(|handle| ray.passes(handle.at) <= reach.as_mm());
    near.min_by(|a, b| ray.passes(a.at).total_cmp(&ray.passes(b.at))).copied()
}

/// The handle that lies within `reach` of a place on its tape, the nearest first.
#[must_use]
pub fn handle_on_tape(handles: &[Handle], at: TapePoint, reach: Length) -> Option<Handle> {
    let away = |handle: &Handle| {
        let on = handle.on_tape?;
        Some((on.along - at.along).as_mm().hypot((on.up - at.up).as_mm())).filter(|away| *away <= reach.as_mm())
    };
    let near = handles.iter().filter_map(|handle| Some((away(handle)?, handle)));
    near.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, handle)| *handle)
}

/// How a piece is handled: which two directions of its own frame its size is seen in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::edits) enum Stance {
    /// Upright: right and up.
    Standing,
    /// Flat on a top or the board: right and away from the customer.
    Lying,
    /// Against a side: along and up.
    AtSide,
}

impl Stance {
    pub(in crate::edits) fn of(piece: &Piece) -> Self {
        match (piece.seat.surface, &piece.form) {
            (Surface::Side, _) => Self::AtSide,
            (_, Form::Topper(_) | Form::Rod(_) | Form::Solid(_) | Form::Ball(_)) => Self::Standing,
            _ => Self::Lying,
        }
    }
}

/// How far a piece reaches in the two directions it is handled in, mm from its place.
struct Reach {
    high: DVec2,
    middle: DVec2,
    turn_height: f64,
}

impl Reach {
    fn of(cake: &Cake, (piece, placed): (&Piece, &CakePiece)) -> Self {
        let bounds = |corners: &mut dyn Iterator<Item = DVec2>| {
            corners.fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
        };
        let own = &placed.measure.footprint;
        match Stance::of(piece) {
            Stance::Standing => {
                let half = placed.measure.size.width.as_mm() / 2.0;
                let high = DVec2::new(half, placed.measure.size.height.as_mm());
                Self { high, middle: high / 2.0 * DVec2::new(0.0, 1.0), turn_height: 0.0 }
            }
            // On a top a footprint is (x, z); up the page is away from the customer.
            Stance::Lying => {
                let (low, high) = bounds(&mut own.iter().map(|at| DVec2::new(at.x, -at.y)));
                Self { high, middle: (low + high) / 2.0, turn_height: 0.0 }
            }
            Stance::AtSide => {
                let (low, high) = if matches!(piece.form, Form::Scatter(_)) {
                    bounds(&mut outline_on_seat(cake, placed).into_iter())
                } else {
                    bounds(&mut own.iter().copied())
                };
                Self { high, middle: (low + high) / 2.0, turn_height: 0.0 }
            }
        }
    }
}

fn stand(cake: &Cake, (piece, placed): (&Piece, &CakePiece), (grip, local): (Grip, DVec2)) -> Option<Handle> {
    match (Stance::of(piece), placed.side, piece.at) {
        (Stance::AtSide, Some(side), At::Tape(at)) => {
            let tier = cake.tiers.get(side.tier)?;
            let origin = DVec2::new(at.along.as_mm(), at.up.as_mm());
            let is_scatter = matches!(piece.form, Form::Scatter(_));
            let turned = DVec2::from_angle(piece.turn.as_radians()).rotate(local);
            let flat = if is_scatter { local } else { origin + turned };
            let along = Length::mm(tier.outline.reading(flat.x));
            let on_tape = TapePoint { along, up: Length::mm(flat.y) };
            Some(Handle { grip, at: in_cake(tier, on_tape).0, on_tape: Some(on_tape) })
        }
        (Stance::Lying, ..) => {
            let up = placed.measure.size.height.as_mm();
            let at = placed.pose.transform_point3(DVec3::new(local.x, up, -local.y));
            Some(Handle { grip, at, on_tape: None })
        }
        _ => Some(Handle { grip, at: placed.pose.transform_point3(local.extend(0.0)), on_tape: None }),
    }
}

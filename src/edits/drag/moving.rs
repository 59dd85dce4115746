//! A piece dragged along its seat, or to another.

use std::collections::BTreeSet;

use glam::{DVec2, DVec3};

use super::{Manner, Pointer, Step, World};
use crate::cake::{Cake, Owner};
use crate::design::Design;
use crate::design::model::{At, Form, Piece, Surface, Target};
use crate::edits::choose::{Choice, Place, place_of, placed};
use crate::edits::snap::{Snapped, rounded, snap};
use crate::edits::{Edit, PieceEdit, Refusal, middle};
use crate::measure::{Length, PlanPoint, TapePoint};

/// Share of the pointer's way that a fine drag goes.
const FINE: f64 = 0.25;

/// A piece under way.
#[derive(Clone, Debug)]
pub(super) struct Moving {
    name: String,
    /// From the piece's place to where it was grabbed, in the cake's frame.
    offset: DVec3,
    /// From the piece's place to where it was grabbed, on the tape.
    on_tape: DVec2,
    /// Where the pointer was last, as a place for the piece, and where the piece is, before snapping.
    pointed: Place,
    free: Place,
    /// Itself and everything that sits on it: no seats for it.
    own: BTreeSet<usize>,
}

impl Moving {
    pub(super) fn grab(world: World<'_>, name: &str, (choice, pointer): (&Choice, &Pointer)) -> Result<Self, Refusal> {
        let cake = world.cake;
        let piece = cake.design.pieces.iter().find(|piece| piece.name == name);
        let (piece, seated) = piece.zip(placed(cake, name)).ok_or_else(|| Refusal::missing("piece", name))?;
        if piece.locked {
            return Err(Refusal::locked("piece", name));
        }
        let at = middle(piece);
        let origin = match (&piece.form, at) {
            (Form::Scatter(_), _) => choice.at,
            _ => seated.pose.translation,
        };
        let on_tape = match (pointer, at) {
            (Pointer::Tape(_, pointed), At::Tape(at)) => flat(At::Tape(*pointed)) - flat(At::Tape(at)),
            _ => DVec2::ZERO,
        };
        let here = Place { seat: piece.seat.clone(), at };
        let own = with_riders(&cake.design, name);
        let (offset, free) = (choice.at - origin, here.clone());
        let mut moving = Self { name: name.to_owned(), offset, on_tape, pointed: here, free, own };
        // Where the ray meets the seat may differ a little from the piece's own place (it may lie on a course).
        if let Some(pointed) = moving.pointed_at(world, pointer).filter(|place| place.seat == moving.free.seat) {
            moving.pointed = pointed;
        }
        Ok(moving)
    }

    pub(super) fn to(&mut self, world: World<'_>, pointer: &Pointer, manner: Manner) -> Option<Step> {
        let cake = world.cake;
        let piece = cake.design.pieces.iter().find(|piece| piece.name == self.name)?;
        let pointed = self.pointed_at(world, pointer).filter(|place| may_sit(piece, place))?;
        self.free = if pointed.seat == self.pointed.seat {
            let way = way(cake, (&self.pointed, &pointed)) * if manner.is_fine { FINE } else { 1.0 };
            Place { seat: pointed.seat.clone(), at: moved(cake, &self.free, way) }
        } else {
            pointed.clone()
        };
        self.pointed = pointed;
        let snapped = if manner.is_fine || manner.strength <= Length::ZERO {
            Snapped::free(rounded(self.free.at, cake.design.unit))
        } else {
            snap(cake, &self.name, (&self.free, manner.strength))
        };
        let edit = Edit::piece(&self.name, PieceEdit::Move(self.free.seat.clone(), snapped.at));
        Some(Step::new(edit, snapped))
    }

    /// The place for the piece that the pointer means.
    fn pointed_at(&self, world: World<'_>, pointer: &Pointer) -> Option<Place> {
        let cake = world.cake;
        match pointer {
            Pointer::Tape(tier, at) => {
                let tier = cake.tier(tier)?;
                let place = flat(At::Tape(*at)) - self.on_tape;
                let along = Length::mm(tier.outline.reading(place.x));
                let up = Length::mm(place.y.clamp(0.0, tier.height.as_mm()));
                let on = Target::Tier(tier.name.clone());
                let seat = crate::design::model::Seat { on, surface: Surface::Side };
                Some(Place { seat, at: At::Tape(TapePoint { along, up }) })
            }
            Pointer::Ray(ray) => {
                let is_seat = |owner: Owner| match owner {
                    Owner::Piece(index) => self.is_seat(&cake.design, index),
                    Owner::Board | Owner::Tier(_) | Owner::Course(..) => true,
                };
                let hit = world.touch.cast(ray.moved(-self.offset), is_seat)?;
                place_of(cake, &hit)
            }
        }
    }

    /// Of pieces, plaques take others while something is dragged, and what it sat on.
    fn is_seat(&self, design: &Design, index: usize) -> bool {
        let carries = |piece: &Piece| {
            matches!(piece.form, Form::Plaque(_)) || self.free.seat.on == Target::Piece(piece.name.clone())
        };
        !self.own.contains(&index) && design.pieces.get(index).is_some_and(carries)
    }
}

/// A rod that leans stands; it never goes to a side.
fn may_sit(piece: &Piece, place: &Place) -> bool {
    let leans = matches!(&piece.form, Form::Rod(rod) if rod.leans_on.is_some());
    !(leans && place.seat.surface == Surface::Side)
}

/// A piece and everything that sits on it, by number.
fn with_riders(design: &Design, name: &str) -> BTreeSet<usize> {
    let mut names = vec![name];
    let mut found: BTreeSet<usize> = design.pieces.iter().position(|piece| piece.name == name).into_iter().collect();
    while let Some(name) = names.pop() {
        let rides = |piece: &Piece| matches!(&piece.seat.on, Target::Piece(on) if on == name);
        for (number, piece) in design.pieces.iter().enumerate().filter(|(_, piece)| rides(piece)) {
            if found.insert(number) {
                names.push(&piece.name);
            }
        }
    }
    found
}

/// A place as two numbers, mm.
fn flat(at: At) -> DVec2 {
    match at {
        At::Tape(at) => DVec2::new(at.along.as_mm(), at.up.as_mm()),
        At::Plan(at) => DVec2::new(at.x.as_mm(), at.z.as_mm()),
    }
}

/// The way from one place to another on one seat, mm; round a side the shorter way.
fn way(cake: &Cake, (from, to): (&Place, &Place)) -> DVec2 {
    let way = flat(to.at) - flat(from.at);
    match (&to.at, &to.seat.on) {
        (At::Tape(_), Target::Tier(name)) => {
            let along = cake.tier(name).map_or(way.x, |tier| tier.outline.reading(way.x));
            DVec2::new(along, way.y)
        }
        _ => way,
    }
}

/// A place moved along its seat; on a side it stays on the side.
fn moved(cake: &Cake, from: &Place, way: DVec2) -> At {
    let to = flat(from.at) + way;
    match (from.at, &from.seat.on) {
        (At::Plan(_), _) => At::Plan(PlanPoint { x: Length::mm(to.x), z: Length::mm(to.y) }),
        (At::Tape(_), Target::Tier(name)) => {
            let tier = cake.tier(name);
            let along = tier.map_or(to.x, |tier| tier.outline.reading(to.x));
            let up = tier.map_or(to.y, |tier| to.y.clamp(0.0, tier.height.as_mm()));
            At::Tape(TapePoint { along: Length::mm(along), up: Length::mm(up) })
        }
        (At::Tape(_), _) => At::Tape(TapePoint { along: Length::mm(to.x), up: Length::mm(to.y) }),
    }
}

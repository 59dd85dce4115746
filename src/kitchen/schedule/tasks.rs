//! What is to be done for a cake, and what must be done before what.
//!
//! ```text
//!   colours ──> make each piece ──> dries ──────────────┐
//!   bake ──> ice ──> cover ──> stand on the tier below ─┴─> courses ──> place pieces ──> pack
//!   board ──> firms ───────────────┘
//! ```

use std::collections::BTreeMap;

use super::times::{Takes, takes};
use crate::cake::{Cake, CakePiece};
use crate::design::model::pieces::SolidForm;
use crate::design::model::{CourseKind, Form, Piece, Surface, Target};
use crate::kitchen::pastes;
use crate::measure::Length;

/// More pieces than this are made kind by kind.
const MOST_ALONE: usize = 150;

/// Something to do.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Task {
    /// In words.
    pub what: String,
    /// The piece, tier or course it is for; empty for the whole cake.
    pub of: String,
    /// Work, minutes.
    pub minutes: i64,
    /// Waiting after it, minutes: what the wait is called, and how long.
    pub wait: (&'static str, i64),
    /// What comes before it.
    pub after: Vec<usize>,
}

/// The tasks of a cake, in an order in which each comes after what it needs.
#[derive(Default)]
pub(super) struct Tasks {
    pub tasks: Vec<Task>,
}

impl Tasks {
    fn add(&mut self, (what, of): (&str, &str), (takes, wait): (Takes, &'static str), after: &[usize]) -> usize {
        self.tasks.push(Task {
            what: what.to_owned(),
            of: of.to_owned(),
            minutes: takes.minutes,
            wait: (wait, takes.wait),
            after: after.to_vec(),
        });
        self.tasks.len() - 1
    }

    /// Everything to do for a cake that has so many sheets printed.
    pub fn of(cake: &Cake, sheets: usize) -> Self {
        let mut tasks = Self::default();
        let count = pastes(cake).len();
        let colours: Vec<usize> = (count > 0)
            .then(|| tasks.add(("colour the pastes", ""), (times(takes("colour"), count), ""), &[]))
            .into_iter()
            .collect();
        let printed: Vec<usize> = (sheets > 0)
            .then(|| tasks.add(("print the sheets", ""), (times(takes("sheet"), sheets), ""), &[]))
            .into_iter()
            .collect();
        let made = tasks.make(cake, &[colours.clone(), printed.clone()].concat());
        let last = tasks.stand(cake, &colours);
        let dressed = tasks.dress(cake, &[last, printed].concat());
        let placed = tasks.place(cake, (&made, &dressed));
        tasks.add(("last look, and into its box", ""), (takes("pack"), ""), &[dressed, placed].concat());
        tasks
    }

    /// Makes the pieces; which task makes which piece.
    fn make(&mut self, cake: &Cake, after: &[usize]) -> BTreeMap<usize, usize> {
        // What is made together: a piece alone by its number, many of a kind by what they are.
        type Batch<'a> = Vec<(usize, &'a str, Takes)>;
        let mut together: BTreeMap<(usize, String), Batch<'_>> = BTreeMap::new();
        let many = cake.pieces.len() > MOST_ALONE;
        for (number, placed) in cake.pieces.iter().enumerate() {
            let Some(piece) = cake.designed(placed) else { continue };
            let takes = making(piece, placed);
            if takes == Takes::default() {
                continue;
            }
            let kind = piece.form.kind();
            let key = if many || matches!(piece.form, Form::Ball(_)) {
                (0, format!("{kind} {}", takes.wait))
            } else {
                (number + 1, String::new())
            };
            together.entry(key).or_default().push((number, &piece.name, takes));
        }
        let mut made = BTreeMap::new();
        for pieces in together.into_values() {
            let names: Vec<&str> = pieces.iter().map(|(_, name, _)| *name).collect();
            let minutes = pieces.iter().map(|(_, _, takes)| takes.minutes).sum();
            let wait = pieces.first().map_or(0, |(_, _, takes)| takes.wait);
            let task = self.add(("make", &names.join(", ")), (Takes { minutes, wait }, "dries"), after);
            made.extend(pieces.iter().map(|(number, _, _)| (*number, task)));
        }
        made
    }

    /// Bakes, ices, covers and stands the tiers; the tasks after which the cake stands.
    fn stand(&mut self, cake: &Cake, colours: &[usize]) -> Vec<usize> {
        let board = self.add(("cover the board", ""), (takes("board"), "firms"), colours);
        let mut below = vec![board];
        for tier in &cake.tiers {
            let name = tier.name.as_str();
            let baked = self.add(("bake", name), (takes("bake"), "bakes and cools"), &[]);
            let mut ready = self.add(("fill and ice", name), (takes("ice"), "chills"), &[baked]);
            if tier.paste > Length::ZERO {
                ready = self.add(("cover", name), (takes("cover"), "firms"), &[&[ready][..], colours].concat());
            }
            below.push(ready);
            let stands = self.add(("stand", name), (takes("stand"), ""), &below);
            below = vec![stands];
        }
        below
    }

    /// Lays the courses, tier by tier.
    fn dress(&mut self, cake: &Cake, after: &[usize]) -> Vec<usize> {
        let mut last = after.to_vec();
        for tier in &cake.tiers {
            let minutes: i64 = tier.courses.iter().map(|course| laying(&course.kind)).sum();
            if minutes > 0 {
                let task = self.add(("lay the courses of", &tier.name), (Takes { minutes, wait: 0 }, ""), &last);
                last = vec![task];
            }
        }
        last
    }

    /// Sets the pieces, those of one seat together.
    fn place(&mut self, cake: &Cake, (made, dressed): (&BTreeMap<usize, usize>, &[usize])) -> Vec<usize> {
        let mut seats: Vec<(String, i64, Vec<usize>)> = Vec::new();
        for (number, placed) in cake.pieces.iter().enumerate() {
            let Some(piece) = cake.designed(placed) else { continue };
            let seat = carrier(cake, piece);
            let slow = matches!(piece.form, Form::Scatter(_) | Form::Rope(_));
            let minutes = takes("place").minutes * if slow { 3 } else { 1 };
            let found = seats.iter().position(|(name, ..)| *name == seat);
            let place = found.unwrap_or_else(|| {
                seats.push((seat, 0, Vec::new()));
                seats.len() - 1
            });
            if let Some((_, sum, after)) = seats.get_mut(place) {
                *sum += minutes;
                after.extend(made.get(&number));
            }
        }
        let mut last = Vec::new();
        for (seat, minutes, mut after) in seats {
            after.extend(dressed);
            after.sort_unstable();
            after.dedup();
            last.push(self.add(("set the pieces on", &seat), (Takes { minutes, wait: 0 }, ""), &after));
        }
        last
    }
}

fn times(takes: Takes, count: usize) -> Takes {
    Takes { minutes: takes.minutes * i64::try_from(count).unwrap_or(0), ..takes }
}

/// What making a piece takes, its drying as the person says, else as the table says.
fn making(piece: &Piece, placed: &CakePiece) -> Takes {
    let soft = piece.seat.surface == Surface::Side && piece.is_soft();
    let kind = match &piece.form {
        Form::Solid(solid) => match solid.form {
            SolidForm::Candle => "candle",
            SolidForm::Figure => "figure",
            SolidForm::Flowers => "flowers",
        },
        form => form.kind(),
    };
    let mut made = takes(kind);
    match &piece.form {
        Form::Scatter(_) => made = times(made, placed.measure.balls.len()),
        Form::Plaque(plaque) => {
            let cells = plaque.cells.as_ref().map_or(0, |cells| cells.rows * cells.columns);
            made.minutes += takes("cell").minutes * i64::from(cells);
        }
        _ => {}
    }
    // What bends to a side is laid while it is soft; a bow's loops hold their own shape.
    if soft && !matches!(piece.form, Form::Bow(_)) {
        made.wait = 0;
    }
    if let Some(hours) = piece.dry_hours {
        made.wait = (hours * 60.0).round() as i64;
    }
    made
}

fn laying(kind: &CourseKind) -> i64 {
    match kind {
        CourseKind::Wrap(_) => takes("wrap").minutes,
        CourseKind::Bare { .. } => 0,
        CourseKind::Rope { .. } | CourseKind::Band { .. } | CourseKind::Pearls { .. } => takes("course").minutes,
    }
}

/// The tier or the board that carries a piece in the end.
fn carrier(cake: &Cake, piece: &Piece) -> String {
    let mut seat = &piece.seat.on;
    for _ in 0..cake.design.pieces.len() {
        let Target::Piece(name) = seat else { break };
        let Some(under) = cake.design.pieces.iter().find(|other| other.name == *name) else { break };
        seat = &under.seat.on;
    }
    match seat {
        Target::Tier(name) => name.clone(),
        Target::Board | Target::Piece(_) => "the board".to_owned(),
    }
}

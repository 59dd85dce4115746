//! A piece: what all kinds have in common.

use super::course::STUCK_WITH;
use super::pieces::{self, KINDS};
use super::{Bound, Fallback, Field, Form, Kind, Names, Rule, Shape};
use crate::design::model::{self, At, Piece, Seat, Surface, Target};
use crate::design::tree::{Record, Table, words};
use crate::measure::{Angle, Length, PlanPoint, TapePoint};

/// `[[piece]]`.
pub(super) static PIECE: Shape = Shape {
    name: "piece",
    meaning: "Anything placed on the cake or the board.",
    fields: &[
        Field::must("name", Kind::Text(Form::Name), "Unlike that of any other tier or piece."),
        Field::must("seat", Kind::Table(&SEAT), "Where it sits."),
        Field::or("at", Kind::Table(&AT), Fallback::Table, "Its place on the seat; the centre when left out."),
        Field::or(
            "turn",
            Kind::Angle,
            Fallback::Number(0.0),
            "Counter-clockwise; seen from above, on a side from in front.",
        ),
        Field::may("dry", Kind::Hours, "How long it dries, where the person knows better than the table."),
        STUCK_WITH,
        Field::or("hidden", Kind::Truth, Fallback::No, "Left out of everything."),
        Field::locked(),
    ],
    kinds: KINDS,
    rules: &[Rule::BySurface(&["at", "over"])],
};

static SEAT: Shape = Shape {
    name: "seat",
    meaning: "Where a piece sits.",
    fields: &[
        Field::must("on", Kind::Name(Names::Seat), "A tier, another piece, or board."),
        Field::must("surface", Kind::Word(Surface::WORDS), "The top or side of a tier or piece, or the board."),
    ],
    kinds: &[],
    rules: &[],
};

static AT: Shape = Shape {
    name: "at",
    meaning: "A place: x and z on a top or the board, along and up on a side.",
    fields: &[
        Field::may("x", Kind::Length(Bound::Any), "To the customer's right of the centre."),
        Field::may("z", Kind::Length(Bound::Any), "Towards the customer from the centre."),
        Field::may("along", Kind::Length(Bound::Any), "Along the tape, to the right of front centre."),
        Field::may("up", Kind::Length(Bound::Any), "Above the tier's foot."),
    ],
    kinds: &[],
    rules: &[],
};

words!(Surface { Top: "top", Side: "side", Board: "board" });

impl Record for Piece {
    fn from_table(table: &Table) -> Option<Self> {
        let (seat, at) = (table.table("seat")?, table.table("at")?);
        let surface = seat.take("surface")?;
        let place = |key| at.take::<Option<Length>>(key).map(Option::unwrap_or_default);
        Some(Self {
            name: table.take("name")?,
            seat: Seat { on: target(seat.take("on")?), surface },
            at: match surface {
                Surface::Side => At::Tape(TapePoint { along: place("along")?, up: place("up")? }),
                Surface::Top | Surface::Board => At::Plan(PlanPoint { x: place("x")?, z: place("z")? }),
            },
            turn: table.take("turn")?,
            tilt: table.take::<Option<Angle>>("tilt")?.unwrap_or_default(),
            form: pieces::form(table)?,
            dry_hours: table.take("dry")?,
            stuck_with: table.take("stuck_with")?,
            hidden: table.take("hidden")?,
            locked: table.take("locked")?,
        })
    }

    fn to_table(&self) -> Table {
        let mut table = pieces::table(&self.form);
        let mut seat = Table::default();
        seat.put("on", &self.seat.on.word().to_owned());
        seat.put("surface", &self.seat.surface);
        let mut at = Table::default();
        match self.at {
            At::Plan(PlanPoint { x, z }) => {
                at.put("x", &x);
                at.put("z", &z);
            }
            At::Tape(TapePoint { along, up }) => {
                at.put("along", &along);
                at.put("up", &up);
            }
        }
        table.put("kind", &self.form.kind().to_owned());
        table.put("name", &self.name);
        table.put("seat", &seat);
        table.put("at", &at);
        table.put("turn", &self.turn);
        // A ball and a scatter look the same however they are tilted, and have no such key.
        if !matches!(self.form, model::Form::Ball(_) | model::Form::Scatter(_)) {
            table.put("tilt", &self.tilt);
        }
        table.put("dry", &self.dry_hours);
        table.put("stuck_with", &self.stuck_with);
        table.put("hidden", &self.hidden);
        table.put("locked", &self.locked);
        table
    }
}

/// What a seat names. Which names are tiers and which are pieces is only known once the whole design is read; until
/// then every name but the board's counts as a tier.
fn target(name: String) -> Target {
    if name == "board" { Target::Board } else { Target::Tier(name) }
}

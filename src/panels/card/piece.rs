//! The card of a piece.

use egui::{ComboBox, Ui};

use super::blanks;
use super::rows::Rows;
use super::{named, title, wish};
use crate::cake::{Cake, CakeTier};
use crate::design::model::{At, Form, Piece, Seat, Surface, Target};
use crate::design::{Design, Field, blanks_of, filled_in_piece, shape_of};
use crate::edits::{Edit, PieceEdit, seat_words};
use crate::measure::{PlanPoint, TapePoint, show_length};
use crate::panels::signs::muted;
use crate::panels::typing::name as heard_as;
use crate::panels::{ForArt, Look, Memo, Wish};

/// Keys that have rows of their own, or are the stack's.
const ELSEWHERE: [&str; 4] = ["name", "seat", "hidden", "locked"];

pub(super) fn piece(ui: &mut Ui, (look, memo): (&Look<'_>, &mut Memo), name: &str, wishes: &mut Vec<Wish>) {
    let design = look.bench.design();
    let Some(piece) = design.pieces.iter().find(|piece| piece.name == name) else { return };
    title(ui, name, piece.form.kind());
    if piece.locked {
        muted(ui, "Locked: unlock it in the list to change it");
    }
    named::rename(ui, (look, &mut memo.fields), (name, &|to| Edit::piece(name, PieceEdit::Rename(to))), wishes);
    facts(ui, look, name);
    seat(ui, design, piece, wishes);
    let Some(shape) = shape_of("piece") else { return };
    let table = blanks_of(piece);
    let mut rows = Rows::new(design, &mut memo.fields, format!("piece {name}"));
    rows.beside = beside(look.bench.cake(), piece);
    let shown = |field: &Field| !ELSEWHERE.contains(&field.key) && is_its_own(&piece.form, field.key);
    let change = blanks::table(ui, &mut rows, (shape, &table), &shown);
    if rows.wants_art {
        memo.dialogs.choose_picture(ForArt::Piece(name.to_owned()));
    }
    if let Some(change) = change {
        let settled = look.bench.settled();
        let edit = |table| {
            let old = settled.pieces.iter().find(|piece| piece.name == name)?;
            Some(difference(old, &filled_in_piece(table, &design.tiers)?))
        };
        wish((settled, &mut memo.fields), change, edit, wishes);
    }
}

/// A scatter lies where its stretch is.
fn is_its_own(form: &Form, key: &str) -> bool {
    !(matches!(form, Form::Scatter(_)) && key == "at")
}

/// What makes one piece of another, as edits.
fn difference(old: &Piece, new: &Piece) -> Edit {
    let mut edits = Vec::new();
    if old.form != new.form {
        edits.push(PieceEdit::Form(Box::new(new.form.clone())));
    }
    if old.seat != new.seat || old.at != new.at {
        edits.push(PieceEdit::Move(new.seat.clone(), new.at));
    }
    if old.turn != new.turn {
        edits.push(PieceEdit::Turn(new.turn));
    }
    if old.tilt != new.tilt {
        edits.push(PieceEdit::Tilt(new.tilt));
    }
    if old.dry_hours != new.dry_hours {
        edits.push(PieceEdit::Dry(new.dry_hours));
    }
    let edits: Vec<Edit> = edits.into_iter().map(|edit| Edit::piece(&old.name, edit)).collect();
    match <[Edit; 1]>::try_from(edits) {
        Ok([one]) => one,
        Err(edits) => Edit::Several(edits),
    }
}

/// Its size as made, and its mass.
fn facts(ui: &mut Ui, look: &Look<'_>, name: &str) {
    let cake = look.bench.cake();
    let Some(placed) = cake.pieces.iter().find(|placed| cake.designed(placed).is_some_and(|piece| piece.name == name))
    else {
        return;
    };
    let size = placed.measure.size;
    let [width, height, depth] =
        [size.width, size.height, size.depth].map(|length| show_length(length, cake.design.unit));
    let mass = crate::kitchen::piece_mass(&cake.design, placed);
    muted(ui, format!("As made: {width} wide, {height} high, {depth} deep, about {mass:.0} g"));
}

/// Where it sits, to be chosen among all seats.
fn seat(ui: &mut Ui, design: &Design, piece: &Piece, wishes: &mut Vec<Wish>) {
    ui.horizontal_wrapped(|ui| {
        ui.label("Sits");
        let shown =
            ComboBox::from_id_salt(("seat", &piece.name)).selected_text(seat_words(&piece.seat)).show_ui(ui, |ui| {
                for seat in seats(design, piece) {
                    if ui.selectable_label(seat == piece.seat, seat_words(&seat)).clicked() && seat != piece.seat {
                        let at = place_on(&seat, piece);
                        wishes.push(Wish::Edit(Edit::piece(&piece.name, PieceEdit::Move(seat, at))));
                    }
                }
            });
        heard_as(ui, &shown.response, "Sits");
    });
}

/// Every seat there is for a piece: the board, tops and sides of tiers, plaques, and what it sits on now.
fn seats(design: &Design, piece: &Piece) -> Vec<Seat> {
    let board = Seat { on: Target::Board, surface: Surface::Board };
    let tiers = design.tiers.iter().flat_map(|tier| {
        [Surface::Top, Surface::Side].map(|surface| Seat { on: Target::Tier(tier.name.clone()), surface })
    });
    let plaques = design
        .pieces
        .iter()
        .filter(|other| matches!(other.form, Form::Plaque(_)) && other.name != piece.name && !other.hidden);
    let plaques = plaques.map(|other| Seat { on: Target::Piece(other.name.clone()), surface: Surface::Top });
    let mut seats: Vec<Seat> = [board].into_iter().chain(tiers).chain(plaques).collect();
    if !seats.contains(&piece.seat) {
        seats.push(piece.seat.clone());
    }
    seats
}

/// Its place on another seat: the same where it is of the same kind, else in the middle.
fn place_on(seat: &Seat, piece: &Piece) -> At {
    match (seat.surface, piece.at) {
        (Surface::Side, At::Tape(at)) => At::Tape(at),
        (Surface::Side, At::Plan(_)) => At::Tape(TapePoint::default()),
        (_, At::Plan(at)) => At::Plan(at),
        (_, At::Tape(_)) => At::Plan(PlanPoint::default()),
    }
}

/// The tier that a piece is seen with: the one that carries it, else the lowest.
fn beside<'a>(cake: &'a Cake, piece: &Piece) -> Option<&'a CakeTier> {
    let mut on = &piece.seat.on;
    for _ in 0..cake.design.pieces.len() {
        let Target::Piece(name) = on else { break };
        let Some(carrier) = cake.design.pieces.iter().find(|piece| piece.name == *name) else { break };
        on = &carrier.seat.on;
    }
    match on {
        Target::Tier(name) => cake.tier(name),
        Target::Board | Target::Piece(_) => cake.tiers.first(),
    }
}

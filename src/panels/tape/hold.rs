//! Choosing and dragging on the tape.

use std::sync::Arc;

use egui::{Key, PointerButton, Response, Ui};

use super::Onto;
use crate::cake::Cake;
use crate::edits::choose::{Choice, Grip, Thing, Touch, handle_on_tape, handles, on_tape};
use crate::edits::drag::{Drag, Manner, Pointer, World};
use crate::edits::snap::readout;
use crate::measure::{Length, TapePoint};
use crate::panels::{Look, Memo, Wish};
use crate::proof::tape::Unrolled;
use crate::wraps::WrapPlan;

/// How near the pointer must be to what it takes hold of, points.
const REACH: f64 = 7.0;

/// A drag on the tape, with the cake as it was when it began.
#[derive(Debug)]
pub(in crate::panels) struct TapeDrag {
    drag: Drag,
    tier: String,
    cake: Arc<Cake>,
    plans: Arc<Vec<WrapPlan>>,
}

pub(super) fn pointer(
    ui: &Ui,
    (look, memo): (&Look<'_>, &mut Memo),
    (index, side, onto): (usize, &Unrolled, Onto),
    (response, wishes): (&Response, &mut Vec<Wish>),
) {
    let cake = look.bench.cake();
    let Some(tier) = cake.tiers.get(index).map(|tier| tier.name.clone()) else { return };
    let reach = Length::mm(REACH / (onto.per_mm * side.scale));
    let at = |place: egui::Pos2| side.reading(onto.page(place));
    if memo.tape_drag.is_some() {
        follow(ui, memo, (response, reach), (&at, wishes));
        return;
    }
    let pressed =
        ui.input(|input| input.pointer.press_origin()).filter(|_| response.drag_started_by(PointerButton::Primary));
    if let Some(place) = pressed.map(at) {
        grab(look, memo, (&tier, place, reach), wishes);
    } else if let Some(place) = response.interact_pointer_pos().filter(|_| response.clicked()).map(at) {
        let choice = side.holds(place).then(|| on_tape(cake, look.bench.plans(), (&tier, place), reach)).flatten();
        wishes.push(Wish::Choose(choice.map(|choice| choice.thing)));
    } else if let Some(place) = response.hover_pos().map(at).filter(|place| side.holds(*place)) {
        hover(ui, look, (&tier, place, reach), response);
    }
}

/// What lies under the pointer, in words.
fn hover(ui: &Ui, look: &Look<'_>, (tier, place, reach): (&str, TapePoint, Length), response: &Response) {
    let Some(choice) = on_tape(look.bench.cake(), look.bench.plans(), (tier, place), reach) else { return };
    if matches!(choice.thing, Thing::Piece(_) | Thing::Seam(..)) {
        ui.ctx().set_cursor_icon(egui::CursorIcon::Grab);
    }
    let words = match &choice.thing {
        Thing::Piece(name) => readout(look.bench.cake(), name).map(|readout| format!("“{name}”: {readout}")),
        Thing::Seam(name, _) => Some(format!("a seam of “{}”", name.course)),
        Thing::Board | Thing::Tier(_) | Thing::Course(_) => None,
    };
    if let Some(words) = words {
        response.clone().on_hover_text_at_pointer(words);
    }
}

fn grab(look: &Look<'_>, memo: &mut Memo, (tier, at, reach): (&str, TapePoint, Length), wishes: &mut Vec<Wish>) {
    let (cake, plans) = (Arc::clone(look.bench.cake()), Arc::clone(look.bench.plans()));
    let Some((choice, grip)) = taken(look, (tier, at, reach)) else { return };
    wishes.push(Wish::Choose(Some(choice.thing.clone())));
    let touch = Touch::default();
    let world = World { cake: &cake, plans: &plans, touch: &touch };
    let pointer = Pointer::Tape(tier.to_owned(), at);
    match Drag::grab(world, &choice, grip, &pointer) {
        Ok(drag) => memo.tape_drag = Some(TapeDrag { drag, tier: tier.to_owned(), cake, plans }),
        Err(refusal) => memo.tape_snapped = vec![refusal.to_string()],
    }
}

/// What the pointer takes hold of: a handle of what is chosen, else what lies there.
fn taken(look: &Look<'_>, (tier, at, reach): (&str, TapePoint, Length)) -> Option<(Choice, Grip)> {
    let cake = look.bench.cake();
    let mut choice = on_tape(cake, look.bench.plans(), (tier, at), reach)?;
    if let Some(Thing::Piece(name)) = look.bench.chosen()
        && let Some(handle) = handle_on_tape(&handles(cake, name), at, reach)
    {
        choice.thing = Thing::Piece(name.clone());
        choice.at = handle.at;
        return Some((choice, handle.grip));
    }
    Some((choice, Grip::Move))
}

fn follow(
    ui: &Ui,
    memo: &mut Memo,
    (response, reach): (&Response, Length),
    (at, wishes): (&dyn Fn(egui::Pos2) -> TapePoint, &mut Vec<Wish>),
) {
    let Some(held) = &mut memo.tape_drag else { return };
    ui.ctx().set_cursor_icon(egui::CursorIcon::Grabbing);
    let (escape, free, fine) =
        ui.input(|input| (input.key_pressed(Key::Escape), input.modifiers.command, input.modifiers.shift));
    if escape {
        memo.tape_drag = None;
        memo.tape_snapped.clear();
        wishes.push(Wish::Cancel);
        return;
    }
    if let Some(place) = response.interact_pointer_pos().filter(|_| response.dragged()) {
        let touch = Touch::default();
        let world = World { cake: &held.cake, plans: &held.plans, touch: &touch };
        let strength = if free { Length::ZERO } else { reach };
        let pointer = Pointer::Tape(held.tier.clone(), at(place));
        if let Some(step) = held.drag.to(world, &pointer, Manner { strength, is_fine: fine }) {
            memo.tape_snapped = step.snapped;
            wishes.push(Wish::Hold(step.edit));
        }
    }
    if response.drag_stopped() || !ui.input(|input| input.pointer.any_down()) {
        memo.tape_drag = None;
        memo.tape_snapped.clear();
        wishes.push(Wish::Drop);
    }
}

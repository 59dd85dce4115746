//! What can be added: a tier, a course of every kind, a piece of every kind, with first sizes for this cake.

use egui::Ui;

use crate::design::model::pieces::SolidForm;
use crate::design::model::{Seat, Surface, Target};
use crate::edits::choose::Thing;
use crate::edits::{Edit, NewCourse, NewKind, NewPiece, TierEdit, WholeEdit};
use crate::panels::{ForArt, Look, Memo, Wish};

/// The button that adds, and its list.
pub fn adding(ui: &mut Ui, look: &Look<'_>, memo: &mut Memo, wishes: &mut Vec<Wish>) {
    let tier = tier_of(look);
    let on = |surface: Surface| Seat { on: Target::Tier(tier.clone()), surface };
    let button = ui.menu_button("Add…", |ui| {
        ui.set_min_width(ui.spacing().menu_width * 0.5);
        pieces(ui, (look, memo), &on, wishes);
        ui.separator();
        courses(ui, memo, &tier, wishes);
        ui.separator();
        if ui.button("Tier on top").clicked() {
            wishes.push(Wish::Edit(Edit::Whole(WholeEdit::AddTier(usize::MAX))));
            ui.close();
        }
        if ui.button("Tier underneath").clicked() {
            wishes.push(Wish::Edit(Edit::Whole(WholeEdit::AddTier(0))));
            ui.close();
        }
    });
    button.response.on_hover_text(format!("To “{tier}”, or to what is chosen"));
}

/// The tier that something is added to: that of what is chosen, else the topmost.
fn tier_of(look: &Look<'_>) -> String {
    let design = look.bench.design();
    let top = || design.tiers.last().map(|tier| tier.name.clone()).unwrap_or_default();
    match look.bench.chosen() {
        Some(Thing::Tier(name)) => name.clone(),
        Some(Thing::Course(name) | Thing::Seam(name, _)) => name.tier.clone(),
        Some(Thing::Piece(name)) => {
            let piece = design.pieces.iter().find(|piece| piece.name == *name);
            match piece.map(|piece| &piece.seat.on) {
                Some(Target::Tier(name)) => name.clone(),
                _ => top(),
            }
        }
        Some(Thing::Board) | None => top(),
    }
}

fn pieces(ui: &mut Ui, (look, memo): (&Look<'_>, &mut Memo), on: &dyn Fn(Surface) -> Seat, wishes: &mut Vec<Wish>) {
    let top = on(Surface::Top);
    let Target::Tier(tier) = &top.on else { return };
    if ui.button("Topper from a picture…").clicked() {
        memo.dialogs.choose_picture(ForArt::NewTopper(tier.clone()));
        ui.close();
    }
    if ui.button("Plaque from a picture…").clicked() {
        memo.dialogs.choose_picture(ForArt::NewPlaque(tier.clone()));
        ui.close();
    }
    let title = &look.bench.design().title;
    let text = if title.trim().is_empty() { "Happy birthday" } else { title };
    let board = Seat { on: Target::Board, surface: Surface::Board };
    let side = on(Surface::Side);
    let kinds = [
        ("Plaque on top", NewKind::Plaque(None), &top),
        ("Sign on the side", NewKind::Sign(text.to_owned()), &side),
        ("Bow on the side", NewKind::Bow, &side),
        ("Ball on top", NewKind::Ball, &top),
        ("Scatter of balls on the side", NewKind::Scatter, &side),
        ("Rope on the side", NewKind::Rope, &side),
        ("Pearls on the side", NewKind::Pearls, &side),
        ("Rod on the board", NewKind::Rod, &board),
        ("Candle on top", NewKind::Solid(SolidForm::Candle), &top),
        ("Figure on top", NewKind::Solid(SolidForm::Figure), &top),
        ("Flowers on top", NewKind::Solid(SolidForm::Flowers), &top),
    ];
    for (words, kind, seat) in kinds {
        if ui.button(words).clicked() {
            let new = NewPiece { kind, seat: seat.clone(), at: None };
            wishes.push(Wish::Edit(Edit::Whole(WholeEdit::AddPiece(new))));
            ui.close();
        }
    }
}

fn courses(ui: &mut Ui, memo: &mut Memo, tier: &str, wishes: &mut Vec<Wish>) {
    if ui.button("Wrap from a picture…").clicked() {
        memo.dialogs.choose_picture(ForArt::NewWrap(tier.to_owned()));
        ui.close();
    }
    let kinds = [
        ("Rope round the side", NewCourse::Rope),
        ("Pearls round the side", NewCourse::Pearls),
        ("Band round the side", NewCourse::Band),
        ("Bare course", NewCourse::Bare),
    ];
    for (words, new) in kinds {
        if ui.button(words).clicked() {
            wishes.push(Wish::Edit(Edit::tier(tier, TierEdit::AddCourse(new, usize::MAX))));
            ui.close();
        }
    }
}

//! The card: what is chosen, with its sizes, place, finish, picks and findings, all to be changed.
//!
//! One file a kind of part says what of it is shown and how its table becomes an edit; [`blanks`] shows the rows from the
//! document's own description, so that a key which is added there appears here.

mod blanks;
mod course;
mod findings;
mod named;
mod piece;
mod rows;
mod tier;
mod value;
mod whole;

use std::sync::Arc;

use egui::{RichText, ScrollArea, Ui};

use self::blanks::{Act, TableChange};
use super::signs::muted;
use super::theme::strong;
use super::typing::Fields;
use super::{Look, Memo, Wish, words};
use crate::design::{Design, Table};
use crate::edits::choose::Thing;
use crate::edits::{Edit, apply};

/// Shows the card of what is chosen; with nothing chosen, that of the whole design.
pub fn card(ui: &mut Ui, look: &Look<'_>, memo: &mut Memo) -> Vec<Wish> {
    let chosen = look.bench.chosen().cloned();
    if memo.card_of != chosen {
        memo.fields.forget();
        memo.card_of.clone_from(&chosen);
    }
    let mut wishes = Vec::new();
    ScrollArea::vertical().id_salt("card").auto_shrink(false).show(ui, |ui| {
        match &chosen {
            None => whole::design(ui, look, memo, &mut wishes),
            Some(Thing::Board) => whole::board(ui, look, memo, &mut wishes),
            Some(Thing::Tier(name)) => tier::tier(ui, (look, memo), name, &mut wishes),
            Some(Thing::Course(name)) => course::course(ui, (look, memo), name, &mut wishes),
            Some(Thing::Seam(name, along)) => course::seam(ui, look, (name, *along), &mut wishes),
            Some(Thing::Piece(name)) => piece::piece(ui, (look, memo), name, &mut wishes),
        }
        findings::findings(ui, look, chosen.as_ref(), &mut wishes);
    });
    wishes
}

/// The title of a card: what it is, and which kind.
fn title(ui: &mut Ui, name: &str, kind: &str) {
    ui.horizontal_wrapped(|ui| {
        let size = ui.text_style_height(&egui::TextStyle::Heading) * 0.82;
        ui.label(RichText::new(name).font(egui::FontId::new(size, strong())));
        muted(ui, kind);
    });
}

/// Turns a change of a part's table into wishes; marks the field where the design can't be so.
fn wish(
    (design, fields): (&Arc<Design>, &mut Fields),
    change: TableChange,
    edit: impl FnOnce(Table) -> Option<Edit>,
    wishes: &mut Vec<Wish>,
) {
    match change.act {
        Act::Kept => wishes.push(Wish::Drop),
        Act::GivenUp => wishes.push(Wish::Cancel),
        Act::Now => wishes.extend(edit(change.table).map(Wish::Edit)),
        Act::Typing(id) => match edit(change.table).map(|edit| (apply(design, &edit), edit)) {
            Some((Ok(_), edit)) => {
                fields.mark(id, None);
                wishes.push(Wish::Hold(edit));
            }
            Some((Err(refusal), _)) => fields.mark(id, Some(words::refused(&refusal))),
            None => fields.mark(id, Some(words::UNFIT.to_owned())),
        },
    }
}

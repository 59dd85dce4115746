//! The cards of the board, and of the design as a whole: order, viewing, transport, kitchen, its own finishes.

use egui::{CollapsingHeader, Ui};

use super::blanks;
use super::rows::Rows;
use super::{named, title, wish};
use crate::design::model::{Board, Kitchen, Order, Proof, Transport, Viewing};
use crate::design::{Record, Table, Value, blanks_of, filled_in, shape_of, shape_of_all};
use crate::edits::{Edit, WholeEdit};
use crate::measure::Unit;
use crate::panels::signs::muted;
use crate::panels::{Look, Memo, Wish, words};

pub(super) fn board(ui: &mut Ui, look: &Look<'_>, memo: &mut Memo, wishes: &mut Vec<Wish>) {
    let design = look.bench.design();
    title(ui, "Board", design.board.shape.word());
    if let Some(work) = look.bench.work() {
        let needed = crate::measure::Length::mm(work.facts.board.needed);
        muted(ui, format!("This cake needs at least {}", crate::measure::show_length(needed, design.unit)));
    }
    part(ui, (look, memo), ("board", &design.board, |board: Board| WholeEdit::Board(board)), wishes);
}

pub(super) fn design(ui: &mut Ui, look: &Look<'_>, memo: &mut Memo, wishes: &mut Vec<Wish>) {
    let design = look.bench.design();
    title(ui, "The design", "choose something on the cake, or in the list");
    name_and_unit(ui, (look, memo), wishes);
    section(ui, "order", true, |ui| {
        part(ui, (look, memo), ("order", &design.order, |order: Order| WholeEdit::Order(order)), wishes);
    });
    named::all(ui, look, memo, wishes);
    section(ui, "viewing", false, |ui| {
        part(ui, (look, memo), ("viewing", &design.viewing, |viewing: Viewing| WholeEdit::Viewing(viewing)), wishes);
    });
    section(ui, "transport", false, |ui| {
        part(ui, (look, memo), ("transport", &design.transport, |to: Transport| WholeEdit::Transport(to)), wishes);
    });
    section(ui, "kitchen", false, |ui| {
        part(ui, (look, memo), ("kitchen", &design.kitchen, |kitchen: Kitchen| WholeEdit::Kitchen(kitchen)), wishes);
    });
    section(ui, "proof", false, |ui| {
        part(ui, (look, memo), ("proof", &design.proof, |proof: Proof| WholeEdit::Proof(proof)), wishes);
    });
}

fn section(ui: &mut Ui, key: &'static str, open: bool, show: impl FnOnce(&mut Ui)) {
    CollapsingHeader::new(words::own(key)).id_salt(("whole", key)).default_open(open).show(ui, show);
}

/// The title, and the unit of everything shown.
fn name_and_unit(ui: &mut Ui, (look, memo): (&Look<'_>, &mut Memo), wishes: &mut Vec<Wish>) {
    let design = look.bench.design();
    let mut table = Table::default();
    table.set("title", Value::Text(design.title.clone()));
    table.set("unit", Value::Text(design.unit.word().to_owned()));
    let mut rows = Rows::new(design, &mut memo.fields, "design");
    let change =
        blanks::table(ui, &mut rows, (shape_of_all(), &table), &|field| ["title", "unit"].contains(&field.key));
    if let Some(change) = change {
        let edit = |table: Table| {
            let title = table.text("title").unwrap_or_default().to_owned();
            let units = [Unit::Inch, Unit::Millimetre, Unit::Centimetre];
            let unit = units.into_iter().find(|unit| Some(unit.word()) == table.text("unit"))?;
            let edit = if unit == design.unit { WholeEdit::Title(title) } else { WholeEdit::Unit(unit) };
            Some(Edit::Whole(edit))
        };
        wish((look.bench.settled(), &mut memo.fields), change, edit, wishes);
    }
}

/// The blanks of one part of the whole.
fn part<T: Record>(
    ui: &mut Ui,
    (look, memo): (&Look<'_>, &mut Memo),
    (key, part, edit): (&'static str, &T, fn(T) -> WholeEdit),
    wishes: &mut Vec<Wish>,
) {
    let Some(shape) = shape_of(key) else { return };
    let table = blanks_of(part);
    let mut rows = Rows::new(look.bench.design(), &mut memo.fields, key);
    let change = blanks::table(ui, &mut rows, (shape, &table), &|_| true);
    if let Some(change) = change {
        let edit = |table| Some(Edit::Whole(edit(filled_in(table)?)));
        wish((look.bench.settled(), &mut memo.fields), change, edit, wishes);
    }
}

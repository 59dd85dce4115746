//! The stack: everything there is, in the order of the real cake. What stands on top comes first, the board last; the courses of a
//! tier stand in their order up its side, and every piece under what carries it.

mod add;
mod order;
mod row;

pub use add::adding;

use egui::{ScrollArea, Ui};

use self::order::{Kind, lines};
use super::signs::muted;
use super::{Look, Memo, Wish, words};

/// Shows the stack.
pub fn stack(ui: &mut Ui, look: &Look<'_>, memo: &mut Memo) -> Vec<Wish> {
    let mut wishes = Vec::new();
    super::signs::heading(ui, words::STACK);
    adding(ui, look, memo, &mut wishes);
    ui.separator();
    let lines = lines(look.bench.design());
    if !memo.is_asking() {
        row::keys(ui, look, &lines, &mut wishes);
    }
    let height = row::height(ui);
    ScrollArea::vertical().id_salt("stack").auto_shrink(false).show_rows(ui, height, lines.len(), |ui, range| {
        for line in lines.iter().skip(range.start).take(range.len()) {
            row::row(ui, (look, memo), (line, &lines), &mut wishes);
        }
    });
    if lines.iter().all(|line| !matches!(line.kind, Kind::Piece { .. })) {
        muted(ui, "Add a piece, or drop a picture on the cake.");
    }
    wishes
}

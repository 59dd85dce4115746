//! Messages: what was recovered, what could not be done, what another changed; each until it is read.

use egui::{Frame, RichText, Ui};

use super::signs::{muted, small};
use super::theme::palette;
use super::{Look, Wish};
use crate::edits::journal::State;

/// Whether there is anything to tell.
pub(super) fn has_something(look: &Look<'_>) -> bool {
    *look.desk.state == State::Conflict || !look.said.is_empty()
}

/// Shows the messages, the latest last; a conflict stays until it is settled.
pub fn told(ui: &mut Ui, look: &Look<'_>) -> Vec<Wish> {
    let mut wishes = Vec::new();
    if *look.desk.state == State::Conflict {
        note(ui, |ui| conflict(ui, &mut wishes));
    }
    for (number, said) in look.said.iter().enumerate() {
        note(ui, |ui| {
            ui.horizontal_wrapped(|ui| {
                ui.label(&said.words);
                if let Some(folder) = &said.folder
                    && ui.button("Open the folder").clicked()
                {
                    wishes.push(Wish::Reveal(folder.clone()));
                }
                if small(ui, "✖", "Dismiss the message").clicked() {
                    wishes.push(Wish::Dismiss(number));
                }
            });
            if !said.mend.is_empty() {
                muted(ui, &said.mend);
            }
        });
    }
    wishes
}

fn note(ui: &mut Ui, show: impl FnOnce(&mut Ui)) {
    let palette = palette(ui);
    let frame = Frame::new().fill(palette.sheet).stroke((1.0, palette.accent)).corner_radius(4).inner_margin(7);
    frame.show(ui, show);
}

fn conflict(ui: &mut Ui, wishes: &mut Vec<Wish>) {
    ui.label(RichText::new("This design was changed elsewhere while it was open here.").strong());
    muted(
        ui,
        "Nothing is written over. Choose which one to go on with; the other stays on the disk, or can be undone.",
    );
    ui.horizontal_wrapped(|ui| {
        if ui.button("Go on with theirs").on_hover_text("One step; undo brings yours back").clicked() {
            wishes.push(Wish::TakeTheirs);
        }
        if ui
            .button("Keep mine beside it")
            .on_hover_text("Yours goes into a file of its own in the same folder")
            .clicked()
        {
            wishes.push(Wish::KeepMine);
        }
    });
}

//! The sheet of keys, at F1.

use egui::{Align2, Grid, Id, Key, Ui, Vec2, Window};

use super::signs::heading;
use super::{Memo, words};

/// Keys that belong together: a heading, and each key with what it does.
type Section = (&'static str, &'static [(&'static str, &'static str)]);

/// What each key does, in two columns; the one list that the sheet is made from.
const KEYS: [&[Section]; 2] = [
    &[
        (
            "The design",
            &[
                ("Ctrl+Z, Ctrl+Y", "Undo, redo"),
                ("Ctrl+S", "Save at once (it saves itself, too)"),
                ("Ctrl+O", "Open another design"),
                ("F8", "Go to the next finding"),
                ("F1", "This sheet"),
            ],
        ),
        (
            "Looking",
            &[
                ("1 2 3 4", "Front, right, back, left"),
                ("5", "Above"),
                ("0", "As the customer sees it"),
                ("Drag empty space", "Walk round the cake"),
                ("Wheel", "Come closer"),
                ("Double-click", "Look straight at a place"),
            ],
        ),
    ],
    &[
        (
            "What is chosen",
            &[
                ("Page up, Page down", "Choose the next above, below"),
                ("Enter", "Look straight at it"),
                ("Arrow keys", "Nudge it by 1/16 in or 1 mm; with Shift a ruler’s step"),
                ("Ctrl+D, Ctrl+Shift+D", "Copy it beside; to the other side"),
                ("Ctrl+M", "Mirror it"),
                ("H, L", "Hide, lock"),
                ("Alt+↑, Alt+↓", "Put a course or tier higher, lower"),
                ("Del", "Delete it"),
                ("Escape", "Give up what is under way; choose nothing"),
            ],
        ),
        (
            "While dragging",
            &[
                ("Ctrl", "Held: nothing snaps"),
                ("Shift", "Held: a quarter of the way, for fine work"),
                ("Escape", "Put it back"),
            ],
        ),
    ],
];

/// How wide the window must be for both columns, in heights of a line.
const TWO_COLUMNS: f32 = 56.0;

/// Shows the sheet while it is open; F1 opens and closes it.
pub fn keys(ui: &mut Ui, memo: &mut Memo) {
    if ui.input_mut(|input| input.consume_key(egui::Modifiers::NONE, Key::F1)) && !memo.is_asking() {
        memo.keys_open = !memo.keys_open;
        egui::Popup::close_all(ui.ctx());
    }
    let mut open = memo.keys_open;
    let room = ui.ctx().content_rect().size();
    let line = ui.text_style_height(&egui::TextStyle::Body);
    let window = Window::new(words::KEYS).id(Id::new("keys")).open(&mut open).collapsible(false).resizable(false);
    window.anchor(Align2::CENTER_CENTER, Vec2::ZERO).vscroll(true).show(ui.ctx(), |ui| {
        ui.set_max_height(room.y - 5.0 * line);
        if room.x < TWO_COLUMNS * line {
            KEYS.iter().copied().flatten().for_each(|section| sheet(ui, section));
        } else {
            ui.horizontal_top(|ui| {
                for column in &KEYS {
                    ui.vertical(|ui| column.iter().for_each(|section| sheet(ui, section)));
                    ui.add_space(line);
                }
            });
        }
    });
    memo.keys_open = open;
}

fn sheet(ui: &mut Ui, (section, keys): &(&str, &[(&str, &str)])) {
    heading(ui, section);
    Grid::new(section).num_columns(2).show(ui, |ui| {
        for (key, does) in *keys {
            ui.strong(*key);
            ui.label(*does);
            ui.end_row();
        }
    });
}

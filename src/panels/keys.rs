//! The sheet of keys, at F1.

use egui::{Grid, Id, Key, Ui, Window};

use super::signs::heading;
use super::{Memo, words};

/// What each key does; the one list that the sheet is made from.
pub const KEYS: [(&str, &[(&str, &str)]); 4] = [
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
];

/// Shows the sheet while it is open; F1 opens and closes it.
pub fn keys(ui: &mut Ui, memo: &mut Memo) {
    if ui.input_mut(|input| input.consume_key(egui::Modifiers::NONE, Key::F1)) {
        memo.keys_open = !memo.keys_open;
        egui::Popup::close_all(ui.ctx());
    }
    let mut open = memo.keys_open;
    Window::new(words::KEYS).id(Id::new("keys")).open(&mut open).collapsible(false).show(ui.ctx(), |ui| {
        for (section, keys) in KEYS {
            heading(ui, section);
            Grid::new(section).num_columns(2).show(ui, |ui| {
                for (key, does) in keys {
                    ui.strong(*key);
                    ui.label(*does);
                    ui.end_row();
                }
            });
        }
    });
    memo.keys_open = open;
}

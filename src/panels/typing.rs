//! What fields hold while they are typed in: nonsense stays in its field, marked and explained, until it is mended or given up.

use std::collections::HashMap;

use egui::{Id, Key, Response, TextEdit, Ui};

use super::theme::palette;

/// The texts of fields that hold something else than the design.
#[derive(Debug, Default)]
pub(super) struct Fields {
    held: HashMap<Id, Held>,
    /// What the field that was left last said, where that was right.
    left: Option<(Id, String)>,
}

#[derive(Clone, Debug, Default)]
struct Held {
    text: String,
    wrong: Option<String>,
}

/// A blank to be typed in.
#[derive(Clone, Copy, Debug)]
pub(super) struct Blank<'a> {
    /// What it is, for those who hear it: no other field in sight is called the same.
    pub name: &'a str,
    /// What the design has there, as it would be typed.
    pub value: &'a str,
    /// What it means.
    pub meaning: &'a str,
    /// How wide it is, in letters of the usual size.
    pub letters: f32,
    /// What stands in it while it is empty.
    pub ghost: &'a str,
    /// How many lines it has room for; Enter begins a new one where there are several.
    pub lines: usize,
}

/// What became of a field in this frame.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Typed {
    /// Nothing.
    Still,
    /// It says this now; the field is still being typed in.
    Says(String),
    /// The field was left: what it showed last is to be kept.
    Left,
    /// Escape: as it was before.
    GivenUp,
}

impl Fields {
    /// Lets go of everything that is held: something else is chosen.
    pub(super) fn forget(&mut self) {
        self.held.clear();
    }

    /// Marks a field as holding nonsense, or as being right.
    pub(super) fn mark(&mut self, id: Id, wrong: Option<String>) {
        if let Some(held) = self.held.get_mut(&id) {
            held.wrong = wrong;
        }
    }

    /// Keeps what a field says, whatever the design has.
    pub(super) fn keep(&mut self, id: Id, text: String) {
        self.held.entry(id).or_default().text = text;
    }

    /// What a field says that was left, where that is right; it is let go of then.
    pub(super) fn take_right(&mut self, id: Id) -> Option<String> {
        self.left.take().filter(|(left, _)| *left == id).map(|(_, text)| text)
    }

    /// Shows a field. The caller judges what it says and [`Fields::mark`]s it.
    pub(super) fn line(&mut self, ui: &mut Ui, id: Id, blank: Blank<'_>) -> Typed {
        let mut text = self.held.get(&id).map_or_else(|| blank.value.to_owned(), |held| held.text.clone());
        let wrong = self.held.get(&id).and_then(|held| held.wrong.clone());
        let letter = ui.text_style_height(&egui::TextStyle::Body) * 0.56;
        let edit = match blank.lines {
            1 => TextEdit::singleline(&mut text),
            lines => TextEdit::multiline(&mut text).desired_rows(lines),
        };
        let mut edit = edit.id(id).desired_width(letter * blank.letters);
        if wrong.is_some() {
            edit = edit.text_color(palette(ui).stop);
        }
        if !blank.ghost.is_empty() {
            edit = edit.hint_text(blank.ghost);
        }
        let response = ui.add(edit);
        name(ui, &response, blank.name);
        if let Some(wrong) = wrong {
            ui.ctx().accesskit_node_builder(response.id, |node| {
                node.set_invalid(egui::accesskit::Invalid::True);
                node.set_description(wrong);
            });
        }
        let response = if blank.meaning.is_empty() { response } else { response.on_hover_text(blank.meaning) };
        let typed = self.settle(ui, (id, &response), text);
        if let Some(wrong) = self.held.get(&id).and_then(|held| held.wrong.clone()) {
            super::signs::complaint(ui, &wrong);
        }
        typed
    }

    fn settle(&mut self, ui: &Ui, (id, response): (Id, &Response), text: String) -> Typed {
        if response.changed() {
            self.held.insert(id, Held { text: text.clone(), wrong: None });
            return Typed::Says(text);
        }
        if response.lost_focus() {
            if ui.input(|input| input.key_pressed(Key::Escape)) {
                self.held.remove(&id);
                return Typed::GivenUp;
            }
            self.left = None;
            if self.held.get(&id).is_some_and(|held| held.wrong.is_none()) {
                self.left = self.held.remove(&id).map(|held| (id, held.text));
            }
            return Typed::Left;
        }
        Typed::Still
    }
}

/// Gives a widget its name for those who hear the window, and for tests.
pub(super) fn name(ui: &Ui, response: &Response, name: &str) {
    ui.ctx().accesskit_node_builder(response.id, |node| node.set_label(name));
}

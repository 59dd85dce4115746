//! The bar: the design's name, undo and redo, views, packs, and how the window looks.

use egui::containers::menu::{MenuButton, MenuConfig};
use egui::{PopupCloseBehavior, RichText, Ui};

use super::signs::{button, muted};
use super::theme::{Motion, SCALES, Scheme, Settings, strong};
use super::{Look, Memo, Pack, Wish, words};

/// How wide the window must be for everything in one row, in heights of a line.
const ONE_ROW: f32 = 72.0;

/// Shows the bar.
pub fn bar(ui: &mut Ui, look: &Look<'_>, memo: &mut Memo) -> Vec<Wish> {
    let mut wishes = Vec::new();
    let whole = ui.available_width();
    ui.horizontal_wrapped(|ui| {
        file(ui, (look, memo), &mut wishes);
        let title = &look.bench.design().title;
        let title = if title.trim().is_empty() { words::UNTITLED } else { title };
        let size = ui.text_style_height(&egui::TextStyle::Body) * 0.85;
        ui.label(RichText::new(title).font(egui::FontId::new(size, strong())));
        ui.separator();
        history(ui, look, &mut wishes);
        ui.separator();
        views(ui, whole, &mut wishes);
        ui.separator();
        let folder = look.desk.file.parent().unwrap_or(std::path::Path::new("."));
        for pack in [Pack::Proof, Pack::Kitchen] {
            let make = ui.add_enabled(look.making.is_none(), egui::Button::new(format!("{}…", pack.word())));
            if make.clicked() {
                memo.dialogs.make(pack, folder);
            }
        }
        settings(ui, look.settings, &mut wishes);
        if button(ui, "Keys", "Keys (F1)").clicked() {
            memo.keys_open = !memo.keys_open;
        }
    });
    wishes
}

fn file(ui: &mut Ui, (look, memo): (&Look<'_>, &mut Memo), wishes: &mut Vec<Wish>) {
    ui.menu_button("Design", |ui| {
        let mut done = false;
        if ui.add(egui::Button::new("Save now").shortcut_text("Ctrl+S")).clicked() {
            wishes.push(Wish::Save);
            done = true;
        }
        if ui.button("Save a copy…").clicked() {
            memo.dialogs.save_as("copy");
            done = true;
        }
        if ui.add(egui::Button::new("Open…").shortcut_text("Ctrl+O")).clicked() {
            memo.dialogs.open_design();
            done = true;
        }
        if ui.button("Back to the start").clicked() {
            wishes.push(Wish::Leave);
            done = true;
        }
        if ui.button("About the whole design").clicked() {
            wishes.push(Wish::Choose(None));
            done = true;
        }
        muted(ui, look.desk.file.display().to_string());
        if done {
            ui.close();
        }
    });
}

fn history(ui: &mut Ui, look: &Look<'_>, wishes: &mut Vec<Wish>) {
    let history = look.bench.history();
    for (label, verb, wish) in [(history.undo_label(), "Undo", Wish::Undo), (history.redo_label(), "Redo", Wish::Redo)]
    {
        let response = ui.add_enabled(label.is_some(), egui::Button::new(verb));
        let words = label.map_or_else(|| verb.to_owned(), |label| format!("{verb}: {label}"));
        if response.on_hover_text(words).clicked() {
            wishes.push(wish);
        }
    }
}

/// From where the cake is looked at; one button for all of them in a narrow window.
fn views(ui: &mut Ui, whole: f32, wishes: &mut Vec<Wish>) {
    let views = words::VIEW_KEYS.into_iter().filter_map(|(key, name, label)| Some((key, label, words::view(name)?)));
    if whole > ONE_ROW * ui.text_style_height(&egui::TextStyle::Body) {
        for (key, label, view) in views {
            if ui.button(label).on_hover_text(format!("Key {key}")).clicked() {
                wishes.push(Wish::View(view));
            }
        }
        return;
    }
    // What follows keeps its number, so that its menu stays open while the letters grow.
    ui.skip_ahead_auto_ids(views.clone().count().saturating_sub(1));
    ui.menu_button("Look from", |ui| {
        for (key, label, view) in views {
            if ui.add(egui::Button::new(label).shortcut_text(key.to_string())).clicked() {
                wishes.push(Wish::View(view));
            }
        }
    });
}

/// Light or dark, the size of the letters, motion; on the start page too.
pub(super) fn settings(ui: &mut Ui, now: Settings, wishes: &mut Vec<Wish>) {
    // Several things may be set one after the other: it stays until one clicks beside it.
    let stays = MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside);
    MenuButton::new("View").config(stays).ui(ui, |ui| {
        for scheme in [Scheme::Light, Scheme::Dark] {
            if ui.radio(now.scheme == scheme, scheme.word()).clicked() {
                wishes.push(Wish::Set(Settings { scheme, ..now }));
            }
        }
        ui.separator();
        ui.label(format!("Letters {} %", now.scale));
        ui.horizontal(|ui| {
            for (face, step) in [("Smaller", -10_i16), ("Larger", 10)] {
                let scale = now.scale.saturating_add_signed(step).clamp(SCALES.0, SCALES.1);
                if ui.add_enabled(scale != now.scale, egui::Button::new(face)).clicked() {
                    wishes.push(Wish::Set(Settings { scale, ..now }));
                }
            }
        });
        ui.separator();
        let mut reduced = now.motion == Motion::Reduced;
        if ui.checkbox(&mut reduced, "Nothing glides").changed() {
            let motion = if reduced { Motion::Reduced } else { Motion::Full };
            wishes.push(Wish::Set(Settings { motion, ..now }));
        }
    });
}

//! The start page: starter cakes with their pictures, designs that were open lately, open another, drop a folder.

use egui::{
    Align, Button, CentralPanel, Frame, Image, Layout, RichText, ScrollArea, TextureHandle, TextureOptions, Ui, vec2,
};

use super::bar::settings;
use super::look::Entrance;
use super::signs::{heading, muted, small};
use super::texture::texture;
use super::theme::{palette, strong};
use super::typing::name as heard_as;
use super::{Memo, Wish, words};
use crate::art::read_raster;
use crate::design::starters::{self, Starter};

/// Pictures of the starters, read one a frame.
#[derive(Default)]
pub(super) struct Pictures {
    read: Vec<(&'static str, Option<TextureHandle>)>,
}

impl std::fmt::Debug for Pictures {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "{} pictures of starters", self.read.len())
    }
}

impl Pictures {
    /// Reads the next picture that is missing.
    fn read_next(&mut self, ui: &Ui) {
        let next = starters::list().iter().find(|starter| self.read.iter().all(|(name, _)| *name != starter.name));
        let Some(starter) = next else { return };
        let picture = read_raster(starter.picture, starter.name).ok();
        let texture = picture.map(|picture| texture(ui.ctx(), starter.name, (&picture, TextureOptions::LINEAR)));
        self.read.push((starter.name, texture));
        ui.ctx().request_repaint();
    }

    fn of(&self, starter: &Starter) -> Option<&TextureHandle> {
        self.read.iter().find(|(name, _)| *name == starter.name)?.1.as_ref()
    }
}

/// Shows the start page.
pub fn start(ui: &mut Ui, entrance: &Entrance<'_>, memo: &mut Memo) -> Vec<Wish> {
    let mut wishes = Vec::new();
    if !super::theme::follow(ui.ctx(), entrance.settings) {
        return wishes;
    }
    memo.pictures.read_next(ui);
    let frame = Frame::new().fill(palette(ui).paper).inner_margin(24);
    CentralPanel::default().frame(frame).show(ui, |ui| {
        ScrollArea::vertical().id_salt("start").auto_shrink(false).show(ui, |ui| {
            head(ui, entrance, memo, &mut wishes);
            said(ui, entrance, &mut wishes);
            recent(ui, entrance, &mut wishes);
            heading(ui, words::BEGIN);
            let in_rows = Layout::left_to_right(Align::TOP).with_main_wrap(true);
            ui.with_layout(in_rows, |ui| {
                for starter in starters::list() {
                    one(ui, memo, starter);
                }
            });
        });
    });
    wishes.extend(dropped(ui, memo));
    wishes.extend(memo.dialogs.show(ui));
    super::keys::keys(ui, memo);
    wishes
}

fn head(ui: &mut Ui, entrance: &Entrance<'_>, memo: &mut Memo, wishes: &mut Vec<Wish>) {
    ui.horizontal_wrapped(|ui| {
        let size = ui.text_style_height(&egui::TextStyle::Heading) * 1.3;
        ui.label(RichText::new(words::PROGRAM).font(egui::FontId::new(size, strong())).color(palette(ui).accent));
        if ui.button("Open a design…").clicked() {
            memo.dialogs.open_design();
        }
        settings(ui, entrance.settings, wishes);
    });
    muted(ui, words::DROP_A_FOLDER);
}

fn said(ui: &mut Ui, entrance: &Entrance<'_>, wishes: &mut Vec<Wish>) {
    for (number, said) in entrance.said.iter().enumerate() {
        ui.horizontal_wrapped(|ui| {
            // What can be mended went wrong; the rest is good to know.
            if said.mend.is_empty() {
                muted(ui, &said.words);
            } else {
                ui.label(RichText::new(format!("✖ {}", said.words)).color(palette(ui).stop));
            }
            if small(ui, "✖", "Dismiss the message").clicked() {
                wishes.push(Wish::Dismiss(number));
            }
        });
        if !said.mend.is_empty() {
            muted(ui, &said.mend);
        }
    }
}

fn recent(ui: &mut Ui, entrance: &Entrance<'_>, wishes: &mut Vec<Wish>) {
    if entrance.recent.is_empty() {
        return;
    }
    heading(ui, words::GO_ON);
    for recent in entrance.recent {
        ui.horizontal_wrapped(|ui| {
            let title = if recent.title.trim().is_empty() { words::UNTITLED } else { &recent.title };
            if ui.link(title).clicked() {
                wishes.push(Wish::Open(recent.folder.clone()));
            }
            muted(ui, recent.folder.display().to_string());
        });
    }
}

/// One starter: its picture over its name; the whole is one button.
fn one(ui: &mut Ui, memo: &mut Memo, starter: &'static Starter) {
    let side = ui.text_style_height(&egui::TextStyle::Body) * 11.0;
    ui.allocate_ui_with_layout(vec2(side, side * 1.32), Layout::top_down(Align::Min), |ui| {
        ui.set_width(side);
        let button = match memo.pictures.of(starter) {
            Some(texture) => Button::image(Image::new(texture).fit_to_exact_size(vec2(side * 0.94, side * 0.94))),
            None => Button::new("…").min_size(vec2(side * 0.94, side * 0.94)),
        };
        let response = ui.add(button);
        heard_as(ui, &response, &format!("Begin with {}", words::starter(starter.name)));
        ui.strong(words::starter(starter.name));
        muted(ui, starter.meaning);
        if response.clicked() {
            memo.dialogs.begin(starter.name);
        }
    });
}

/// A folder or a design file that was dropped on the window; an open dialog takes what is dropped itself.
fn dropped(ui: &Ui, memo: &Memo) -> Option<Wish> {
    let path = ui.input(|input| input.raw.dropped_files.first().map(|file| file.path().to_owned()))?;
    (!memo.dialogs.is_open()).then_some(Wish::Open(path))
}

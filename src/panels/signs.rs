//! Small things that panels share: signs of severity, complaints, swatches, headings, buttons that are heard by name.

use egui::{RichText, Sense, StrokeKind, Ui, vec2};

use super::theme::{Palette, palette, strong, swatch};
use super::typing::name;
use crate::art::Colour;
use crate::findings::Severity;

/// The sign of a severity; each has its own form, so that colour is never needed.
pub(super) const fn sign(severity: Severity) -> &'static str {
    match severity {
        Severity::Stop => "✖",
        Severity::Warn => "▲",
        Severity::Note => "●",
    }
}

/// The colour of a severity.
pub(super) const fn ink(severity: Severity, palette: &Palette) -> egui::Color32 {
    match severity {
        Severity::Stop => palette.stop,
        Severity::Warn => palette.warn,
        Severity::Note => palette.muted,
    }
}

/// Says below a field what is wrong with it.
pub(super) fn complaint(ui: &mut Ui, words: &str) {
    ui.label(RichText::new(format!("✖ {words}")).color(palette(ui).stop).text_style(egui::TextStyle::Small));
}

/// Lesser words.
pub(super) fn muted(ui: &mut Ui, words: impl Into<String>) -> egui::Response {
    let words = RichText::new(words.into()).color(palette(ui).muted).text_style(egui::TextStyle::Small);
    ui.add(egui::Label::new(words).wrap())
}

/// Lesser words on one line, cut off where there is no more room.
pub(super) fn muted_line(ui: &mut Ui, words: impl Into<String>) -> egui::Response {
    let words = RichText::new(words.into()).color(palette(ui).muted).text_style(egui::TextStyle::Small);
    ui.add(egui::Label::new(words).truncate())
}

/// A heading within a panel.
pub(super) fn heading(ui: &mut Ui, words: &str) {
    ui.add_space(ui.spacing().item_spacing.y);
    let size = ui.text_style_height(&egui::TextStyle::Body) * 0.78;
    ui.label(RichText::new(words).font(egui::FontId::new(size, strong())).color(palette(ui).ink));
}

/// A button whose name is heard in full where its face says less.
pub(super) fn button(ui: &mut Ui, face: &str, heard: &str) -> egui::Response {
    let response = ui.button(face);
    name(ui, &response, heard);
    if face == heard { response } else { response.on_hover_text(heard) }
}

/// A button without a frame, for rows of small signs.
pub(super) fn small(ui: &mut Ui, face: &str, heard: &str) -> egui::Response {
    let response = ui.add(egui::Button::new(face).small().frame_when_inactive(false));
    name(ui, &response, heard);
    response.on_hover_text(heard)
}

/// A patch of a colour of the cake.
pub(super) fn patch(ui: &mut Ui, colour: Colour) {
    let side = ui.text_style_height(&egui::TextStyle::Body) * 0.8;
    let (place, _) = ui.allocate_exact_size(vec2(side, side), Sense::hover());
    ui.painter().rect_filled(place, 2.0, swatch(colour));
    ui.painter().rect_stroke(place, 2.0, (1.0, palette(ui).muted), StrokeKind::Inside);
}

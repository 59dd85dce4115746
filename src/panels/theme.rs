//! How the window looks: warm paper, ink, one accent; light and dark; letters from 80 to 200 %.
//!
//! The only colours of the program's own. Contrast (WCAG 2.2, 1.4.3) of words on their ground is at least 4.5 : 1 in both schemes; a
//! test holds it. Severity is never told by colour alone: each has a word and a sign of its own.

use std::sync::Arc;

use egui::epaint::{CornerRadius, Shadow};
use egui::{Color32, Context, FontData, FontDefinitions, FontFamily, FontId, Stroke, Style, TextStyle, Theme, Visuals};

use crate::art::FontFile;

/// Least and greatest size of the letters, percent.
pub const SCALES: (u16, u16) = (80, 200);

/// Light or dark.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Scheme {
    /// Ink on paper.
    #[default]
    Light,
    /// Paper on ink.
    Dark,
}

/// Whether things glide or jump.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Motion {
    /// The view glides from place to place.
    #[default]
    Full,
    /// Everything is where it goes at once.
    Reduced,
}

/// How the person likes the window.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Settings {
    /// Light or dark.
    pub scheme: Scheme,
    /// Size of the letters and of all that holds them, percent.
    pub scale: u16,
    /// Whether things glide.
    pub motion: Motion,
}

impl Default for Settings {
    fn default() -> Self {
        Self { scheme: Scheme::Light, scale: 100, motion: Motion::Full }
    }
}

/// The colours of a scheme.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Palette {
    /// Behind panels.
    pub paper: Color32,
    /// Behind fields and lists, nearer to the eye.
    pub sheet: Color32,
    /// Behind what is pressed, and every other row.
    pub tone: Color32,
    /// Words.
    pub ink: Color32,
    /// Lesser words.
    pub muted: Color32,
    /// Hairlines.
    pub rule: Color32,
    /// What to look at first.
    pub accent: Color32,
    /// Words on the accent.
    pub on_accent: Color32,
    /// Behind what is chosen.
    pub chosen: Color32,
    /// What can't be made like this.
    pub stop: Color32,
    /// What is likely to go wrong.
    pub warn: Color32,
}

const fn grey(red: u8, green: u8, blue: u8) -> Color32 {
    Color32::from_rgb(red, green, blue)
}

/// Ink on paper; ink, paper and accent are those of everything we draw ([`crate::proof::ink`]).
const LIGHT: Palette = Palette {
    paper: grey(0xf6, 0xf1, 0xe8),
    sheet: grey(0xff, 0xfd, 0xf9),
    tone: grey(0xea, 0xe2, 0xd4),
    ink: grey(0x2a, 0x25, 0x20),
    muted: grey(0x66, 0x5c, 0x51),
    rule: grey(0xcf, 0xc4, 0xb4),
    accent: grey(0xa0, 0x43, 0x2c),
    on_accent: grey(0xff, 0xfd, 0xf9),
    chosen: grey(0xf0, 0xd9, 0xcd),
    stop: grey(0x9e, 0x1f, 0x1f),
    warn: grey(0x7a, 0x4d, 0x00),
};

/// The same by lamplight.
const DARK: Palette = Palette {
    paper: grey(0x26, 0x22, 0x1e),
    sheet: grey(0x1b, 0x18, 0x15),
    tone: grey(0x3a, 0x34, 0x2d),
    ink: grey(0xf2, 0xeb, 0xdf),
    muted: grey(0xb8, 0xad, 0x9d),
    rule: grey(0x52, 0x49, 0x3f),
    accent: grey(0xe8, 0x8f, 0x70),
    on_accent: grey(0x24, 0x13, 0x0c),
    chosen: grey(0x55, 0x37, 0x2b),
    stop: grey(0xff, 0x9a, 0x8c),
    warn: grey(0xf0, 0xc0, 0x60),
};

impl Scheme {
    /// Its colours.
    #[must_use]
    pub const fn palette(self) -> &'static Palette {
        match self {
            Self::Light => &LIGHT,
            Self::Dark => &DARK,
        }
    }
}

/// The colours that a panel is drawn with.
#[must_use]
pub fn palette(ui: &egui::Ui) -> &'static Palette {
    if ui.visuals().dark_mode { &DARK } else { &LIGHT }
}

/// Of a colour of the cake, as the window shows it.
#[must_use]
pub const fn swatch(colour: crate::art::Colour) -> Color32 {
    Color32::from_rgb(colour.red, colour.green, colour.blue)
}

/// Gives a context its letters and its look, and follows the settings. No panel can be shown in the first frame: letters count
/// from the next one on; `false` then.
pub fn follow(context: &Context, settings: Settings) -> bool {
    let id = egui::Id::new("look of the panels");
    let known = context.data(|data| data.get_temp::<Settings>(id));
    if known == Some(settings) {
        return true;
    }
    apply(context, settings);
    context.data_mut(|data| data.insert_temp(id, settings));
    if known.is_none() {
        install_fonts(context);
        context.request_repaint();
    }
    known.is_some()
}

fn install_fonts(context: &Context) {
    let mut fonts = FontDefinitions::empty();
    for (name, file) in [("text", FontFile::Regular), ("strong", FontFile::SemiBold), ("signs", FontFile::Fallback)] {
        fonts.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(file.bytes())));
    }
    let family = |first: &str| vec![first.to_owned(), "signs".to_owned()];
    fonts.families.insert(FontFamily::Proportional, family("text"));
    fonts.families.insert(FontFamily::Monospace, family("text"));
    fonts.families.insert(strong(), family("strong"));
    context.set_fonts(fonts);
}

/// The family of headings and names.
#[must_use]
pub fn strong() -> FontFamily {
    FontFamily::Name("strong".into())
}

fn apply(context: &Context, settings: Settings) {
    let theme = match settings.scheme {
        Scheme::Light => Theme::Light,
        Scheme::Dark => Theme::Dark,
    };
    context.set_style_of(theme, style(settings));
    context.set_theme(theme);
}

fn style(settings: Settings) -> Style {
    let scale = f32::from(settings.scale.clamp(SCALES.0, SCALES.1)) / 100.0;
    let mut style = Style { visuals: visuals(settings.scheme), ..Style::default() };
    let font = |size: f32, family: FontFamily| FontId::new((size * scale * 2.0).round() / 2.0, family);
    style.text_styles = [
        (TextStyle::Small, font(11.5, FontFamily::Proportional)),
        (TextStyle::Body, font(13.5, FontFamily::Proportional)),
        (TextStyle::Button, font(13.5, FontFamily::Proportional)),
        (TextStyle::Monospace, font(13.5, FontFamily::Monospace)),
        (TextStyle::Heading, font(17.0, strong())),
    ]
    .into();
    let space = &mut style.spacing;
    space.item_spacing = egui::vec2(7.0, 5.0) * scale;
    space.button_padding = egui::vec2(8.0, 3.5) * scale;
    space.interact_size = egui::vec2(36.0, 23.0) * scale;
    space.indent = 14.0 * scale;
    space.icon_width = 15.0 * scale;
    space.icon_width_inner = 9.0 * scale;
    space.icon_spacing = 5.0 * scale;
    space.text_edit_width = 110.0 * scale;
    space.combo_width = 96.0 * scale;
    space.slider_width = 110.0 * scale;
    space.tooltip_width = 320.0 * scale;
    if settings.motion == Motion::Reduced {
        style.animation_time = 0.0;
    }
    style
}

fn visuals(scheme: Scheme) -> Visuals {
    let palette = scheme.palette();
    let mut visuals = match scheme {
        Scheme::Light => Visuals::light(),
        Scheme::Dark => Visuals::dark(),
    };
    let line = |width: f32, colour: Color32| Stroke::new(width, colour);
    visuals.panel_fill = palette.paper;
    visuals.window_fill = palette.paper;
    visuals.window_stroke = line(1.0, palette.rule);
    visuals.window_corner_radius = CornerRadius::same(4);
    visuals.menu_corner_radius = CornerRadius::same(4);
    visuals.window_shadow = Shadow { offset: [0, 3], blur: 14, spread: 0, color: Color32::from_black_alpha(50) };
    visuals.popup_shadow = visuals.window_shadow;
    visuals.extreme_bg_color = palette.sheet;
    visuals.text_edit_bg_color = Some(palette.sheet);
    visuals.faint_bg_color = palette.tone;
    visuals.code_bg_color = palette.tone;
    visuals.hyperlink_color = palette.accent;
    visuals.warn_fg_color = palette.warn;
    visuals.error_fg_color = palette.stop;
    visuals.weak_text_color = Some(palette.muted);
    visuals.override_text_color = None;
    visuals.selection.bg_fill = palette.chosen;
    visuals.selection.stroke = line(1.0, palette.ink);
    let widgets = &mut visuals.widgets;
    let parts = [
        (&mut widgets.noninteractive, palette.paper, palette.rule, palette.ink),
        (&mut widgets.inactive, palette.tone, palette.rule, palette.ink),
        (&mut widgets.hovered, palette.chosen, palette.muted, palette.ink),
        (&mut widgets.active, palette.chosen, palette.accent, palette.ink),
        (&mut widgets.open, palette.tone, palette.muted, palette.ink),
    ];
    for (part, fill, edge, ink) in parts {
        part.bg_fill = fill;
        part.weak_bg_fill = fill;
        part.bg_stroke = line(1.0, edge);
        part.fg_stroke = line(1.0, ink);
        part.corner_radius = CornerRadius::same(3);
        part.expansion = 0.0;
    }
    visuals
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance (WCAG 2.2).
    fn luminance(colour: Color32) -> f64 {
        let linear = |part: u8| {
            let share = f64::from(part) / 255.0;
            if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * linear(colour.r()) + 0.7152 * linear(colour.g()) + 0.0722 * linear(colour.b())
    }

    fn contrast(one: Color32, other: Color32) -> f64 {
        let (one, other) = (luminance(one) + 0.05, luminance(other) + 0.05);
        one.max(other) / one.min(other)
    }

    #[test]
    fn words_are_told_from_their_ground_in_both_schemes() {
        for palette in [LIGHT, DARK] {
            for ground in [palette.paper, palette.sheet, palette.tone, palette.chosen] {
                assert!(contrast(palette.ink, ground) >= 7.0, "{palette:?}");
            }
            for words in [palette.muted, palette.accent, palette.stop, palette.warn] {
                for ground in [palette.paper, palette.sheet] {
                    assert!(contrast(words, ground) >= 4.5, "{words:?} on {ground:?}: {}", contrast(words, ground));
                }
            }
            assert!(contrast(palette.on_accent, palette.accent) >= 4.5);
        }
    }

    #[test]
    fn letters_keep_within_their_bounds() {
        let size = |scale| style(Settings { scale, ..Settings::default() }).text_styles[&TextStyle::Body].size;
        assert_eq!((size(100), size(200), size(999), size(0)), (13.5, 27.0, 27.0, 11.0));
    }
}

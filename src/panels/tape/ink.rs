//! A chart's marks as shapes of the window.

use std::sync::Arc;

use egui::epaint::{Mesh, PathShape, PathStroke};
use egui::{Color32, ColorImage, FontId, Pos2, Shape, Stroke, TextureHandle, TextureOptions, Ui};
use glam::DVec2;

use super::Onto;
use crate::art::{Colour, Picture, Stretch, Typeface};
use crate::panels::theme::{Palette, Scheme, strong, swatch};
use crate::proof::chart::{Chart, Lettering, Mark};
use crate::proof::ink::{ACCENT, INK, MUTED, PAPER, RULE, TONE};
use crate::shapes::build::fill;

/// Most pictures that are kept.
const MOST: usize = 24;

/// Pictures that were given to the window already.
#[derive(Clone, Default)]
pub(in crate::panels) struct Textures {
    kept: Vec<(Arc<Picture>, TextureHandle)>,
}

impl std::fmt::Debug for Textures {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "{} textures", self.kept.len())
    }
}

impl Textures {
    pub fn of(&mut self, ui: &Ui, picture: &Arc<Picture>) -> egui::TextureId {
        if let Some((_, texture)) = self.kept.iter().find(|(kept, _)| Arc::ptr_eq(kept, picture)) {
            return texture.id();
        }
        if self.kept.len() >= MOST {
            drop(self.kept.remove(0));
        }
        let size = [picture.width as usize, picture.height as usize];
        let image = ColorImage::from_rgba_unmultiplied(size, &picture.rgba);
        let texture = ui.ctx().load_texture("tape", image, TextureOptions::LINEAR);
        let id = texture.id();
        self.kept.push((Arc::clone(picture), texture));
        id
    }
}

/// The tape is paper in both schemes: on it the cake's colours, ink and outlines are told apart as they are on the cake.
pub(super) const fn tape_palette() -> &'static Palette {
    Scheme::Light.palette()
}

/// Our own ink and paper as the window has them; colours of the cake stay.
fn colour(palette: &Palette, colour: Colour) -> Color32 {
    let own = [
        (PAPER, palette.sheet),
        (INK, palette.ink),
        (MUTED, palette.muted),
        (RULE, palette.rule),
        (TONE, palette.tone),
        (ACCENT, palette.accent),
    ];
    own.into_iter().find(|(ours, _)| *ours == colour).map_or_else(|| swatch(colour), |(_, theirs)| theirs)
}

/// Paints a chart.
pub(super) fn paint(ui: &mut Ui, textures: &mut Textures, (chart, onto): (&Chart, Onto)) {
    let palette = tape_palette();
    let clip = ui.clip_rect();
    ui.painter().rect_filled(onto.rect([DVec2::ZERO, chart.size]), 3.0, palette.sheet);
    for mark in &chart.marks {
        let shape = match mark {
            Mark::Area { rings, colour: of, opacity } => {
                area(onto, rings, colour(palette, *of).gamma_multiply(*opacity as f32))
            }
            Mark::Line { points, pen } => line(onto, points, pen, colour(palette, pen.colour)),
            Mark::Text(text) => lettering(ui, onto, text, colour(palette, text.hand.colour)),
            Mark::Picture { low, high, picture } => {
                let place = onto.rect([*low, *high]);
                if !place.intersects(clip) {
                    continue;
                }
                let whole = egui::Rect::from_min_max(egui::pos2(0.0, 0.0), egui::pos2(1.0, 1.0));
                Shape::image(textures.of(ui, picture), place, whole, Color32::WHITE)
            }
        };
        ui.painter().add(shape);
    }
}

/// A filled area of any form, cut into triangles.
pub(super) fn area(onto: Onto, rings: &[Vec<DVec2>], colour: Color32) -> Shape {
    let places: Vec<DVec2> = rings.iter().flatten().copied().collect();
    let triangles = match rings {
        // What is everywhere: a rectangle.
        [ring] if ring.len() == 4 => Some(vec![[0, 1, 2], [0, 2, 3]]),
        rings => fill(rings),
    };
    let Some(triangles) = triangles else { return Shape::Noop };
    let mut mesh = Mesh::default();
    places.iter().for_each(|place| mesh.colored_vertex(onto.window(*place), colour));
    triangles.iter().for_each(|[a, b, c]| mesh.add_triangle(*a, *b, *c));
    Shape::mesh(mesh)
}

fn line(onto: Onto, points: &[DVec2], pen: &Stretch, colour: Color32) -> Shape {
    let points: Vec<Pos2> = points.iter().map(|&at| onto.window(at)).collect();
    let width = ((pen.width * onto.per_mm) as f32).max(0.6);
    let colour = colour.gamma_multiply(pen.opacity as f32);
    match pen.dashes.as_slice() {
        [dash, gap, ..] => {
            let [dash, gap] = [dash, gap].map(|length| ((length * onto.per_mm) as f32).max(1.0));
            Shape::Vec(Shape::dashed_line(&points, Stroke::new(width, colour), dash, gap))
        }
        _ => Shape::Path(PathShape::line(points, PathStroke::new(width, colour))),
    }
}

fn lettering(ui: &Ui, onto: Onto, text: &Lettering, colour: Color32) -> Shape {
    let size = (text.hand.size * onto.per_mm) as f32;
    let family = if text.hand.face == Typeface::Strong { strong() } else { egui::FontFamily::Proportional };
    let galley = ui.painter().layout_no_wrap(text.text.clone(), FontId::new(size, family), colour);
    // A chart gives the baseline; the window the upper left corner. Inter's letters stand 0.97 em below the top of their line.
    let at = onto.window(text.at)
        - egui::vec2(
            0.0,
            galley.rows.first().map_or(size, |row| row.row.glyphs.first().map_or(size, |glyph| glyph.pos.y)),
        );
    Shape::galley(at, galley, colour)
}

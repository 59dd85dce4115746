//! A chart's marks as shapes of the window.

use std::sync::Arc;

use egui::epaint::{Mesh, PathShape, PathStroke};
use egui::{Color32, FontId, Pos2, Shape, Stroke, TextureHandle, TextureOptions, Ui};
use glam::DVec2;

use super::Onto;
use crate::art::{Colour, Picture, Stretch, Typeface};
use crate::panels::texture;
use crate::panels::theme::{Palette, Scheme, strong, swatch};
use crate::proof::chart::{Chart, Lettering, Mark};
use crate::proof::ink::{ACCENT, INK, MUTED, PAPER, RULE, TONE};
use crate::shapes::build::{fill, twice_area};

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
        let texture = texture(ui.ctx(), "tape", (picture, TextureOptions::LINEAR));
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
        rings => fill_either(rings),
    };
    let Some(triangles) = triangles else { return Shape::Noop };
    let mut mesh = Mesh::default();
    places.iter().for_each(|place| mesh.colored_vertex(onto.window(*place), colour));
    triangles.iter().for_each(|[a, b, c]| mesh.add_triangle(*a, *b, *c));
    Shape::mesh(mesh)
}

/// Fills outlines whichever way round they run: what is counter-clockwise on the cake is clockwise on a page, whose y goes down.
fn fill_either(rings: &[Vec<DVec2>]) -> Option<Vec<[u32; 3]>> {
    if rings.first().is_some_and(|ring| twice_area(ring) < 0.0) {
        let flipped = |ring: &Vec<DVec2>| ring.iter().map(|at| DVec2::new(at.x, -at.y)).collect();
        return fill(&rings.iter().map(flipped).collect::<Vec<_>>());
    }
    fill(rings)
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_area_is_filled_whichever_way_round_it_runs() {
        let corners = [(0.0, 0.0), (4.0, 0.0), (5.0, 2.0), (4.0, 3.0), (0.0, 3.0)].map(|(x, y)| DVec2::new(x, y));
        let hole = [(1.0, 1.0), (1.0, 2.0), (2.0, 2.0), (2.0, 1.0), (1.5, 0.8)].map(|(x, y)| DVec2::new(x, y));
        let rings = [corners.to_vec(), hole.to_vec()];
        let back = rings.clone().map(|ring| ring.into_iter().rev().collect::<Vec<_>>());
        let whole: f64 = rings.iter().map(|ring| twice_area(ring)).sum();
        for rings in [rings, back] {
            let places = rings.concat();
            let covered = |[a, b, c]: [u32; 3]| {
                let [a, b, c] = [a, b, c].map(|number| places[number as usize]);
                (b - a).perp_dot(c - a).abs()
            };
            let covered: f64 = fill_either(&rings).unwrap().into_iter().map(covered).sum();
            assert!((covered - whole).abs() < 1e-9, "{covered} of {whole}");
        }
    }
}

//! An eye without a graphics card: draws what the panels show into a picture, slowly and plainly, to be looked at.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::path::Path;
use std::rc::Rc;

use egui::epaint::{ClippedPrimitive, ImageData, Primitive, TextureId, Vertex};
use egui::{Color32, ColorImage, Pos2, TexturesDelta};
use egui_kittest::TestRenderer;

use tierproof::files::{Overwrite, write_whole};

use super::stage::Hands;

/// The textures that panels gave to the window.
#[derive(Clone, Default)]
pub struct Eye {
    textures: Rc<RefCell<BTreeMap<String, ColorImage>>>,
}

fn key(id: TextureId) -> String {
    format!("{id:?}")
}

impl TestRenderer for Eye {
    fn handle_delta(&mut self, delta: &mut TexturesDelta) {
        let mut textures = self.textures.borrow_mut();
        let deltas: Vec<_> = delta.set.drain().collect();
        delta.clear();
        for (id, delta) in deltas.iter().flat_map(|(id, deltas)| deltas.iter().map(move |delta| (id, delta))) {
            let ImageData::Color(image) = &delta.image;
            let Some([left, top]) = delta.pos else {
                textures.insert(key(*id), (**image).clone());
                continue;
            };
            let whole = textures.get_mut(&key(*id)).expect("a part of a texture that is there");
            for row in 0..image.height() {
                for column in 0..image.width() {
                    whole[(left + column, top + row)] = image[(column, row)];
                }
            }
        }
    }
}

impl Eye {
    /// What the window shows now.
    pub fn see(&self, hands: &Hands) -> ColorImage {
        let size = hands.ctx.content_rect().size();
        let mut seen = ColorImage::filled([size.x as usize, size.y as usize], Color32::BLACK);
        let shapes = hands.output().shapes.clone();
        for primitive in hands.ctx.tessellate(shapes, 1.0) {
            self.draw(&mut seen, &primitive);
        }
        seen
    }

    /// Keeps what the window shows as a picture in the folder of this run, and gives it.
    pub fn keep(&self, hands: &Hands, name: &str) -> ColorImage {
        let seen = self.see(hands);
        let rgba = seen.pixels.iter().flat_map(|pixel| [pixel.r(), pixel.g(), pixel.b(), 255]).collect();
        let picture = tierproof::art::Picture { width: seen.width() as u32, height: seen.height() as u32, rgba };
        let png = tierproof::art::encode_png(&picture).expect("png");
        let place = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("panels-{name}.png"));
        write_whole(&place, &png, Overwrite::Document).expect("written");
        seen
    }

    fn draw(&self, seen: &mut ColorImage, primitive: &ClippedPrimitive) {
        let Primitive::Mesh(mesh) = &primitive.primitive else { return };
        let textures = self.textures.borrow();
        let Some(texture) = textures.get(&key(mesh.texture_id)) else { return };
        for corners in mesh.indices.chunks_exact(3) {
            let [a, b, c] = [0, 1, 2].map(|corner| mesh.vertices[corners[corner] as usize]);
            triangle(seen, texture, [a, b, c], primitive.clip_rect);
        }
    }
}

fn triangle(seen: &mut ColorImage, texture: &ColorImage, corners: [Vertex; 3], clip: egui::Rect) {
    let [a, b, c] = corners.map(|corner| corner.pos);
    let twice = |a: Pos2, b: Pos2, c: Pos2| (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
    let area = twice(a, b, c);
    if area == 0.0 {
        return;
    }
    let bounds = egui::Rect::from_points(&[a, b, c]).intersect(clip);
    let range =
        |low: f32, high: f32, most: usize| (low.floor().max(0.0) as usize)..(high.ceil().max(0.0) as usize).min(most);
    for row in range(bounds.min.y, bounds.max.y, seen.height()) {
        for column in range(bounds.min.x, bounds.max.x, seen.width()) {
            let at = egui::pos2(column as f32 + 0.5, row as f32 + 0.5);
            if !clip.contains(at) {
                continue;
            }
            let shares = [twice(b, c, at) / area, twice(c, a, at) / area, twice(a, b, at) / area];
            if shares.iter().any(|share| *share < 0.0) {
                continue;
            }
            let mix = |of: &dyn Fn(&Vertex) -> f32| -> f32 {
                corners.iter().zip(shares).map(|(corner, share)| of(corner) * share).sum()
            };
            let place = [mix(&|corner| corner.uv.x), mix(&|corner| corner.uv.y)];
            let [width, height] = texture.size;
            let texel = |share: f32, side: usize| ((share * side as f32) as usize).min(side - 1);
            let ink = texture[(texel(place[0], width), texel(place[1], height))].to_array();
            let tint = [0, 1, 2, 3].map(|part: usize| mix(&|corner| f32::from(corner.color.to_array()[part])) / 255.0);
            let old = seen[(column, row)].to_array();
            let alpha = f32::from(ink[3]) * tint[3] / 255.0;
            let part = |number: usize| f32::from(ink[number]) * tint[number] + f32::from(old[number]) * (1.0 - alpha);
            seen[(column, row)] =
                Color32::from_rgb(part(0).round() as u8, part(1).round() as u8, part(2).round() as u8);
        }
    }
}

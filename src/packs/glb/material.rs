//! Finishes as glTF materials, printed pictures as embedded PNG textures.

use std::collections::BTreeMap;
use std::sync::Arc;

use gltf_json::image::MimeType;
use gltf_json::material::{PbrBaseColorFactor, PbrMetallicRoughness, StrengthFactor};
use gltf_json::texture::{Info, MagFilter, MinFilter, Sampler, WrappingMode};
use gltf_json::validation::Checked;
use gltf_json::{Image, Index, Root, Texture};

use super::container::Store;
use crate::art::{Colour, Picture, encode_png};
use crate::cake::Surface;
use crate::design::Look;
use crate::packs::PackError;

/// A stored material.
#[derive(Clone, Copy)]
pub(super) struct Material {
    pub(super) index: Index<gltf_json::Material>,
    /// Whether it carries a picture, so that the mesh must say where the picture goes.
    pub(super) pictured: bool,
}

/// Every material of the file, each stored once.
#[derive(Default)]
pub(super) struct Materials {
    known: BTreeMap<(Colour, &'static str, usize), Material>,
}

impl Materials {
    /// The material of a surface, stored when first met.
    pub(super) fn store(
        &mut self,
        surface: &Surface,
        root: &mut Root,
        store: &mut Store,
    ) -> Result<Material, PackError> {
        let picture = surface.picture.as_ref().filter(|picture| picture.width > 0 && picture.height > 0);
        let looks = looks(surface.look);
        let key = (surface.colour, looks.word, picture.map_or(0, |picture| Arc::as_ptr(picture) as usize));
        if let Some(&known) = self.known.get(&key) {
            return Ok(known);
        }
        let texture = picture.map(|picture| texture(picture, surface.colour, root, store)).transpose()?;
        let [red, green, blue] = if texture.is_some() { [1.0; 3] } else { surface.colour.linear().map(|c| c as f32) };
        let name = if picture.is_some() { "picture on " } else { "" };
        let index = root.push(gltf_json::Material {
            name: Some(format!("{name}{} {}", looks.word, surface.colour)),
            pbr_metallic_roughness: PbrMetallicRoughness {
                base_color_factor: PbrBaseColorFactor([red, green, blue, 1.0]),
                base_color_texture: texture.map(|index| Info { index, tex_coord: 0, extensions: None, extras: None }),
                metallic_factor: StrengthFactor(looks.metallic),
                roughness_factor: StrengthFactor(looks.roughness),
                ..PbrMetallicRoughness::default()
            },
            ..gltf_json::Material::default()
        });
        let material = Material { index, pictured: picture.is_some() };
        self.known.insert(key, material);
        Ok(material)
    }
}

/// How a look takes the light, in the terms of glTF's metallic-roughness model.
struct Looks {
    word: &'static str,
    metallic: f32,
    roughness: f32,
}

/// Chosen by eye for viewers without our studio; brushed metal stays rough enough not to look like chrome.
const fn looks(look: Look) -> Looks {
    let (word, metallic, roughness) = match look {
        Look::Paste => ("paste", 0.0, 0.85),
        Look::Satin => ("satin", 0.0, 0.5),
        Look::Pearl => ("pearl", 0.15, 0.35),
        Look::Metal => ("metal", 1.0, 0.42),
        Look::Glitter => ("glitter", 0.6, 0.3),
        Look::Print => ("print", 0.0, 0.9),
    };
    Looks { word, metallic, roughness }
}

/// The picture laid over the colour, as a PNG in the file.
fn texture(picture: &Picture, under: Colour, root: &mut Root, store: &mut Store) -> Result<Index<Texture>, PackError> {
    let png = encode_png(&laid_over(picture, under))
        .map_err(|error| PackError::Writer { file: "cake.glb", reason: error.to_string() })?;
    let view = store.view(root, &png, None);
    let source = root.push(Image {
        buffer_view: Some(view),
        mime_type: Some(MimeType("image/png".to_owned())),
        name: None,
        uri: None,
        extensions: None,
        extras: None,
    });
    let sampler = match root.samplers.is_empty() {
        true => root.push(smooth()),
        false => Index::new(0),
    };
    Ok(root.push(Texture { name: None, sampler: Some(sampler), source, extensions: None, extras: None }))
}

/// Smooth from near and far. Clamped, so that a picture's top row does not bleed into its bottom row.
fn smooth() -> Sampler {
    Sampler {
        mag_filter: Some(Checked::Valid(MagFilter::Linear)),
        min_filter: Some(Checked::Valid(MinFilter::LinearMipmapLinear)),
        wrap_s: Checked::Valid(WrappingMode::ClampToEdge),
        wrap_t: Checked::Valid(WrappingMode::ClampToEdge),
        ..Sampler::default()
    }
}

/// The picture without transparency: the colour shows where the picture lets it.
pub(super) fn laid_over(picture: &Picture, under: Colour) -> Picture {
    let mut over = picture.clone();
    for pixel in over.rgba.chunks_exact_mut(4) {
        let [red, green, blue, alpha] = pixel else { continue };
        let cover = u32::from(*alpha);
        for (channel, below) in [(red, under.red), (green, under.green), (blue, under.blue)] {
            let mixed = (u32::from(*channel) * cover + u32::from(below) * (255 - cover) + 127) / 255;
            *channel = u8::try_from(mixed).unwrap_or(u8::MAX);
        }
        *alpha = u8::MAX;
    }
    over
}

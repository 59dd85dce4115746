//! Pictures for the engine: laid over the surface's colour, with every smaller version they need.

use bevy::asset::RenderAssetUsages;
use bevy::image::{Image, ImageAddressMode, ImageFilterMode, ImageSampler, ImageSamplerDescriptor};
use bevy::render::render_resource::{Extent3d, TextureDimension, TextureFormat};

use crate::art::{Colour, Picture};

use crate::scene::srgb::Srgb;

/// A picture over a colour, with its mip chain; no side longer than `most` px.
///
/// The sampler is anisotropic (a side seen at a slant stays sharp) and clamps: a wrap's two ends don't bleed into each other.
pub(super) fn engine_image(picture: &Picture, under: Colour, most: u32) -> Option<Image> {
    let bytes = picture.width as usize * picture.height as usize * 4;
    if bytes == 0 || picture.rgba.len() != bytes {
        return None;
    }
    let srgb = Srgb::new();
    let mut level = laid_over(picture, under, &srgb);
    while level.width > most || level.height > most {
        level = halved(&level, &srgb);
    }
    let size = Extent3d { width: level.width, height: level.height, depth_or_array_layers: 1 };
    let mut image =
        Image::new_uninit(size, TextureDimension::D2, TextureFormat::Rgba8UnormSrgb, RenderAssetUsages::RENDER_WORLD);
    let mut data = level.rgba.clone();
    let mut levels = 1;
    while level.width > 1 || level.height > 1 {
        level = halved(&level, &srgb);
        data.extend_from_slice(&level.rgba);
        levels += 1;
    }
    image.data = Some(data);
    image.texture_descriptor.mip_level_count = levels;
    image.sampler = ImageSampler::Descriptor(ImageSamplerDescriptor {
        address_mode_u: ImageAddressMode::ClampToEdge,
        address_mode_v: ImageAddressMode::ClampToEdge,
        mag_filter: ImageFilterMode::Linear,
        min_filter: ImageFilterMode::Linear,
        mipmap_filter: ImageFilterMode::Linear,
        anisotropy_clamp: 8,
        ..ImageSamplerDescriptor::default()
    });
    Some(image)
}

/// The picture where it covers, the colour where it doesn't, mixed in linear light.
fn laid_over(picture: &Picture, under: Colour, srgb: &Srgb) -> Picture {
    let below = [under.red, under.green, under.blue];
    let mut opaque = picture.clone();
    for pixel in opaque.rgba.chunks_exact_mut(4) {
        let [red, green, blue, alpha] = pixel else { continue };
        let cover = f32::from(*alpha) / 255.0;
        if *alpha < 255 {
            for (channel, base) in [red, green, blue].into_iter().zip(below) {
                *channel = srgb.byte(srgb.linear(*channel) * cover + srgb.linear(base) * (1.0 - cover));
            }
            *alpha = 255;
        }
    }
    opaque
}

/// The next smaller level: each pixel the mean, in linear light, of what it covers. An odd side is covered by thirds.
fn halved(level: &Picture, srgb: &Srgb) -> Picture {
    let (width, height) = ((level.width / 2).max(1), (level.height / 2).max(1));
    let columns = shares(level.width, width);
    let rows = shares(level.height, height);
    let stride = level.width as usize * 4;
    let mut rgba = Vec::with_capacity(width as usize * height as usize * 4);
    for row in &rows {
        for column in &columns {
            let mut sum = [0.0f32; 3];
            for (y, down) in row.taps() {
                for (x, across) in column.taps() {
                    let Some(pixel) = level.rgba.get(y * stride + x * 4..).and_then(|rest| rest.get(..3)) else {
                        continue;
                    };
                    for (total, &channel) in sum.iter_mut().zip(pixel) {
                        *total += srgb.linear(channel) * down * across;
                    }
                }
            }
            rgba.extend(sum.map(|linear| srgb.byte(linear)));
            rgba.push(255);
        }
    }
    Picture { width, height, rgba }
}

/// The up to three pixels that one smaller pixel covers, with their shares.
struct Share {
    first: usize,
    weights: [f32; 3],
}

impl Share {
    fn taps(&self) -> impl Iterator<Item = (usize, f32)> {
        self.weights.iter().enumerate().map(|(step, &weight)| (self.first + step, weight)).filter(|tap| tap.1 > 0.0)
    }
}

/// What each of `to` pixels covers of `from` pixels.
fn shares(from: u32, to: u32) -> Vec<Share> {
    let ratio = f64::from(from) / f64::from(to);
    let share = |number: u32| {
        let (start, end) = (f64::from(number) * ratio, f64::from(number + 1) * ratio);
        let first = start.floor();
        let weights = [0.0, 1.0, 2.0].map(|step| {
            let covered = (first + step + 1.0).min(end) - (first + step).max(start);
            (covered.max(0.0) / ratio) as f32
        });
        Share { first: first as usize, weights }
    };
    (0..to).map(share).collect()
}

#[cfg(test)]
mod tests {
    use super::{Colour, Picture, engine_image, shares};

    #[test]
    fn shares_add_up_to_one() {
        for (from, to) in [(8, 4), (9, 4), (3, 1), (1, 1), (4097, 2048)] {
            for share in shares(from, to) {
                let sum: f32 = share.taps().map(|tap| tap.1).sum();
                assert!((sum - 1.0).abs() < 1e-5, "{from} to {to}: {sum}");
            }
        }
    }

    #[test]
    fn small_versions_keep_the_mean_light() {
        // Half black, half white in linear light is sRGB 188 (IEC 61966-2-1).
        let rgba = [[0, 0, 0, 255], [255, 255, 255, 255]].concat().repeat(8);
        let image = engine_image(&Picture { width: 4, height: 4, rgba }, Colour::default(), 64).unwrap();
        assert_eq!(image.texture_descriptor.mip_level_count, 3);
        assert_eq!(image.data.unwrap().split_off(64), [188, 188, 188, 255].repeat(5));
    }

    #[test]
    fn the_colour_shows_where_the_picture_is_clear() {
        let clear = Picture::filled(2, 1, [9, 9, 9, 0]);
        let image = engine_image(&clear, Colour::new(200, 100, 50), 64).unwrap();
        assert_eq!(image.data.unwrap(), [200, 100, 50, 255].repeat(3));
    }
}

//! A part of a picture at another size.
//!
//! Where it shrinks, each new pixel is the average of the area it covers; where it grows, colours run straight from one
//! pixel's centre to the next. Both in linear light (IEC 61966-2-1) and weighted with alpha, so that fine patterns keep
//! their brightness and clear pixels lend no colour to their neighbours.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::colour::linear_table;
use super::picture::{Part, Picture};

/// Linear light, premultiplied: red, green, blue, alpha, 0..1.
type Light = [f32; 4];

/// The part of the picture in so many pixels; an empty picture for no pixels. What the part has beyond the picture's
/// edge repeats the edge.
#[must_use]
pub(super) fn resample(picture: &Picture, part: Part, width: u32, height: u32) -> Picture {
    if width == 0 || height == 0 || picture.width == 0 || picture.rgba.is_empty() {
        return Picture::default();
    }
    let across = taps(part.left, part.width, (picture.width, width));
    let down = taps(part.top, part.height, (picture.height, height));
    let stride = picture.width as usize * 4;
    let line = |row: usize| picture.rgba.get(row * stride..(row + 1) * stride).unwrap_or_default();
    // Rows of the picture, already resampled across; each is used by neighbouring new rows only.
    let mut rows = BTreeMap::<usize, Vec<Light>>::new();
    let mut rgba = Vec::with_capacity(width as usize * height as usize * 4);
    for Taps { first, weights } in &down {
        rows.retain(|row, _| row >= first);
        let mut sums = vec![Light::default(); across.len()];
        for (row, &weight) in (*first..).zip(weights) {
            let resampled =
                rows.entry(row).or_insert_with(|| across.iter().map(|taps| blend(line(row), taps)).collect());
            for (sum, light) in sums.iter_mut().zip(resampled.iter()) {
                add(sum, *light, weight);
            }
        }
        rgba.extend(sums.into_iter().flat_map(encode));
    }
    Picture { width, height, rgba }
}

/// Which pixels of a row make up one new pixel.
struct Taps {
    first: usize,
    weights: Vec<f32>,
}

/// For each of `new` pixels on the stretch from `start`, `length` long (shares of `old` pixels).
fn taps(start: f64, length: f64, (old, new): (u32, u32)) -> Vec<Taps> {
    let (old, step) = (f64::from(old), length * f64::from(old) / f64::from(new));
    let tap = |n: u32| {
        let from = start * old + f64::from(n) * step;
        if step >= 1.0 { area_taps(from, from + step, old) } else { line_taps(from + step / 2.0 - 0.5, old) }
    };
    (0..new).map(tap).collect()
}

/// The average over an area.
fn area_taps(from: f64, to: f64, old: f64) -> Taps {
    // A sum of steps may miss a pixel's edge by its rounding; less than a millionth of a pixel is nothing.
    let first = (from + 1e-6).floor().clamp(0.0, old - 1.0);
    let last = (to - 1e-6).floor().clamp(first, old - 1.0);
    let cover = |pixel: f64| (to.min(pixel + 1.0) - from.max(pixel)).max(1e-6);
    let covers: Vec<f64> = (0..=(last - first) as usize).map(|n| cover(first + n as f64)).collect();
    let total: f64 = covers.iter().sum();
    Taps { first: first as usize, weights: covers.iter().map(|cover| (cover / total) as f32).collect() }
}

/// A point on the line between two centres.
fn line_taps(at: f64, old: f64) -> Taps {
    let at = at.clamp(0.0, old - 1.0);
    let first = at.floor().min((old - 2.0).max(0.0));
    let second = (at - first) as f32;
    let weights = if second == 0.0 { vec![1.0] } else { vec![1.0 - second, second] };
    Taps { first: first as usize, weights }
}

fn blend(line: &[u8], taps: &Taps) -> Light {
    let pixels = line.as_chunks().0.get(taps.first..).unwrap_or_default();
    pixels.iter().zip(&taps.weights).fold(Light::default(), |mut sum, (pixel, &weight)| {
        add(&mut sum, decode(*pixel), weight);
        sum
    })
}

fn add(sum: &mut Light, light: Light, weight: f32) {
    for (sum, light) in sum.iter_mut().zip(light) {
        *sum += light * weight;
    }
}

static LINEAR: LazyLock<[f32; 256]> = LazyLock::new(linear_table);

/// The sRGB value of each of 65,536 steps of linear light.
static CODED: LazyLock<Vec<u8>> = LazyLock::new(|| {
    let code = |step: u32| {
        let light = f64::from(step) / 65_535.0;
        let value = if light <= 0.003_130_8 { light * 12.92 } else { 1.055 * light.powf(1.0 / 2.4) - 0.055 };
        (value * 255.0).round() as u8
    };
    (0..=65_535).map(code).collect()
});

fn decode([red, green, blue, alpha]: [u8; 4]) -> Light {
    let cover = f32::from(alpha) / 255.0;
    let light = |value: u8| LINEAR.get(usize::from(value)).copied().unwrap_or_default() * cover;
    [light(red), light(green), light(blue), cover]
}

fn encode([red, green, blue, cover]: Light) -> [u8; 4] {
    if cover <= 0.0 {
        return [0; 4];
    }
    let code = |light: f32| CODED.get((light / cover * 65_535.0).round() as usize).copied().unwrap_or(u8::MAX);
    [code(red), code(green), code(blue), (cover * 255.0).round() as u8]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ramp() -> Picture {
        let pixel = |n: u32| [n as u8, (255 - n) as u8, (n / 2) as u8, 255];
        Picture { width: 16, height: 16, rgba: (0..256).flat_map(pixel).collect() }
    }

    #[test]
    fn the_same_size_is_the_same_picture() {
        assert_eq!(resample(&ramp(), Part::WHOLE, 16, 16), ramp());
    }

    #[test]
    fn a_part_is_cut_out_exactly() {
        let part = Part { left: 0.25, top: 0.5, width: 0.5, height: 0.25 };
        let cut = resample(&ramp(), part, 8, 4);
        for (x, y) in (0..8).flat_map(|x| (0..4).map(move |y| (x, y))) {
            assert_eq!(cut.pixel(x, y), ramp().pixel(x + 4, y + 8));
        }
    }

    #[test]
    fn a_checker_board_shrinks_to_half_its_light() {
        let pixel = |n: u32| if (n + n / 16).is_multiple_of(2) { [255; 4] } else { [0, 0, 0, 255] };
        let board = Picture { width: 16, height: 16, rgba: (0..256).flat_map(pixel).collect() };
        for (width, height) in [(8, 8), (4, 2), (1, 1)] {
            // Half the light is coded as 188 (IEC 61966-2-1).
            assert_eq!(
                resample(&board, Part::WHOLE, width, height),
                Picture::filled(width, height, [188, 188, 188, 255])
            );
        }
        let odd = resample(&board, Part::WHOLE, 7, 7);
        assert!(odd.rgba.chunks(4).all(|pixel| pixel[0].abs_diff(188) < 25));
    }

    #[test]
    fn clear_pixels_lend_no_colour() {
        let picture = Picture { width: 2, height: 1, rgba: vec![255, 0, 0, 255, 0, 255, 0, 0] };
        assert_eq!(resample(&picture, Part::WHOLE, 1, 1).rgba, [255, 0, 0, 128]);
    }

    #[test]
    fn enlarging_runs_evenly_and_is_not_mirrored() {
        let picture = Picture { width: 2, height: 1, rgba: vec![0, 0, 0, 255, 255, 255, 255, 255] };
        let large = resample(&picture, Part::WHOLE, 8, 3);
        let row: Vec<u8> = (0..8).map(|x| large.pixel(x, 1).unwrap()[0]).collect();
        assert!(row.is_sorted() && row[0] == 0 && row[7] == 255 && row[3] < row[4], "{row:?}");
    }

    #[test]
    fn odd_sizes_do_no_harm() {
        assert_eq!(resample(&ramp(), Part::WHOLE, 0, 9), Picture::default());
        assert_eq!(resample(&Picture::default(), Part::WHOLE, 3, 3), Picture::default());
        let beyond = Part { left: -1.0, top: 0.9, width: 3.0, height: 2.0 };
        assert_eq!(resample(&ramp(), beyond, 5, 5).rgba.len(), 100);
        assert_eq!(resample(&Picture::filled(1, 1, [9; 4]), Part::WHOLE, 4, 4), Picture::filled(4, 4, [9; 4]));
    }
}

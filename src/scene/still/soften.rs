//! The shadow on the table without the edges of its lamps.
//!
//! A picture has some dozens of lamps, each with a shadow of hard edges: on a plain table their steps would be seen. A real
//! shadow is the softer the farther it lies from what throws it, and so is this one: each place takes the mean of its surroundings, as wide
//! as a share of its distance from the nearest body in the picture. So the mean never reaches a body, and a shadow stays sharp where something
//! stands.

use crate::proof::sums::Sums;

/// Half the width of the surroundings, as a share of the distance from the nearest body's edge.
const SHARE: f32 = 0.25;
/// Pixels of a body's edge, which are partly the table's.
const EDGE: f32 = 2.0;
/// The same at most, as a share of the picture's width.
const WIDEST: f32 = 0.03;
/// How often the mean is taken: once leaves a box's edges.
const TIMES: usize = 2;
/// Cover from which on something is a body, whatever its colour.
const SOLID: f32 = 0.999;

/// Softens the cover of all pixels (red, green, blue, cover; premultiplied; rows of `width`) that show no body.
pub(super) fn soften(pixels: &mut [[f32; 4]], width: usize) {
    let far = distances(pixels, width);
    for _ in 0..TIMES {
        let cover = Sums::new(width, pixels.iter().map(|pixel| f64::from(pixel[3])));
        for (number, (pixel, &far)) in pixels.iter_mut().zip(&far).enumerate() {
            let half = (SHARE * (far - EDGE)).min(WIDEST * width as f32);
            if half > 0.0 {
                pixel[3] = mean(&cover, (number % width, number / width), half);
            }
        }
    }
}

/// How far each pixel is from the nearest that shows a body, px, to a twentieth (a chamfer of 1 and the root of 2, there and back).
fn distances(pixels: &[[f32; 4]], width: usize) -> Vec<f32> {
    const SLANT: f32 = std::f32::consts::SQRT_2;
    let is_body = |[red, green, blue, cover]: [f32; 4]| red > 0.0 || green > 0.0 || blue > 0.0 || cover >= SOLID;
    let mut far: Vec<f32> = pixels.iter().map(|&pixel| if is_body(pixel) { 0.0 } else { f32::INFINITY }).collect();
    // Backwards the same as forwards, from the last pixel to the first.
    for _ in 0..2 {
        for number in 0..far.len() {
            let column = number % width;
            let before = |back: usize, step: f32| {
                number.checked_sub(back).and_then(|place| far.get(place)).map_or(f32::INFINITY, |far| far + step)
            };
            let mut nearest = before(width, 1.0);
            if column > 0 {
                nearest = nearest.min(before(1, 1.0)).min(before(width + 1, SLANT));
            }
            if column + 1 < width {
                nearest = nearest.min(before(width - 1, SLANT));
            }
            if let Some(far) = far.get_mut(number) {
                *far = far.min(nearest);
            }
        }
        far.reverse();
    }
    far
}

/// The mean cover over a square with this half width (px) about a pixel, mixed from the two nearest whole ones.
fn mean(cover: &Sums, at: (usize, usize), half: f32) -> f32 {
    let whole = half.floor();
    let (near, share) = (square(cover, at, whole as usize), half - whole);
    if share > 0.0 { near + (square(cover, at, whole as usize + 1) - near) * share } else { near }
}

/// The mean over the pixels within `half` of one, those outside the picture left out.
fn square(cover: &Sums, (x, y): (usize, usize), half: usize) -> f32 {
    let (width, height) = cover.size();
    let (left, right) = (x.saturating_sub(half), (x + half + 1).min(width));
    let (top, bottom) = (y.saturating_sub(half), (y + half + 1).min(height));
    let count = ((right - left) * (bottom - top)).max(1) as f64;
    (cover.between((left, top), (right, bottom)) / count) as f32
}

#[cfg(test)]
mod tests {
    use super::{distances, soften};

    const WIDTH: usize = 200;
    const HEIGHT: usize = 120;

    fn at(pixels: &[[f32; 4]], x: usize, y: usize) -> f32 {
        pixels[y * WIDTH + x][3]
    }

    /// A body at the left edge, a shadow with a hard edge across the rest.
    fn picture() -> Vec<[f32; 4]> {
        (0..WIDTH * HEIGHT)
            .map(|number| match (number % WIDTH, number / WIDTH) {
                (0..20, _) => [0.5, 0.4, 0.3, 1.0],
                (_, 0..60) => [0.0, 0.0, 0.0, 0.2],
                _ => [0.0; 4],
            })
            .collect()
    }

    #[test]
    fn an_edge_is_soft_far_from_a_body_and_sharp_beside_it() {
        let before = picture();
        let mut pixels = before.clone();
        soften(&mut pixels, WIDTH);
        let bodies = |pixels: &[[f32; 4]]| pixels.iter().filter(|pixel| pixel[0] > 0.0).copied().collect::<Vec<_>>();
        assert_eq!(bodies(&pixels), bodies(&before));
        // Beside the body the step is as it was; far from it a step is a small part of the whole.
        assert_eq!([20, 21].map(|x| at(&pixels, x, 59) - at(&pixels, x, 60)), [0.2, 0.2]);
        let steps = (0..HEIGHT - 1).map(|y| (at(&pixels, 150, y) - at(&pixels, 150, y + 1)).abs());
        assert!(steps.fold(0.0, f32::max) < 0.03);
        // Light is neither made nor lost, and nothing becomes darker than the darkest.
        let sum = |pixels: &[[f32; 4]], x: usize| (0..HEIGHT).map(|y| at(pixels, x, y)).sum::<f32>();
        assert!((sum(&pixels, 150) - sum(&before, 150)).abs() < 1e-3);
        assert!(pixels.iter().filter(|pixel| pixel[0] == 0.0).all(|pixel| (-1e-6..0.2001).contains(&pixel[3])));
    }

    #[test]
    fn an_even_cover_stays_even_and_an_empty_picture_empty() {
        let mut even = vec![[0.0, 0.0, 0.0, 0.125]; WIDTH * HEIGHT];
        soften(&mut even, WIDTH);
        assert!(even.iter().all(|pixel| (pixel[3] - 0.125).abs() < 1e-6));
        soften(&mut [], 1);
        let mut one = [[0.0, 0.0, 0.0, 0.5]];
        soften(&mut one, 1);
        assert_eq!(one[0][3], 0.5);
    }

    #[test]
    fn distances_are_those_of_a_ruler() {
        let mut pixels = vec![[0.0; 4]; WIDTH * HEIGHT];
        pixels[50 * WIDTH + 100] = [0.0, 0.0, 0.0, 1.0];
        let far = distances(&pixels, WIDTH);
        for (x, y) in [(100, 50), (130, 50), (100, 7), (140, 90), (60, 20), (0, 119)] {
            let ruler = f32::hypot(x as f32 - 100.0, y as f32 - 50.0);
            assert!((far[y * WIDTH + x] - ruler).abs() <= 0.083 * ruler, "{x} {y}");
        }
    }
}

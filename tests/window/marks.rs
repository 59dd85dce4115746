//! Magenta dots on white: painting them, finding them again.

use glam::DVec2;
use tierproof::art::Picture;

use super::photograph::size;

/// White art with dots at shares of its width and height, of a radius in px.
pub fn dots(width: u32, height: u32, places: &[(f64, f64)], radius: f64) -> Picture {
    let mut picture = Picture::filled(width, height, [255; 4]);
    let whole = size(&picture);
    for &(across, down) in places {
        let middle = DVec2::new(across, down) * whole;
        for y in (middle.y - radius) as u32..=(middle.y + radius) as u32 {
            for x in (middle.x - radius) as u32..=(middle.x + radius) as u32 {
                let at = DVec2::new(f64::from(x) + 0.5, f64::from(y) + 0.5);
                if at.distance(middle) <= radius && x < width && y < height {
                    let start = (y as usize * width as usize + x as usize) * 4;
                    picture.rgba[start..start + 4].copy_from_slice(&[230, 0, 200, 255]);
                }
            }
        }
    }
    picture
}

/// The middle of the dot near a place, weighted by how magenta each pixel is; `None` where there is none.
pub fn middle(picture: &Picture, near: DVec2, reach: f64) -> Option<DVec2> {
    let (mut sum, mut weight) = (DVec2::ZERO, 0.0);
    let range = |middle: f64, most: u32| {
        (middle - reach).max(0.0) as u32..=((middle + reach).max(0.0) as u32).min(most.saturating_sub(1))
    };
    for y in range(near.y, picture.height) {
        for x in range(near.x, picture.width) {
            let [red, green, blue, _] = picture.pixel(x, y)?;
            let share = f64::from(red.min(blue).saturating_sub(green)) / 255.0;
            if share > 0.08 {
                sum += DVec2::new(f64::from(x) + 0.5, f64::from(y) + 0.5) * share;
                weight += share;
            }
        }
    }
    (weight > 3.0).then(|| sum / weight)
}

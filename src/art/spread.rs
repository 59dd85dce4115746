//! Running colours on beyond the edge of a figure, so that a cut a little off it shows no white.

use super::picture::Picture;

/// The picture with every clear pixel that lies within `radius` pixels of the figure in the colour of the figure's nearest
/// pixel that is no edge; the soft edge of the figure is laid over it.
#[must_use]
pub fn spread(picture: &Picture, radius: u32) -> Picture {
    let (width, reach) = (picture.width as usize, i64::from(radius));
    let pixels: &[[u8; 4]] = picture.rgba.as_chunks().0;
    let heights = nearest_in_columns(pixels, width, reach);
    let mut spread = picture.clone();
    for (n, pixel) in spread.rgba.as_chunks_mut().0.iter_mut().enumerate() {
        if pixel[3] == u8::MAX {
            continue;
        }
        let (column, row) = ((n % width.max(1)) as i64, (n / width.max(1)) as i64);
        let across = |step: i64| {
            let x = usize::try_from(column + step).ok().filter(|&x| x < width)?;
            let up = heights.get(row as usize * width + x).copied().flatten()?;
            let away = step * step + up * up;
            (away <= reach * reach).then_some((away, x, row + up))
        };
        let Some((_, x, y)) = (-reach..=reach).filter_map(across).min() else { continue };
        if let Some(&[red, green, blue, _]) = pixels.get(y as usize * width + x) {
            *pixel = over(*pixel, [red, green, blue]);
        }
    }
    spread
}

/// For every pixel, how far down (negative: up) the figure's nearest pixel of its column lies, within reach.
fn nearest_in_columns(pixels: &[[u8; 4]], width: usize, reach: i64) -> Vec<Option<i64>> {
    // On its edge a figure's colours are mixed, with those of whatever lies beneath.
    let solid = |n: Option<usize>| n.and_then(|n| pixels.get(n)).is_some_and(|pixel| pixel[3] == u8::MAX);
    let inner = |n: usize| {
        let around = [Some(n), n.checked_sub(1), Some(n + 1), n.checked_sub(width), Some(n + width)];
        around.into_iter().all(solid).then_some(0)
    };
    let mut nearest: Vec<Option<i64>> = (0..pixels.len()).map(inner).collect();
    let closer = |own: Option<i64>, other: Option<i64>, step: i64| {
        let other = other.map(|down| down + step).filter(|down| down.abs() <= reach);
        match (own, other) {
            (Some(own), Some(other)) if other.abs() < own.abs() => Some(other),
            (None, other) => other,
            (own, _) => own,
        }
    };
    for n in width..nearest.len() {
        let above = nearest.get(n - width).copied().flatten();
        if let Some(own) = nearest.get_mut(n) {
            *own = closer(*own, above, -1);
        }
    }
    for n in (0..nearest.len().saturating_sub(width)).rev() {
        let below = nearest.get(n + width).copied().flatten();
        if let Some(own) = nearest.get_mut(n) {
            *own = closer(*own, below, 1);
        }
    }
    nearest
}

/// A pixel over an opaque colour.
fn over([red, green, blue, alpha]: [u8; 4], [r, g, b]: [u8; 3]) -> [u8; 4] {
    let mix = |top: u8, under: u8| {
        let sum = u32::from(top) * u32::from(alpha) + u32::from(under) * u32::from(255 - alpha);
        ((sum + 127) / 255) as u8
    };
    [mix(red, r), mix(green, g), mix(blue, b), u8::MAX]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_run_on_evenly_all_round_and_no_further() {
        let mut picture = Picture::filled(41, 41, [0; 4]);
        picture.lay(&Picture::filled(3, 3, [200, 10, 10, 255]), (19, 19));
        let spread = spread(&picture, 8);
        for (x, y) in (0..41_u32).flat_map(|x| (0..41_u32).map(move |y| (x, y))) {
            let away = x.abs_diff(20).pow(2) + y.abs_diff(20).pow(2);
            let expected = if away <= 64 { [200, 10, 10, 255] } else { [0; 4] };
            assert_eq!(spread.pixel(x, y), Some(expected), "{x} {y}");
        }
    }

    #[test]
    fn a_soft_edge_lends_no_colour_and_keeps_no_clear_rim() {
        // Red at the left and blue at the right, between edges of another colour.
        let mut picture = Picture::filled(16, 9, [0; 4]);
        picture.lay(&Picture::filled(8, 7, [90, 90, 90, 200]), (4, 1));
        picture.lay(&Picture::filled(3, 5, [200, 0, 0, 255]), (5, 2));
        picture.lay(&Picture::filled(3, 5, [0, 0, 80, 255]), (8, 2));
        let spread = spread(&picture, 4);
        assert_eq!((spread.pixel(2, 4), spread.pixel(13, 4)), (Some([200, 0, 0, 255]), Some([0, 0, 80, 255])));
        assert_eq!(spread.pixel(1, 4), Some([0; 4]));
        assert!((4..12).all(|x| spread.pixel(x, 4).unwrap()[3] == 255));
        assert_eq!(super::spread(&Picture::default(), 3), Picture::default());
    }
}

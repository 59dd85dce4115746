//! Pixels in memory.

use std::borrow::Cow;

use super::resample::resample;

/// A picture: eight-bit sRGB with straight alpha, rows from the top, four bytes a pixel.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Picture {
    /// Columns.
    pub width: u32,
    /// Rows.
    pub height: u32,
    /// `width × height × 4` bytes: red, green, blue, alpha.
    pub rgba: Vec<u8>,
}

impl Picture {
    /// A picture of one colour throughout.
    #[must_use]
    pub fn filled(width: u32, height: u32, rgba: [u8; 4]) -> Self {
        Self { width, height, rgba: rgba.repeat(width as usize * height as usize) }
    }

    /// The same in fewer pixels where a side has more than `most`, in its proportions.
    #[must_use]
    pub fn at_most(&self, most: u32) -> Cow<'_, Self> {
        let longest = self.width.max(self.height);
        if longest <= most {
            return Cow::Borrowed(self);
        }
        let side = |side: u32| (u64::from(side) * u64::from(most) / u64::from(longest)).max(1) as u32;
        Cow::Owned(resample(self, Part::WHOLE, side(self.width), side(self.height)))
    }

    /// The pixel at column `x`, row `y`; `None` outside.
    #[must_use]
    pub fn pixel(&self, x: u32, y: u32) -> Option<[u8; 4]> {
        if x >= self.width || y >= self.height {
            return None;
        }
        let start = (y as usize * self.width as usize + x as usize) * 4;
        self.rgba.get(start..start + 4)?.try_into().ok()
    }

    /// Lays another picture over it, the other's upper left at a pixel; what stands over the edge is cut off. Where the
    /// other is transparent, this one shows through.
    pub fn lay(&mut self, other: &Self, (left, top): (u32, u32)) {
        let columns = other.width.min(self.width.saturating_sub(left)) as usize;
        let rows = other.height.min(self.height.saturating_sub(top)) as usize;
        let (stride, other_stride) = (self.width as usize * 4, other.width as usize * 4);
        let targets = self.rgba.chunks_exact_mut(stride.max(1)).skip(top as usize);
        for (target, source) in targets.zip(other.rgba.chunks_exact(other_stride.max(1))).take(rows) {
            let target = target.as_chunks_mut().0.iter_mut().skip(left as usize);
            for (under, over) in target.zip(source.as_chunks().0).take(columns) {
                *under = laid(*under, *over);
            }
        }
    }

    /// The picture turned by a quarter, clockwise: its upper edge comes to the right.
    #[must_use]
    pub fn turned(&self) -> Self {
        let (width, height) = (self.width as usize, self.height as usize);
        let pixels: &[[u8; 4]] = self.rgba.as_chunks().0;
        let place = |n: usize| (height - 1 - n % height) * width + n / height;
        let turned = (0..width * height).filter_map(|n| pixels.get(place(n)));
        Self { width: self.height, height: self.width, rgba: turned.flatten().copied().collect() }
    }

    /// The picture as in a mirror: left and right change places.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let rows = self.rgba.chunks_exact((self.width as usize * 4).max(1));
        let rgba = rows.flat_map(|row| row.as_chunks::<4>().0.iter().rev().flatten()).copied().collect();
        Self { width: self.width, height: self.height, rgba }
    }
}

/// One pixel over another, both with straight alpha (Porter and Duff 1984, "over").
fn laid(under: [u8; 4], over: [u8; 4]) -> [u8; 4] {
    let [.., alpha] = over;
    match alpha {
        255 => over,
        0 => under,
        _ => {
            let (top, below) = (u32::from(alpha) * 255, u32::from(under[3]) * u32::from(255 - alpha));
            let whole = top + below;
            let mix = |a: u8, b: u8| ((u32::from(a) * top + u32::from(b) * below + whole / 2) / whole) as u8;
            let [red, green, blue, _] = over;
            let [under_red, under_green, under_blue, _] = under;
            [mix(red, under_red), mix(green, under_green), mix(blue, under_blue), ((whole + 127) / 255) as u8]
        }
    }
}

/// A part of a picture or drawing, as shares of its width and height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// From the left edge, 0..1.
    pub left: f64,
    /// From the upper edge, 0..1.
    pub top: f64,
    /// Share of the width, above 0.
    pub width: f64,
    /// Share of the height, above 0.
    pub height: f64,
}

impl Part {
    /// All of it.
    pub const WHOLE: Self = Self { left: 0.0, top: 0.0, width: 1.0, height: 1.0 };

    /// A part of this part: from where and how much, as shares of its width and of its height.
    #[must_use]
    pub fn within(self, (left, width): (f64, f64), (top, height): (f64, f64)) -> Self {
        Self {
            left: self.left + left * self.width,
            top: self.top + top * self.height,
            width: self.width * width,
            height: self.height * height,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn six() -> Picture {
        let pixel = |n: u8| [n, n, n, 255];
        Picture { width: 3, height: 2, rgba: (0..6).flat_map(pixel).collect() }
    }

    fn greys(picture: &Picture) -> Vec<u8> {
        picture.rgba.chunks(4).map(|pixel| pixel[0]).collect()
    }

    #[test]
    fn turning_brings_the_upper_edge_to_the_right_and_four_turns_bring_it_back() {
        let turned = six().turned();
        assert_eq!((turned.width, turned.height, greys(&turned)), (2, 3, vec![3, 0, 4, 1, 5, 2]));
        assert_eq!(turned.turned().turned().turned(), six());
        assert_eq!(greys(&six().mirrored()), [2, 1, 0, 5, 4, 3]);
        assert_eq!(Picture::default().turned(), Picture::default());
        assert_eq!(Picture::default().mirrored(), Picture::default());
    }

    #[test]
    fn laying_cuts_off_what_stands_over_and_lets_clear_pixels_through() {
        let mut ground = Picture::filled(4, 3, [100, 100, 100, 255]);
        ground.lay(&six(), (2, 2));
        assert_eq!(greys(&ground)[8..], [100, 100, 0, 1]);
        ground.lay(&six(), (9, 9));
        ground.lay(&Picture::filled(1, 1, [0, 0, 0, 0]), (0, 0));
        ground.lay(&Picture::filled(1, 1, [0, 0, 0, 51]), (1, 0));
        assert_eq!(greys(&ground)[..2], [100, 80]);
        let mut clear = Picture::filled(1, 1, [0, 0, 0, 0]);
        clear.lay(&Picture::filled(1, 1, [50, 60, 70, 128]), (0, 0));
        assert_eq!(clear.rgba, [50, 60, 70, 128]);
    }

    #[test]
    fn what_is_too_long_is_shrunk_in_its_proportions() {
        let long = Picture::filled(900, 2, [9, 8, 7, 255]);
        let short = long.at_most(90);
        assert_eq!((short.width, short.height, short.pixel(45, 0)), (90, 1, Some([9, 8, 7, 255])));
        assert!(matches!(long.at_most(900), Cow::Borrowed(_)));
    }
}

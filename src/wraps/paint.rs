//! A face painted: the copies of the art that lie on it, or on a part of it, as pixels.

use glam::DVec2;

use super::face::{Face, Layout};
use crate::art::{Art, Part, Picture};

/// Most pixels of a painted face.
const MOST_PIXELS: f64 = 40_000_000.0;

/// A rectangle of a face, mm from the face's upper left. Beyond the ends of a face that closes, the print goes on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// Upper left corner.
    pub at: DVec2,
    /// Width and height.
    pub size: DVec2,
}

/// Paints a face at a width of at most `columns` pixels; where the art leaves it free or is transparent, it is the white of
/// an unprinted sheet.
#[must_use]
pub fn paint(art: &Art, layout: &Layout, face: Face, columns: u32) -> Picture {
    let per_mm = f64::from(columns.max(1)) / face.size.x;
    let per_mm = per_mm.min((MOST_PIXELS / (face.size.x * face.size.y)).sqrt());
    let pixels = |mm: f64| (mm * per_mm).round().clamp(1.0, 32_768.0) as u32;
    let window = Window { at: DVec2::ZERO, size: face.size };
    paint_window(art, layout, window, (pixels(face.size.x), pixels(face.size.y)))
}

/// Paints a rectangle of a face in so many pixels, and nothing beyond it: memory follows the rectangle, not the face. Every
/// pixel shows the copy that its middle lies on; a copy's edge is moved to the nearest edge of a pixel.
#[must_use]
pub fn paint_window(art: &Art, layout: &Layout, window: Window, (width, height): (u32, u32)) -> Picture {
    let mut picture = Picture::filled(width, height, [255; 4]);
    let across = runs(width, (window.at.x, window.size.x), (layout.at.x, layout.size.x, layout.pitch.x));
    let down = runs(height, (window.at.y, window.size.y), (layout.at.y, layout.size.y, layout.pitch.y));
    let mut painted: Vec<(Part, Picture)> = Vec::new();
    for row in &down {
        for column in &across {
            let part = layout.part.within(column.share, row.share);
            let size = (column.pixels.1 - column.pixels.0, row.pixels.1 - row.pixels.0);
            let alike = |(known, copy): &(Part, Picture)| *known == part && (copy.width, copy.height) == size;
            let place = (column.pixels.0, row.pixels.0);
            if let Some((_, copy)) = painted.iter().find(|known| alike(known)) {
                picture.lay(copy, place);
                continue;
            }
            let copy = art.paint_part(part, size.0, size.1);
            picture.lay(&copy, place);
            // Whole copies recur; what is cut off at an end does not.
            if column.whole() && row.whole() {
                painted.push((part, copy));
            }
        }
    }
    picture
}

/// Neighbouring pixels that show one copy.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Run {
    /// From and to, px.
    pixels: (u32, u32),
    /// From where in the copy and how much of it, as shares of its length.
    share: (f64, f64),
}

impl Run {
    fn whole(&self) -> bool {
        self.share == (0.0, 1.0)
    }
}

/// The copies that `count` pixels from `start` on show; each is `size` long, the first begins `at`, the next `pitch` on.
fn runs(count: u32, (start, length): (f64, f64), (at, size, pitch): (f64, f64, f64)) -> Vec<Run> {
    let step = length / f64::from(count);
    let pixel_at = |mm: f64| ((mm - start) / step).round().clamp(0.0, f64::from(count)) as u32;
    let (first, last) = if pitch.is_finite() {
        (((start - at) / pitch).floor() - 1.0, ((start + length - at) / pitch).ceil() + 1.0)
    } else {
        (0.0, 0.0)
    };
    let copies = (last - first).clamp(0.0, f64::from(count) + 2.0) as u32;
    let run = |number: u32| {
        let number = first + f64::from(number);
        let from = if number == 0.0 { at } else { at + number * pitch };
        let pixels = (pixel_at(from), pixel_at(from + size));
        // Where the window cuts the copy off, the rest of it; else all of it.
        let head = if from < start - step / 2.0 { (start - from) / size } else { 0.0 };
        let foot = if from + size > start + length + step / 2.0 { (start + length - from) / size } else { 1.0 };
        Run { pixels, share: (head, foot - head) }
    };
    (0..=copies).map(run).filter(|run| run.pixels.0 < run.pixels.1 && run.share.1 > 0.0).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::art::encode_png;

    /// Art of 40 × 10 px whose red tells the column and whose green tells the row.
    fn art() -> Art {
        let pixel = |n: u32| [(n % 40 * 5) as u8, (n / 40 * 20) as u8, 7, 255];
        let picture = Picture { width: 40, height: 10, rgba: (0..400).flat_map(pixel).collect() };
        Art::read(&encode_png(&picture).unwrap(), "a.png").unwrap()
    }

    fn tiled(at: DVec2) -> Layout {
        let size = DVec2::new(40.0, 10.0);
        Layout { at, size, part: Part::WHOLE, pitch: size, whole: size }
    }

    #[test]
    fn windows_of_a_face_are_parts_of_one_print() {
        let (art, layout) = (art(), tiled(DVec2::new(-13.0, 0.0)));
        let whole = Window { at: DVec2::ZERO, size: DVec2::new(200.0, 30.0) };
        let all = paint_window(&art, &layout, whole, (200, 30));
        for (x, y, width, height) in [(0, 0, 60, 30), (60, 3, 61, 9), (121, 11, 79, 19), (199, 29, 1, 1)] {
            let [left, top, wide, tall] = [x, y, width, height].map(f64::from);
            let window = Window { at: DVec2::new(left, top), size: DVec2::new(wide, tall) };
            let part = paint_window(&art, &layout, window, (width, height));
            for (column, row) in (0..width).flat_map(|column| (0..height).map(move |row| (column, row))) {
                assert_eq!(part.pixel(column, row), all.pixel(x + column, y + row), "{x}+{column} {y}+{row}");
            }
        }
        // Column 13 of the art stands at the face's left end.
        assert_eq!(all.pixel(0, 0), Some([65, 0, 7, 255]));
        assert_eq!(all.pixel(27, 10), Some([0, 0, 7, 255]));
    }

    #[test]
    fn past_the_ends_of_a_closed_face_the_print_goes_on_and_beside_a_single_picture_it_is_white() {
        let art = art();
        let window = Window { at: DVec2::new(190.0, 0.0), size: DVec2::new(20.0, 10.0) };
        let over = paint_window(&art, &tiled(DVec2::ZERO), window, (20, 10));
        assert_eq!((over.pixel(9, 0), over.pixel(10, 0)), (Some([195, 0, 7, 255]), Some([0, 0, 7, 255])));
        let single = Layout { pitch: DVec2::INFINITY, ..tiled(DVec2::new(5.0, 2.0)) };
        let window = Window { at: DVec2::ZERO, size: DVec2::new(60.0, 20.0) };
        let picture = paint_window(&art, &single, window, (60, 20));
        assert_eq!(picture.pixel(4, 5), Some([255; 4]));
        assert_eq!(picture.pixel(5, 2), Some([0, 0, 7, 255]));
        assert_eq!((picture.pixel(44, 11), picture.pixel(45, 11)), (Some([195, 180, 7, 255]), Some([255; 4])));
    }

    #[test]
    fn touching_copies_leave_no_line_between_them_whatever_the_pixels() {
        let svg = r##"<svg xmlns="http://www.w3.org/2000/svg" width="40" height="10"><path d="M0 0H40V10H0Z" fill="#123456"/></svg>"##;
        let art = Art::read(svg.as_bytes(), "a.svg").unwrap();
        let window = Window { at: DVec2::new(1.7, 0.0), size: DVec2::new(190.3, 10.0) };
        let picture = paint_window(&art, &tiled(DVec2::new(-13.3, 0.0)), window, (1013, 53));
        assert!(picture.rgba.chunks(4).all(|pixel| pixel == [0x12, 0x34, 0x56, 255]));
    }

    #[test]
    fn a_picture_one_pixel_high_and_a_window_of_one_pixel_do_no_harm() {
        let line = Art::read(&encode_png(&Picture::filled(300, 1, [9, 9, 9, 255])).unwrap(), "a.png").unwrap();
        let window = Window { at: DVec2::ZERO, size: DVec2::new(100.0, 50.0) };
        assert_eq!(paint_window(&line, &tiled(DVec2::ZERO), window, (1, 1)).pixel(0, 0), Some([9, 9, 9, 255]));
        assert_eq!(paint_window(&line, &tiled(DVec2::ZERO), window, (100, 50)).pixel(99, 49), Some([9, 9, 9, 255]));
    }
}

//! A pen that draws on a picture: lines, dashes, filled figures, lettering with a halo. Pixels, y down from the top left.

use glam::DVec2;
use resvg::tiny_skia::{
    FillRule, FilterQuality, IntSize, LineCap, LineJoin, Paint, Path, PathBuilder, Pixmap, PixmapPaint, Stroke,
    StrokeDash, Transform,
};

use super::{Colour, Line, Picture};

/// How a line is drawn; lengths in the unit of what it is drawn on.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// Thickness.
    pub width: f64,
    /// Colour.
    pub colour: Colour,
    /// 1 covers what lies beneath, 0 is not seen.
    pub opacity: f64,
    /// Lengths of dash and gap in turn; empty: drawn through.
    pub dashes: Vec<f64>,
}

impl Stretch {
    /// A covering line, drawn through.
    #[must_use]
    pub const fn solid(width: f64, colour: Colour) -> Self {
        Self { width, colour, opacity: 1.0, dashes: Vec::new() }
    }
}

/// A picture under the pen.
#[derive(Clone, Debug)]
pub struct Sketch {
    pixels: Pixmap,
}

impl Sketch {
    /// Begins to draw on an opaque picture; `None` when it has no pixel or its bytes don't match its size.
    #[must_use]
    pub fn on(picture: &Picture) -> Option<Self> {
        let size = IntSize::from_wh(picture.width, picture.height)?;
        let mut bytes = picture.rgba.clone();
        // tiny-skia keeps colours multiplied by their alpha; for an opaque picture they are the same.
        bytes.chunks_exact_mut(4).filter_map(|pixel| pixel.last_mut()).for_each(|alpha| *alpha = u8::MAX);
        Some(Self { pixels: Pixmap::from_vec(bytes, size)? })
    }

    /// Draws a line from point to point.
    pub fn line(&mut self, points: &[DVec2], stretch: &Stretch) {
        if let Some(path) = path(&[points], false) {
            let dash = StrokeDash::new(stretch.dashes.iter().map(|&length| length as f32).collect(), 0.0);
            let stroke = stroke(stretch.width, dash);
            let paint = paint(stretch.colour, stretch.opacity);
            self.pixels.stroke_path(&path, &paint, &stroke, Transform::identity(), None);
        }
    }

    /// Fills closed rings; where two overlap, a hole. Opacity: 1 covers what lies beneath, 0 is not seen.
    pub fn fill(&mut self, rings: &[&[DVec2]], colour: Colour, opacity: f64) {
        if let Some(path) = path(rings, true) {
            self.pixels.fill_path(&path, &paint(colour, opacity), FillRule::EvenOdd, Transform::identity(), None);
        }
    }

    /// Lays an opaque picture over a rectangle, from its upper left to its lower right corner.
    pub fn picture(&mut self, [low, high]: [DVec2; 2], picture: &Picture) {
        let Some(picture) = Self::on(picture) else { return };
        let (width, height) = (picture.pixels.width() as f32, picture.pixels.height() as f32);
        let size = (high - low).as_vec2();
        let place = Transform::from_row(size.x / width, 0.0, 0.0, size.y / height, low.x as f32, low.y as f32);
        let smooth = PixmapPaint { quality: FilterQuality::Bilinear, ..PixmapPaint::default() };
        self.pixels.draw_pixmap(0, 0, picture.pixels.as_ref(), &smooth, place, None);
    }

    /// Draws a line of lettering (set in px) from `at`, its baseline's start; a halo is so wide that it reads on anything.
    pub fn lettering(&mut self, at: DVec2, line: &Line, (ink, halo): (Colour, Option<Colour>)) {
        let place = |point: &DVec2| at + DVec2::new(point.x, -point.y);
        let rings: Vec<Vec<DVec2>> = line.outline().rings.iter().map(|ring| ring.iter().map(place).collect()).collect();
        let rings: Vec<&[DVec2]> = rings.iter().map(Vec::as_slice).collect();
        if let Some((letters, halo)) = path(&rings, true).zip(halo) {
            let around = stroke(line.size * 0.34, None);
            self.pixels.stroke_path(&letters, &paint(halo, 0.92), &around, Transform::identity(), None);
        }
        self.fill(&rings, ink, 1.0);
    }

    /// The picture with everything drawn on it.
    #[must_use]
    pub fn finish(self) -> Picture {
        Picture { width: self.pixels.width(), height: self.pixels.height(), rgba: self.pixels.take_demultiplied() }
    }
}

fn paint(colour: Colour, opacity: f64) -> Paint<'static> {
    let mut paint = Paint { anti_alias: true, ..Paint::default() };
    let alpha = (opacity.clamp(0.0, 1.0) * 255.0).round() as u8;
    paint.set_color_rgba8(colour.red, colour.green, colour.blue, alpha);
    paint
}

fn stroke(width: f64, dash: Option<StrokeDash>) -> Stroke {
    Stroke { width: width as f32, line_cap: LineCap::Butt, line_join: LineJoin::Round, dash, ..Stroke::default() }
}

/// `None` when there is nothing to draw.
fn path(rings: &[&[DVec2]], closed: bool) -> Option<Path> {
    let mut path = PathBuilder::new();
    for ring in rings {
        for (number, at) in ring.iter().enumerate() {
            let (x, y) = (at.x as f32, at.y as f32);
            if number == 0 { path.move_to(x, y) } else { path.line_to(x, y) }
        }
        if closed && !ring.is_empty() {
            path.close();
        }
    }
    path.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::art::{Typeface, shape};

    const INK: Colour = Colour::new(10, 20, 30);
    const HALO: Colour = Colour::new(250, 250, 250);

    fn sketch() -> Sketch {
        Sketch::on(&Picture::filled(60, 40, [90, 90, 90, 255])).unwrap()
    }

    #[test]
    fn a_line_covers_its_pixels_and_no_others() {
        let mut sketch = sketch();
        sketch.line(&[DVec2::new(10.0, 20.0), DVec2::new(50.0, 20.0)], &Stretch::solid(4.0, INK));
        let picture = sketch.finish();
        let covered = |&y: &u32| picture.pixel(30, y) == Some([10, 20, 30, 255]);
        assert_eq!((0..40).filter(covered).collect::<Vec<_>>(), [18, 19, 20, 21]);
        assert_eq!(picture.pixel(5, 20), Some([90, 90, 90, 255]));
    }

    #[test]
    fn dashes_leave_gaps() {
        let mut sketch = sketch();
        let dashed = Stretch { dashes: vec![10.0, 10.0], ..Stretch::solid(4.0, INK) };
        sketch.line(&[DVec2::new(0.0, 20.0), DVec2::new(60.0, 20.0)], &dashed);
        let picture = sketch.finish();
        let covered: Vec<bool> = [5, 15, 25, 35].map(|x| picture.pixel(x, 20) == Some([10, 20, 30, 255])).to_vec();
        assert_eq!(covered, [true, false, true, false]);
    }

    #[test]
    fn lettering_stands_upright_on_its_baseline_in_a_halo() {
        let mut sketch = sketch();
        let line = shape("L", Typeface::Strong, 30.0);
        sketch.lettering(DVec2::new(20.0, 32.0), &line, (INK, Some(HALO)));
        let picture = sketch.finish();
        let ink: Vec<(u32, u32)> = (0..60)
            .flat_map(|x| (0..40).map(move |y| (x, y)))
            .filter(|&(x, y)| picture.pixel(x, y) == Some([10, 20, 30, 255]))
            .collect();
        // An L is wide at its foot, which is the last row above the baseline.
        let row = |y: u32| ink.iter().filter(|at| at.1 == y).count();
        assert_eq!(ink.iter().map(|at| at.1).max(), Some(31));
        assert!(row(30) > 2 * row(15));
        let beside = picture.pixel(20, 20).unwrap();
        assert!(beside[0] > 200, "{beside:?}");
    }

    #[test]
    fn a_picture_without_its_bytes_takes_no_pen() {
        assert!(Sketch::on(&Picture { width: 2, height: 2, rgba: vec![0; 4] }).is_none());
        assert!(Sketch::on(&Picture::default()).is_none());
    }
}

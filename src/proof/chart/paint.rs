//! A chart as pixels.

use glam::DVec2;

use super::{Chart, Mark};
use crate::art::{Picture, Sketch, Stretch, shape};
use crate::proof::ink::PAPER;

/// Most pixels a side of a painted chart has.
const MOST: f64 = 16_384.0;

impl Chart {
    /// The page on paper at so many pixels to the millimetre, or as many as a picture may have.
    #[must_use]
    pub fn paint(&self, per_mm: f64) -> Picture {
        let per_mm = per_mm.min(MOST / self.size.max_element().max(1.0));
        let side = |length: f64| (length * per_mm).ceil().clamp(1.0, MOST) as u32;
        let ground = [PAPER.red, PAPER.green, PAPER.blue, u8::MAX];
        let page = Picture::filled(side(self.size.x), side(self.size.y), ground);
        let Some(mut sketch) = Sketch::on(&page) else { return page };
        for mark in &self.marks {
            draw(&mut sketch, mark, per_mm);
        }
        sketch.finish()
    }
}

impl Chart {
    /// The marks over an opaque picture, a pixel to the chart's unit.
    #[must_use]
    pub fn over(&self, picture: &Picture) -> Picture {
        let Some(mut sketch) = Sketch::on(picture) else { return picture.clone() };
        for mark in &self.marks {
            draw(&mut sketch, mark, 1.0);
        }
        sketch.finish()
    }
}

fn draw(sketch: &mut Sketch, mark: &Mark, per_mm: f64) {
    let place = |points: &[DVec2]| -> Vec<DVec2> { points.iter().map(|&at| at * per_mm).collect() };
    match mark {
        Mark::Area { rings, colour, opacity } => {
            let rings: Vec<Vec<DVec2>> = rings.iter().map(|ring| place(ring)).collect();
            let rings: Vec<&[DVec2]> = rings.iter().map(Vec::as_slice).collect();
            sketch.fill(&rings, *colour, *opacity);
        }
        Mark::Line { points, pen } => {
            let dashes = pen.dashes.iter().map(|length| length * per_mm).collect();
            sketch.line(&place(points), &Stretch { width: pen.width * per_mm, dashes, ..pen.clone() });
        }
        Mark::Text(text) => {
            let hand = text.hand;
            let line = shape(&text.text, hand.face, hand.size * per_mm);
            sketch.lettering(text.at * per_mm, &line, (hand.colour, hand.halo.then_some(PAPER)));
        }
        Mark::Picture { low, high, picture } => sketch.picture([*low * per_mm, *high * per_mm], picture),
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::art::Colour;
    use crate::proof::chart::{Align, Hand};

    #[test]
    fn marks_fall_where_they_are_said_to_and_later_ones_cover_earlier_ones() {
        let mut chart = Chart::new("a page", DVec2::new(30.0, 20.0));
        let red = Colour::new(200, 0, 0);
        chart.block([DVec2::new(5.0, 5.0), DVec2::new(15.0, 15.0)], red);
        let blue = Arc::new(Picture::filled(2, 2, [0, 0, 200, 255]));
        chart.marks.push(Mark::Picture { low: DVec2::new(10.0, 5.0), high: DVec2::new(20.0, 15.0), picture: blue });
        chart.line([DVec2::new(0.0, 18.0), DVec2::new(30.0, 18.0)], Stretch::solid(1.0, red));
        chart.text((DVec2::new(30.0, 4.0), Align::Right), "HHH", Hand::strong(4.0));
        let page = chart.paint(4.0);
        assert_eq!((page.width, page.height), (120, 80));
        let at = |x: f64, y: f64| page.pixel((x * 4.0) as u32, (y * 4.0) as u32).unwrap();
        assert_eq!(
            [at(7.0, 10.0), at(12.0, 10.0), at(19.5, 10.0)],
            [[200, 0, 0, 255], [0, 0, 200, 255], [0, 0, 200, 255]]
        );
        assert_eq!((at(25.0, 10.0), at(25.0, 18.0)), ([255, 253, 249, 255], [200, 0, 0, 255]));
        let inked = |x: u32| (4..16).any(|y| page.pixel(x, y).unwrap()[0] < 90);
        assert!((114..120).any(inked) && !(0..80).any(inked));
    }

    #[test]
    fn a_huge_page_is_painted_within_bounds() {
        let chart = Chart::new("", DVec2::new(1.0, 100_000.0));
        assert_eq!(chart.paint(300.0).height, 16_384);
    }
}

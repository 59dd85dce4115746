//! A page's lines and words as pixels: for pictures that show what a page shows.

use glam::DVec2;

use super::page::{Facing, Mark, Page, Trace};
use crate::art::{Picture, Sketch, Stretch};
use crate::proof::chart::{Align, Chart, Hand};

/// Draws all marks but pictures on a picture with so many pixels to the mm; the page's upper left is the picture's.
#[must_use]
pub fn draw(picture: &Picture, marks: &[Mark], per_mm: f64) -> Picture {
    let Some(mut sketch) = Sketch::on(picture) else { return picture.clone() };
    for mark in marks {
        match mark {
            Mark::Text(at, words, colour) => {
                fill(&mut sketch, &letters(words, *at, Facing::Up), (*colour, per_mm));
            }
            Mark::Sideways(at, words, colour, facing) => {
                fill(&mut sketch, &letters(words, *at, *facing), (*colour, per_mm));
            }
            Mark::Line(Trace { points, closed }, pen) => {
                let ends = points.first().filter(|_| *closed);
                let points: Vec<DVec2> = points.iter().chain(ends).map(|&at| at * per_mm).collect();
                let dashes = pen.dashes.iter().map(|length| length * per_mm).collect();
                sketch.line(&points, &Stretch { dashes, ..Stretch::solid(pen.width * per_mm, pen.colour) });
            }
            Mark::Area(traces, colour) => {
                let rings: Vec<Vec<DVec2>> = traces.iter().map(|trace| trace.points.clone()).collect();
                fill(&mut sketch, &rings, (*colour, per_mm));
            }
            Mark::Picture(..) => {}
        }
    }
    sketch.finish()
}

/// A page's lines and words as a chart of the page's size.
#[must_use]
pub fn chart(page: &Page, title: &str) -> Chart {
    let mut chart = Chart::new(title, DVec2::from(page.size));
    for mark in &page.marks {
        match mark {
            Mark::Text(at, words, colour) => {
                let hand = Hand::text(words.line.size).coloured(*colour);
                chart.text((*at, Align::Left), words.text.as_str(), hand);
            }
            Mark::Line(Trace { points, closed }, pen) => {
                let points: Vec<DVec2> = points.iter().chain(points.first().filter(|_| *closed)).copied().collect();
                chart.line(points, Stretch { dashes: pen.dashes.clone(), ..Stretch::solid(pen.width, pen.colour) });
            }
            Mark::Area(traces, colour) => {
                chart.area(traces.iter().map(|trace| trace.points.clone()).collect(), (*colour, 1.0));
            }
            Mark::Sideways(..) | Mark::Picture(..) => {}
        }
    }
    chart
}

fn letters(words: &super::typeset::Words, at: DVec2, facing: Facing) -> Vec<Vec<DVec2>> {
    // Letters count y upwards from their baseline.
    let place = |point: &DVec2| match facing {
        Facing::Up => at + DVec2::new(point.x, -point.y),
        Facing::Right => at + DVec2::new(point.y, point.x),
        Facing::Left => at + DVec2::new(-point.y, -point.x),
    };
    words.line.outline().rings.iter().map(|ring| ring.iter().map(place).collect()).collect()
}

fn fill(sketch: &mut Sketch, rings: &[Vec<DVec2>], (colour, per_mm): (crate::art::Colour, f64)) {
    let rings: Vec<Vec<DVec2>> = rings.iter().map(|ring| ring.iter().map(|&at| at * per_mm).collect()).collect();
    let rings: Vec<&[DVec2]> = rings.iter().map(Vec::as_slice).collect();
    sketch.fill(&rings, colour, 1.0);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::art::Colour;
    use crate::packs::pdf::{INK, Page, Pen, Style};

    const WHITE: [u8; 4] = [255; 4];

    /// Columns and rows, least and greatest, that something was drawn on.
    fn drawn(page: &Page) -> Option<[u32; 4]> {
        let picture = draw(&Picture::filled(400, 400, WHITE), &page.marks, 10.0);
        let places = (0..400).flat_map(|x| (0..400).map(move |y| (x, y)));
        places.filter(|&(x, y)| picture.pixel(x, y) != Some(WHITE)).fold(None, |found, (x, y)| {
            let [left, top, right, foot] = found.unwrap_or([x, y, x, y]);
            Some([left.min(x), top.min(y), right.max(x), foot.max(y)])
        })
    }

    #[test]
    fn a_line_lies_where_it_is_on_the_page() {
        let mut page = Page::new([40.0, 40.0]);
        page.line(DVec2::new(5.0, 10.0), DVec2::new(25.0, 10.0), Pen::solid(0.2, Colour::new(0, 0, 0)));
        assert_eq!(drawn(&page), Some([50, 99, 249, 100]));
    }

    #[test]
    fn letters_stand_on_their_baseline_whichever_way_they_face() {
        let words = Style::TITLE.line("HHH");
        let [wide, tall] = [words.width, words.line.cap_height].map(|mm| (mm * 10.0) as u32);
        for (facing, [left, top, right, foot]) in [
            (Facing::Up, [200, 200 - tall, 200 + wide, 200]),
            (Facing::Right, [200, 200, 200 + tall, 200 + wide]),
            (Facing::Left, [200 - tall, 200 - wide, 200, 200]),
        ] {
            let mut page = Page::new([40.0, 40.0]);
            page.text_facing(DVec2::splat(20.0), (words.clone(), INK), facing);
            let found = drawn(&page).unwrap();
            for (found, expected) in found.into_iter().zip([left, top, right, foot]) {
                assert!(found.abs_diff(expected) < 12, "{facing:?} {found} {expected}");
            }
        }
    }
}

//! A chart on a page: its lines, areas, words and pictures, at true size or smaller.

use glam::DVec2;

use super::page::{Frame, Mark, Page, Pen, Print, Trace};
use super::tags::Role;
use super::typeset::Style;
use crate::art::Colour;
use crate::packs::PackError;
use crate::proof::chart::{Chart, Lettering, Mark as Drawn};
use crate::proof::ink::PAPER;

/// Free round letters that stand on others, mm.
const HALO: f64 = 0.5;

/// Draws a chart into a frame, its upper left corner in the frame's, as large as it fits and no larger than true.
///
/// # Errors
/// [`PackError::Writer`] for a picture without pixels.
pub fn lay_chart(page: &mut Page, chart: &Chart, frame: Frame) -> Result<(), PackError> {
    let from = page.marks.len();
    let scale = (frame.width / chart.size.x).min(frame.height / chart.size.y).min(1.0);
    let place = |at: DVec2| DVec2::new(frame.x, frame.y) + at * scale;
    for mark in &chart.marks {
        match mark {
            Drawn::Area { rings, colour, opacity } => {
                let traces =
                    rings.iter().map(|ring| Trace { points: ring.iter().map(|&at| place(at)).collect(), closed: true });
                page.area(traces.collect(), thinned(*colour, *opacity));
            }
            Drawn::Line { points, pen } => {
                let dashes: Vec<f64> = pen.dashes.iter().map(|length| length * scale).collect();
                let pen = Pen::dashed(pen.width * scale, thinned(pen.colour, pen.opacity), &dashes);
                page.trace(Trace { points: points.iter().map(|&at| place(at)).collect(), closed: false }, pen);
            }
            Drawn::Text(text) => letters(page, text, (place(text.at), scale)),
            Drawn::Picture { low, high, picture } => {
                let (low, high) = (place(*low), place(*high));
                let frame = Frame { x: low.x, y: low.y, width: high.x - low.x, height: high.y - low.y };
                page.marks.push(Mark::Picture(frame, Print::lossless(picture)?));
            }
        }
    }
    page.tell(from, Role::Figure(chart.title.clone()));
    Ok(())
}

fn letters(page: &mut Page, text: &Lettering, (at, scale): (DVec2, f64)) {
    let hand = text.hand;
    let style = Style { face: hand.face, points: hand.size * scale * 72.0 / 25.4, leading: 1.2, colour: hand.colour };
    let words = style.line(&text.text);
    if hand.halo {
        let tall = words.line.cap_height;
        let around = Frame {
            x: at.x - HALO * scale,
            y: at.y - tall - HALO * scale,
            width: words.width + 2.0 * HALO * scale,
            height: tall + 2.0 * HALO * scale,
        };
        page.block(around, PAPER);
    }
    page.text(at, words, hand.colour);
}

/// A colour as it looks at an opacity on paper.
fn thinned(colour: Colour, opacity: f64) -> Colour {
    let mix = |own: u8, paper: u8| (f64::from(own) * opacity + f64::from(paper) * (1.0 - opacity)).round() as u8;
    Colour::new(mix(colour.red, PAPER.red), mix(colour.green, PAPER.green), mix(colour.blue, PAPER.blue))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::art::Stretch;

    #[test]
    fn a_chart_shrinks_to_its_frame_and_never_grows() {
        let mut chart = Chart::new("t", DVec2::new(200.0, 100.0));
        chart.line([DVec2::ZERO, DVec2::new(200.0, 100.0)], Stretch::solid(0.4, Colour::new(0, 0, 0)));
        for (width, end) in [(100.0, DVec2::new(110.0, 70.0)), (300.0, DVec2::new(210.0, 120.0))] {
            let mut page = Page::new([400.0, 300.0]);
            lay_chart(&mut page, &chart, Frame { x: 10.0, y: 20.0, width, height: 200.0 }).unwrap();
            let [Mark::Line(trace, _)] = &page.marks[..] else { panic!("{page:?}") };
            assert!(trace.points[1].distance(end) < 1e-9);
        }
    }
}

//! A figure larger than a page, spread over several pages that overlap. Crosses stand in the overlaps, at the same place of
//! the figure on both pages: cross on cross, and the pages lie right.
//!
//! ```text
//!   +----------------+
//!   |            +  :|   : the next page begins
//!   |   figure      :|   + a cross, also on the next page
//!   |            +  :|
//!   +----------------+
//! ```

use glam::DVec2;

use super::card::{Card, Stroke};
use crate::packs::pdf::{ACCENT, MUTED, Page, Pen, Style, Trace};

/// Two neighbours share so much.
const OVERLAP: f64 = 14.0;
/// Half a cross.
const ARM: f64 = 3.0;
/// Room for the words below a tile.
const WORDS: f64 = 16.0;

/// One page of a figure.
pub(super) struct Tile {
    /// `harbour wall · plate, sheet 2 of 6`.
    pub title: String,
    place: String,
    /// The upper left corner of what is shown, in the frame of the card as it is laid.
    low: DVec2,
    size: DVec2,
    turned: bool,
    /// Whether it has a neighbour at the left, above, at the right, below.
    next: [bool; 4],
}

/// How many pages across and down, sharing an overlap.
fn counts(figure: DVec2, page: DVec2) -> [u32; 2] {
    let count = ((figure - OVERLAP) / (page - OVERLAP)).ceil().max(DVec2::ONE);
    count.to_array().map(|count| count as u32)
}

/// The pages of a card's figure, row by row, the way round that takes fewer.
pub(super) fn tiles(card: &Card, room: DVec2) -> Vec<Tile> {
    let size = room - DVec2::Y * WORDS;
    let lying = [card.figure, DVec2::new(card.figure.y, card.figure.x)].map(|figure| counts(figure, size));
    let [upright, quarter] = lying;
    let turned = quarter[0] * quarter[1] < upright[0] * upright[1];
    let [across, down] = if turned { quarter } else { upright };
    let places = (0..down).flat_map(|row| (0..across).map(move |column| (column, row)));
    let tile = |((column, row), number): ((u32, u32), u32)| Tile {
        title: format!("{}, page {number} of {}", card.name, across * down),
        place: format!("Row {} of {down}, column {} of {across}.", row + 1, column + 1),
        low: DVec2::new(f64::from(column), f64::from(row)) * (size - OVERLAP),
        size,
        turned,
        next: [column > 0, row > 0, column + 1 < across, row + 1 < down],
    };
    places.zip(1..).map(tile).collect()
}

impl Tile {
    /// Draws the tile with its upper left corner at a place.
    pub fn draw(&self, page: &mut Page, card: &Card, at: DVec2) {
        for Stroke { points, closed, pen } in &card.strokes {
            let ring = points.iter().chain(points.first().filter(|_| *closed)).map(|&own| self.shown(card, own));
            for points in within(&ring.collect::<Vec<_>>(), self.size) {
                let points = points.into_iter().map(|own| own + at).collect();
                page.trace(Trace { points, closed: false }, pen.clone());
            }
        }
        self.register(page, at);
        let told = format!("{} Lay cross on cross of its neighbours, stick them together, then cut.", self.place);
        let mut y = at.y + self.size.y + 3.0;
        for (text, style) in [(self.title.as_str(), Style::STRONG), (told.as_str(), Style::LABEL)] {
            page.text(DVec2::new(at.x, y + style.rise()), style.line(text), style.colour);
            y += style.step();
        }
        if let Some((_, details, colour)) = card.below.last() {
            page.text(DVec2::new(at.x, y + Style::LABEL.rise()), details.clone(), *colour);
        }
    }

    /// A place of the card in the frame of the tile.
    fn shown(&self, card: &Card, own: DVec2) -> DVec2 {
        let laid = if self.turned { DVec2::new(card.figure.y - own.y, own.x) } else { own };
        laid - self.low
    }

    /// Crosses and dashed lines where neighbours lie over it.
    fn register(&self, page: &mut Page, at: DVec2) {
        let [left, above, right, below] = self.next;
        let middle = OVERLAP / 2.0;
        let upright = [(left, middle), (right, self.size.x - middle)];
        let level = [(above, middle), (below, self.size.y - middle)];
        for (_, x) in upright.into_iter().filter(|(there, _)| *there) {
            for share in [0.25, 0.75] {
                cross(page, at + DVec2::new(x, self.size.y * share));
            }
        }
        for (_, y) in level.into_iter().filter(|(there, _)| *there) {
            for share in [0.25, 0.75] {
                cross(page, at + DVec2::new(self.size.x * share, y));
            }
        }
        let dashed = Pen::dashed(0.12, MUTED, &[1.0, 1.5]);
        let begins = [(left, OVERLAP), (right, self.size.x - OVERLAP)];
        for (_, x) in begins.into_iter().filter(|(there, _)| *there) {
            page.line(at + DVec2::X * x, at + DVec2::new(x, self.size.y), dashed.clone());
        }
        let begins = [(above, OVERLAP), (below, self.size.y - OVERLAP)];
        for (_, y) in begins.into_iter().filter(|(there, _)| *there) {
            page.line(at + DVec2::Y * y, at + DVec2::new(self.size.x, y), dashed.clone());
        }
    }
}

fn cross(page: &mut Page, at: DVec2) {
    for arm in [DVec2::X * ARM, DVec2::Y * ARM] {
        page.line(at - arm, at + arm, Pen::solid(0.2, ACCENT));
    }
}

/// The parts of a line that lie on a page from the origin to `size` (Liang and Barsky, 1984, edge by edge).
fn within(points: &[DVec2], size: DVec2) -> Vec<Vec<DVec2>> {
    let mut runs: Vec<Vec<DVec2>> = Vec::new();
    for (&from, &to) in points.iter().zip(points.iter().skip(1)) {
        let Some([start, end]) = clipped([from, to], size) else { continue };
        match runs.last_mut() {
            Some(run) if run.last() == Some(&start) => run.push(end),
            _ => runs.push(vec![start, end]),
        }
    }
    runs
}

fn clipped([from, to]: [DVec2; 2], size: DVec2) -> Option<[DVec2; 2]> {
    let way = to - from;
    let (mut first, mut last) = (0.0_f64, 1.0_f64);
    for (start, step, most) in [(from.x, way.x, size.x), (from.y, way.y, size.y)] {
        if step == 0.0 {
            if start < 0.0 || start > most {
                return None;
            }
            continue;
        }
        let (enters, leaves) = (-start / step, (most - start) / step);
        first = first.max(enters.min(leaves));
        last = last.min(enters.max(leaves));
    }
    let at = |share: f64| if share >= 1.0 { to } else { from + way * share };
    (first < last).then(|| [at(first), at(last)])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::packs::pdf::INK;

    #[test]
    fn tiles_hold_every_line_and_neighbours_share_an_overlap() {
        let mut card = Card::plain(DVec2::new(500.0, 300.0), "wall · plate".to_owned(), "cut 1");
        let ring = vec![DVec2::ZERO, DVec2::new(500.0, 0.0), DVec2::new(500.0, 300.0), DVec2::new(0.0, 300.0)];
        card.strokes.push(Stroke { points: ring, closed: true, pen: Pen::solid(0.2, INK) });
        let room = DVec2::new(190.0, 250.0);
        let tiles = tiles(&card, room);
        // 500 across and 300 down on 190 × 234 with 14 shared: 3 × 2, and as many turned.
        assert_eq!((tiles.len(), tiles[0].turned), (6, false));
        let drawn: f64 = tiles
            .iter()
            .map(|tile| {
                let mut page = Page::new([210.0, 297.0]);
                let ring: Vec<DVec2> = card.strokes[0].points.iter().map(|&at| tile.shown(&card, at)).collect();
                let closed: Vec<DVec2> = ring.iter().chain(ring.first()).copied().collect();
                tile.draw(&mut page, &card, DVec2::splat(10.0));
                assert!(!page.marks.is_empty());
                let runs = within(&closed, tile.size);
                runs.iter().flat_map(|run| run.iter().zip(run.iter().skip(1))).map(|(a, b)| a.distance(*b)).sum::<f64>()
            })
            .sum();
        // Once round, and the overlaps twice: one on each of the two short sides, two on each of the long ones.
        assert!((drawn - (1600.0 + 2.0 * 14.0 + 4.0 * 14.0)).abs() < 1e-6, "{drawn}");
    }

    #[test]
    fn a_line_is_cut_where_it_leaves_the_page() {
        let size = DVec2::new(10.0, 10.0);
        let line = [DVec2::new(-5.0, 5.0), DVec2::new(15.0, 5.0), DVec2::new(15.0, 20.0), DVec2::new(5.0, 5.0)];
        let runs = within(&line, size);
        assert_eq!(runs.len(), 2);
        assert_eq!(runs[0], [DVec2::new(0.0, 5.0), DVec2::new(10.0, 5.0)]);
        assert!(runs[1][0].distance(DVec2::new(25.0 / 3.0, 10.0)) < 1e-9 && runs[1][1] == DVec2::new(5.0, 5.0));
        assert_eq!(clipped([DVec2::new(-1.0, -1.0), DVec2::new(-1.0, 20.0)], size), None);
    }
}

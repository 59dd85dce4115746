//! A chart: one page drawn flat, as plain values, for whoever makes a file or a window of it.
//!
//! Unit: mm of the page. Frame: x to the right, y **down**, from the page's upper left corner. Later marks cover earlier ones.

mod paint;

use std::sync::Arc;

use glam::DVec2;

use super::ink::INK;
use crate::art::{Colour, Picture, Ring, Stretch, Typeface, shape};

/// A page with everything drawn on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// What it shows, in one line.
    pub title: String,
    /// Width and height.
    pub size: DVec2,
    /// In drawing order.
    pub marks: Vec<Mark>,
}

/// One thing drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// Filled rings; where two overlap, a hole (even-odd).
    Area {
        /// Its rings, closed.
        rings: Vec<Ring>,
        /// Its colour.
        colour: Colour,
        /// 1 covers what lies beneath, 0 is not seen.
        opacity: f64,
    },
    /// A line from point to point.
    Line {
        /// From point to point.
        points: Vec<DVec2>,
        /// How it is drawn.
        pen: Stretch,
    },
    /// A line of text.
    Text(Lettering),
    /// An opaque picture, stretched over a rectangle.
    Picture {
        /// Upper left corner.
        low: DVec2,
        /// Lower right corner.
        high: DVec2,
        /// What is shown.
        picture: Arc<Picture>,
    },
}

/// A line of text in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Lettering {
    /// Where its baseline starts.
    pub at: DVec2,
    /// What it says.
    pub text: String,
    /// How it is set.
    pub hand: Hand,
    /// Its width as set.
    pub width: f64,
}

/// How text is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hand {
    /// Its voice.
    pub face: Typeface,
    /// One em.
    pub size: f64,
    /// Its colour.
    pub colour: Colour,
    /// Paper shows round the letters, so that they read on anything.
    pub halo: bool,
}

impl Hand {
    /// Plain text in ink.
    #[must_use]
    pub const fn text(size: f64) -> Self {
        Self { face: Typeface::Text, size, colour: INK, halo: false }
    }

    /// Strong text in ink.
    #[must_use]
    pub const fn strong(size: f64) -> Self {
        Self { face: Typeface::Strong, ..Self::text(size) }
    }

    /// The same in another colour.
    #[must_use]
    pub const fn coloured(self, colour: Colour) -> Self {
        Self { colour, ..self }
    }

    /// The same with paper round its letters.
    #[must_use]
    pub const fn on_paper(self) -> Self {
        Self { halo: true, ..self }
    }

    /// How wide a text becomes.
    #[must_use]
    pub fn width(self, text: &str) -> f64 {
        shape(text, self.face, self.size).width
    }

    /// A text, or as much of its beginning as fits into `room`, with an ellipsis.
    #[must_use]
    pub fn fitted(self, text: &str, room: f64) -> String {
        /// No letter is so narrow that more of them fit on any page.
        const MOST: usize = 400;
        let cut = |count: usize| text.chars().take(count).collect::<String>().trim_end().to_owned() + "…";
        let count = text.chars().count();
        if count <= MOST && self.width(text) <= room {
            return text.to_owned();
        }
        let counts: Vec<usize> = (0..count.min(MOST)).collect();
        cut(counts.partition_point(|&count| self.width(&cut(count + 1)) <= room))
    }
}

/// Which part of a text stands at its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// Its left end.
    Left,
    /// Its middle.
    Middle,
    /// Its right end.
    Right,
}

impl Chart {
    /// An empty page.
    #[must_use]
    pub fn new(title: impl Into<String>, size: DVec2) -> Self {
        Self { title: title.into(), size, marks: Vec::new() }
    }

    /// Draws a line from point to point.
    pub fn line(&mut self, points: impl Into<Vec<DVec2>>, pen: Stretch) {
        self.marks.push(Mark::Line { points: points.into(), pen });
    }

    /// Draws a rectangle's edge.
    pub fn edge(&mut self, [low, high]: [DVec2; 2], pen: Stretch) {
        let [a, b, c, d] = corners(low, high);
        self.line([a, b, c, d, a], pen);
    }

    /// Fills a rectangle.
    pub fn block(&mut self, [low, high]: [DVec2; 2], colour: Colour) {
        self.area(vec![corners(low, high).to_vec()], (colour, 1.0));
    }

    /// Fills rings with a colour at an opacity; where two overlap, a hole.
    pub fn area(&mut self, rings: Vec<Ring>, (colour, opacity): (Colour, f64)) {
        self.marks.push(Mark::Area { rings, colour, opacity });
    }

    /// Sets a line of text, its baseline at a point: its left end, middle or right end.
    pub fn text(&mut self, (at, align): (DVec2, Align), text: impl Into<String>, hand: Hand) {
        let text = text.into();
        if text.is_empty() {
            return;
        }
        let width = hand.width(&text);
        let share = match align {
            Align::Left => 0.0,
            Align::Middle => 0.5,
            Align::Right => 1.0,
        };
        self.marks.push(Mark::Text(Lettering { at: at - DVec2::X * width * share, text, hand, width }));
    }
}

fn corners(low: DVec2, high: DVec2) -> [DVec2; 4] {
    [low, DVec2::new(high.x, low.y), high, DVec2::new(low.x, high.y)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_that_is_too_long_is_cut_where_it_fits() {
        let hand = Hand::text(3.0);
        assert_eq!(hand.fitted("waves", 40.0), "waves");
        let cut = hand.fitted(&"long ".repeat(300), 40.0);
        assert!(cut.starts_with("long long") && cut.ends_with('…'), "{cut}");
        assert!(hand.width(&cut) <= 40.0 && hand.width(&cut) > 34.0);
        assert_eq!(hand.fitted("waves", 0.0), "…");
    }
}

//! A page as plain values: what is drawn where, millimetres from its top left, y down.

use std::sync::Arc;

use glam::DVec2;

use crate::art::{Colour, EncodeError, Picture, encode_jpeg, encode_png};
use crate::packs::PackError;

use super::tags::Part;
use super::typeset::Words;

/// A rectangle on a page, mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Frame {
    /// Left edge.
    pub x: f64,
    /// Upper edge.
    pub y: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

impl Frame {
    /// The largest frame of this proportion (width over height) in the middle of the frame.
    #[must_use]
    pub fn fit(self, proportion: f64) -> Self {
        let width = self.width.min(self.height * proportion);
        let height = width / proportion;
        Self { x: self.x + (self.width - width) / 2.0, y: self.y + (self.height - height) / 2.0, width, height }
    }
}

/// How a line is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Pen {
    /// Thickness, mm.
    pub width: f64,
    /// Colour.
    pub colour: Colour,
    /// Lengths of dash and gap in turn, mm; empty: drawn through.
    pub dashes: Vec<f64>,
}

impl Pen {
    /// A line drawn through.
    #[must_use]
    pub const fn solid(width: f64, colour: Colour) -> Self {
        Self { width, colour, dashes: Vec::new() }
    }

    /// A dashed line.
    #[must_use]
    pub fn dashed(width: f64, colour: Colour, dashes: &[f64]) -> Self {
        Self { width, colour, dashes: dashes.to_vec() }
    }
}

/// A line of straight stretches, mm.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trace {
    /// From point to point.
    pub points: Vec<DVec2>,
    /// Whether the last point leads back to the first.
    pub closed: bool,
}

/// A picture made ready for print; its copies share the bytes.
#[derive(Clone, Debug, PartialEq)]
pub struct Print {
    /// The picture as a file.
    pub file: Arc<Vec<u8>>,
    /// The file is a PNG, every pixel as it was; else a JPEG.
    pub lossless: bool,
    /// Width over height.
    pub proportion: f64,
}

impl Print {
    /// Fine enough that no block shows on paper.
    const QUALITY: u8 = 92;

    /// Prepares an opaque picture of the cake.
    ///
    /// # Errors
    /// [`PackError::Writer`] for an empty picture, or one past JPEG's 65,535 px.
    pub fn new(picture: &Picture) -> Result<Self, PackError> {
        Self::of(picture, (encode_jpeg(picture, Self::QUALITY), false))
    }

    /// Prepares an opaque picture that is printed pixel by pixel.
    ///
    /// # Errors
    /// [`PackError::Writer`] for an empty picture.
    pub fn lossless(picture: &Picture) -> Result<Self, PackError> {
        Self::of(picture, (encode_png(picture), true))
    }

    fn of(picture: &Picture, (file, lossless): (Result<Vec<u8>, EncodeError>, bool)) -> Result<Self, PackError> {
        let file = file.map_err(|error| PackError::Writer { file: "a PDF", reason: error.to_string() })?;
        let proportion = f64::from(picture.width) / f64::from(picture.height.max(1));
        Ok(Self { file: Arc::new(file), lossless, proportion })
    }
}

/// Which way the tops of letters point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Facing {
    /// To the page's upper edge.
    Up,
    /// To its right: the line runs down.
    Right,
    /// To its left: the line runs up.
    Left,
}

/// One thing drawn on a page; later ones cover earlier ones.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A line of text, its baseline starting at the point.
    Text(DVec2, Words, Colour),
    /// A line of text on its side, its baseline starting at the point.
    Sideways(DVec2, Words, Colour, Facing),
    /// A line.
    Line(Trace, Pen),
    /// Filled areas; where two overlap, a hole (even-odd).
    Area(Vec<Trace>, Colour),
    /// A picture that fills the frame.
    Picture(Frame, Print),
}

/// One page.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// Width and height, mm.
    pub size: [f64; 2],
    /// In drawing order.
    pub marks: Vec<Mark>,
    /// What the marks are to a reader, in order; none of them overlap.
    pub parts: Vec<Part>,
}

impl Page {
    /// An empty page.
    #[must_use]
    pub const fn new(size: [f64; 2]) -> Self {
        Self { size, marks: Vec::new(), parts: Vec::new() }
    }

    /// Draws a line of text from `at`, its baseline's start.
    pub fn text(&mut self, at: DVec2, words: Words, colour: Colour) {
        self.marks.push(Mark::Text(at, words, colour));
    }

    /// Draws a line of text from `at`, the tops of its letters pointing some way.
    pub fn text_facing(&mut self, at: DVec2, (words, colour): (Words, Colour), facing: Facing) {
        self.marks.push(match facing {
            Facing::Up => Mark::Text(at, words, colour),
            _ => Mark::Sideways(at, words, colour, facing),
        });
    }

    /// Draws a straight line.
    pub fn line(&mut self, from: DVec2, to: DVec2, pen: Pen) {
        self.trace(Trace { points: vec![from, to], closed: false }, pen);
    }

    /// Draws a line of many stretches.
    pub fn trace(&mut self, trace: Trace, pen: Pen) {
        self.marks.push(Mark::Line(trace, pen));
    }

    /// Fills areas; where two overlap, a hole.
    pub fn area(&mut self, traces: Vec<Trace>, colour: Colour) {
        self.marks.push(Mark::Area(traces, colour));
    }

    /// Fills a rectangle.
    pub fn block(&mut self, frame: Frame, colour: Colour) {
        self.area(vec![outline(frame)], colour);
    }

    /// Draws a rectangle's edge.
    pub fn edge(&mut self, frame: Frame, pen: Pen) {
        self.trace(outline(frame), pen);
    }

    /// Lays a picture into a frame, whole and undistorted; gives the frame that it fills.
    pub fn picture(&mut self, frame: Frame, print: &Print) -> Frame {
        let filled = frame.fit(print.proportion);
        self.marks.push(Mark::Picture(filled, print.clone()));
        filled
    }
}

fn outline(frame: Frame) -> Trace {
    let (right, foot) = (frame.x + frame.width, frame.y + frame.height);
    let points = [(frame.x, frame.y), (right, frame.y), (right, foot), (frame.x, foot)];
    Trace { points: points.map(|(x, y)| DVec2::new(x, y)).to_vec(), closed: true }
}

/// An entry of the reader's list of contents.
#[derive(Clone, Debug, PartialEq)]
pub struct Bookmark {
    /// As shown.
    pub title: String,
    /// Number of the page, from 0.
    pub page: usize,
    /// How far down the page, mm.
    pub y: f64,
}

/// All pages with what the file says about itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Booklet {
    /// The file's title.
    pub title: String,
    /// The design's revision.
    pub revision: String,
    /// In order.
    pub pages: Vec<Page>,
    /// In order.
    pub bookmarks: Vec<Bookmark>,
}

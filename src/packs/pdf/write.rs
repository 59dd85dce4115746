//! Pages into a PDF file, by krilla. Points, y down from the page's top left, as krilla has it.

use std::collections::BTreeMap;
use std::sync::Arc;

use glam::DVec2;
use krilla::color::rgb;
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Size, Transform};
use krilla::image::Image;
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Data, Document, SerializeSettings};

use super::page::{Booklet, Bookmark, Facing, Frame, Mark, Page, Pen, Print, Trace};
use super::tags::Reading;
use super::typeset::Words;
use crate::art::{Colour, FontFile, Run};
use crate::packs::PackError;

/// The finished file.
///
/// # Errors
/// [`PackError::Writer`] with the PDF writer's own words.
pub fn write(booklet: &Booklet) -> Result<Vec<u8>, PackError> {
    let mut press = Press::default();
    for page in &booklet.pages {
        press.page(page)?;
    }
    press.finish(booklet)
}

/// A file in the making, page by page: of a page nothing is held but what it is packed to.
pub struct Press {
    document: Document,
    hand: Hand,
    reading: Reading,
}

impl Default for Press {
    /// A file without pages.
    fn default() -> Self {
        let settings = SerializeSettings { enable_tagging: true, ..SerializeSettings::default() };
        Self { document: Document::new_with(settings), hand: Hand::default(), reading: Reading::default() }
    }
}

impl Press {
    /// Adds a page.
    ///
    /// # Errors
    /// [`PackError::Writer`] with the PDF writer's own words.
    pub fn page(&mut self, page: &Page) -> Result<(), PackError> {
        let [width, height] = page.size.map(points);
        let paper = PageSettings::from_wh(width, height).ok_or_else(|| failed("the page has no size"))?;
        let Self { document, hand, reading } = self;
        let mut sheet = document.start_page_with(paper);
        let mut surface = sheet.surface();
        reading.draw(&mut surface, page, &mut |surface, mark| hand.draw(surface, mark))?;
        surface.finish();
        sheet.finish();
        Ok(())
    }

    /// The finished file, with the title, the revision and the bookmarks of a booklet.
    ///
    /// # Errors
    /// [`PackError::Writer`] with the PDF writer's own words.
    pub fn finish(mut self, booklet: &Booklet) -> Result<Vec<u8>, PackError> {
        self.document.set_tag_tree(self.reading.tree());
        self.document.set_outline(outline(&booklet.bookmarks));
        self.document.set_metadata(
            Metadata::new()
                .title(booklet.title.clone())
                .description(format!("Revision {}", booklet.revision))
                .language("en".to_owned())
                .creator(concat!("Tierproof ", env!("CARGO_PKG_VERSION")).to_owned()),
        );
        self.document.finish().map_err(|error| failed(&error.to_string()))
    }
}

fn failed(reason: &str) -> PackError {
    PackError::Writer { file: "a PDF", reason: reason.to_owned() }
}

/// PDF counts in points of 1/72 in, single precision.
fn points(mm: f64) -> f32 {
    (mm * 72.0 / 25.4) as f32
}

fn point(at: DVec2) -> Point {
    Point::from_xy(points(at.x), points(at.y))
}

/// From a frame about the point, in which letters stand upright, to the page.
fn quarter(at: DVec2, facing: Facing) -> Transform {
    let (x, y) = (points(at.x), points(at.y));
    match facing {
        Facing::Up => Transform::from_translate(x, y),
        Facing::Right => Transform::from_row(0.0, 1.0, -1.0, 0.0, x, y),
        Facing::Left => Transform::from_row(0.0, -1.0, 1.0, 0.0, x, y),
    }
}

fn paint(colour: Colour) -> krilla::paint::Paint {
    rgb::Color::new(colour.red, colour.green, colour.blue).into()
}

fn fill(colour: Colour) -> Fill {
    Fill { paint: paint(colour), opacity: NormalizedF32::ONE, rule: FillRule::EvenOdd }
}

fn outline(bookmarks: &[Bookmark]) -> Outline {
    let mut outline = Outline::new();
    for bookmark in bookmarks {
        let place = XyzDestination::new(bookmark.page, point(DVec2::new(0.0, bookmark.y)));
        outline.push_child(OutlineNode::new(bookmark.title.clone(), place));
    }
    outline
}

/// Draws marks; keeps each font and each photograph so that it is embedded once.
#[derive(Default)]
struct Hand {
    fonts: BTreeMap<FontFile, Font>,
    photographs: BTreeMap<usize, (Arc<Vec<u8>>, Image)>,
}

impl Hand {
    fn draw(&mut self, surface: &mut Surface, mark: &Mark) -> Result<(), PackError> {
        match mark {
            Mark::Text(at, words, colour) => self.text(surface, *at, (words, *colour))?,
            Mark::Sideways(at, words, colour, facing) => {
                surface.push_transform(&quarter(*at, *facing));
                self.text(surface, DVec2::ZERO, (words, *colour))?;
                surface.pop();
            }
            Mark::Picture(frame, print) => self.picture(surface, *frame, print)?,
            Mark::Line(trace, pen) => {
                surface.set_fill(None);
                surface.set_stroke(Some(stroke(pen)));
                draw_path(surface, std::slice::from_ref(trace));
            }
            Mark::Area(traces, colour) => {
                surface.set_stroke(None);
                surface.set_fill(Some(fill(*colour)));
                draw_path(surface, traces);
            }
        }
        Ok(())
    }

    fn text(&mut self, surface: &mut Surface, at: DVec2, (words, colour): (&Words, Colour)) -> Result<(), PackError> {
        surface.set_stroke(None);
        surface.set_fill(Some(fill(colour)));
        let mut start = 0.0;
        for run in &words.line.runs {
            let font = self.font(run.font)?;
            let glyphs = glyphs(run, start, words.line.size);
            let place = point(DVec2::new(at.x + start, at.y));
            surface.draw_glyphs(place, &glyphs, font, &words.text, points(words.line.size), false);
            start += run.glyphs.iter().map(|glyph| glyph.advance).sum::<f64>();
        }
        Ok(())
    }

    fn font(&mut self, file: FontFile) -> Result<Font, PackError> {
        if let Some(font) = self.fonts.get(&file) {
            return Ok(font.clone());
        }
        let font = Font::new(Data::from(file.bytes()), 0).ok_or_else(|| failed("a bundled font can't be read"))?;
        self.fonts.insert(file, font.clone());
        Ok(font)
    }

    fn picture(&mut self, surface: &mut Surface, frame: Frame, print: &Print) -> Result<(), PackError> {
        let image = self.image(print)?;
        let size = Size::from_wh(points(frame.width), points(frame.height))
            .ok_or_else(|| failed("a picture has no room on its page"))?;
        surface.push_transform(&Transform::from_translate(points(frame.x), points(frame.y)));
        surface.draw_image(image, size);
        surface.pop();
        Ok(())
    }
}

impl Hand {
    fn image(&mut self, print: &Print) -> Result<Image, PackError> {
        let data = || Data::from(Arc::clone(&print.file));
        // Of a lossless picture krilla keeps every pixel as long as anyone has it, and each is drawn once.
        if print.lossless {
            return Image::from_png(data(), false).map_err(|reason| failed(&reason));
        }
        let key = Arc::as_ptr(&print.file) as usize;
        if let Some((_, image)) = self.photographs.get(&key) {
            return Ok(image.clone());
        }
        let image = Image::from_jpeg(data(), true).map_err(|reason| failed(&reason))?;
        // With its bytes: no other file comes to lie in their place.
        self.photographs.insert(key, (Arc::clone(&print.file), image.clone()));
        Ok(image)
    }
}

/// A run as krilla takes it: lengths as shares of the size, offsets from where the advances lead, y up.
fn glyphs(run: &Run, start: f64, size: f64) -> Vec<KrillaGlyph> {
    let share = |length: f64| (length / size) as f32;
    let mut pen = start;
    let mut glyphs = Vec::with_capacity(run.glyphs.len());
    for glyph in &run.glyphs {
        glyphs.push(KrillaGlyph {
            glyph_id: GlyphId::new(glyph.id),
            text_range: glyph.cluster.clone(),
            x_advance: share(glyph.advance),
            x_offset: share(glyph.x - pen),
            y_offset: share(glyph.y),
            y_advance: 0.0,
            location: None,
        });
        pen += glyph.advance;
    }
    glyphs
}

fn stroke(pen: &Pen) -> Stroke {
    let dash = (!pen.dashes.is_empty())
        .then(|| StrokeDash { array: pen.dashes.iter().map(|&mm| points(mm)).collect(), offset: 0.0 });
    Stroke {
        paint: paint(pen.colour),
        width: points(pen.width),
        miter_limit: 4.0,
        line_cap: LineCap::Butt,
        line_join: LineJoin::Round,
        opacity: NormalizedF32::ONE,
        dash,
    }
}

/// Draws what has at least two points; the fill and stroke are set already.
fn draw_path(surface: &mut Surface, traces: &[Trace]) {
    if let Some(path) = path(traces) {
        surface.draw_path(&path);
    }
}

fn path(traces: &[Trace]) -> Option<Path> {
    let mut path = PathBuilder::new();
    for trace in traces {
        for (number, at) in trace.points.iter().enumerate() {
            let (x, y) = (points(at.x), points(at.y));
            if number == 0 { path.move_to(x, y) } else { path.line_to(x, y) }
        }
        if trace.closed && !trace.points.is_empty() {
            path.close();
        }
    }
    path.finish()
}

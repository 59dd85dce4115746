//! Lettering: text set in a typeface, as glyphs for a page and as a figure to cut.
//!
//! `font` knows the font files, `order` in which order text stands on its line (right-to-left scripts among it); here it
//! is shaped and drawn. Frame of a line: x to the right, y **up**, the baseline at y = 0, the left end at x = 0. Its unit
//! is that of the size it was set in (mm for pieces, points for a page).

mod font;
mod order;
#[cfg(test)]
mod tests;

use std::collections::BTreeSet;
use std::ops::Range;

use glam::DVec2;
use harfrust::{Direction, ShapeOptions, ShaperData, UnicodeBuffer};
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlineGlyphCollection, OutlinePen};
use skrifa::{GlyphId, MetadataProvider};

pub use self::font::{FontFile, OwnFont, SignFont, Typeface};
use self::font::{Glyphs, Measures};
use self::order::{Stretch, shows_nothing, stretches};
use super::flatten::Flattener;
use super::region::Region;

/// Text longer than this is cut off there; every text of a design is bounded far below it.
pub const MAX_CHARACTERS: usize = 10_000;

/// Letters with more corners than this in all are drawn no further: no font that is one comes near it.
const MAX_CORNERS: usize = 2_000_000;

/// One line of lettering.
#[derive(Clone, Debug, PartialEq)]
pub struct Line<F = FontFile> {
    /// Stretches of one font, from left to right.
    pub runs: Vec<Run<F>>,
    /// The size it is set in: one em.
    pub size: f64,
    /// From the left end to where a next glyph would stand.
    pub width: f64,
    /// How far the font rises above the baseline.
    pub ascent: f64,
    /// How far the font falls below the baseline; positive.
    pub descent: f64,
    /// Height of a capital above the baseline.
    pub cap_height: f64,
    /// Characters that no font at hand has an outline for, in their order; a box or nothing stands there.
    pub missing: Vec<char>,
}

/// A stretch of one font.
#[derive(Clone, Debug, PartialEq)]
pub struct Run<F = FontFile> {
    /// Its font.
    pub font: F,
    /// From left to right.
    pub glyphs: Vec<Glyph>,
}

/// One glyph in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Glyph {
    /// Its number in the font.
    pub id: u32,
    /// Origin, from the line's start.
    pub x: f64,
    /// Origin, above the baseline.
    pub y: f64,
    /// From its origin to the next one's.
    pub advance: f64,
    /// Bytes of the text that it stands for.
    pub cluster: Range<usize>,
}

/// Sets one line of text at `size` (one em). Control characters, line ends among them, are set as spaces.
#[must_use]
pub fn shape(text: &str, typeface: Typeface, size: f64) -> Line {
    set(text, &[typeface.file(), FontFile::Fallback], size)
}

/// Sets one line of a sign so that its capitals are `height` high. What the sign's own font lacks comes from the bundled ones.
#[must_use]
pub fn letter<'a>(text: &str, own: Option<&'a OwnFont>, height: f64) -> Line<SignFont<'a>> {
    let bundled = [Typeface::Strong.file(), FontFile::Fallback].map(SignFont::Bundled);
    let fonts: Vec<SignFont<'a>> = own.map(SignFont::Own).into_iter().chain(bundled).collect();
    let capital = fonts.first().map_or(0.7, |font| Measures::of(*font).cap_height);
    set(text, &fonts, height / capital)
}

/// Characters of a text that no bundled font has, each once: on paper they are empty boxes.
#[must_use]
pub fn missing(text: &str) -> Vec<char> {
    // Our fonts have all of ASCII, and the names of ten thousand pieces are mostly that.
    if text.is_ascii() {
        return Vec::new();
    }
    shape(text, Typeface::Text, 1.0).missing
}

fn set<F: Glyphs>(text: &str, fonts: &[F], size: f64) -> Line<F> {
    let end = text.char_indices().nth(MAX_CHARACTERS).map_or(text.len(), |(at, _)| at);
    let text = text.get(..end).unwrap_or_default().replace(|c: char| c.is_ascii_control(), " ");
    let told = fonts.first().map(|font| Measures::of(*font));
    let high = |share: fn(&Measures) -> f64| told.as_ref().map_or(0.0, share) * size;
    let mut line = Line {
        runs: Vec::new(),
        size,
        width: 0.0,
        ascent: high(|font| font.ascent),
        descent: high(|font| font.descent),
        cap_height: high(|font| font.cap_height),
        missing: Vec::new(),
    };
    let mut lacking = BTreeSet::new();
    for stretch in stretches(&text, fonts) {
        line.add(&text, &stretch, &mut lacking);
    }
    let mut seen = BTreeSet::new();
    line.missing = text.chars().filter(|character| lacking.contains(character) && seen.insert(*character)).collect();
    line
}

impl<F: Glyphs> Line<F> {
    fn add(&mut self, text: &str, stretch: &Stretch<F>, lacking: &mut BTreeSet<char>) {
        let font = stretch.font;
        let Some(face) = font.font() else { return };
        let scale = self.size / Measures::of(font).units;
        let mut buffer = UnicodeBuffer::new();
        for (at, character) in text.get(stretch.range.clone()).unwrap_or_default().char_indices() {
            buffer.add(character, u32::try_from(stretch.range.start + at).unwrap_or(u32::MAX));
        }
        buffer.guess_segment_properties();
        buffer.set_direction(if stretch.leftward { Direction::RightToLeft } else { Direction::LeftToRight });
        let data = ShaperData::new(&face);
        let shaped = data.shaper(&face).build().shape(buffer, ShapeOptions::new());
        let mut starts: Vec<usize> = shaped.glyph_infos().iter().map(|info| info.cluster as usize).collect();
        starts.sort_unstable();
        let end_of = |start: usize| {
            starts.get(starts.partition_point(|&next| next <= start)).map_or(stretch.range.end, |&next| next)
        };
        let outlines = face.outline_glyphs();
        let mut glyphs = Vec::with_capacity(shaped.len());
        for (info, place) in shaped.glyph_infos().iter().zip(shaped.glyph_positions()) {
            let [right, up, advance] =
                [place.x_offset, place.y_offset, place.x_advance].map(|step| f64::from(step) * scale);
            let start = info.cluster as usize;
            let cluster = start..end_of(start);
            if info.glyph_id == 0 || outlines.get(GlyphId::new(info.glyph_id)).is_none() {
                let characters = text.get(cluster.clone()).unwrap_or_default().chars();
                lacking.extend(characters.filter(|character| !shows_nothing(*character)));
            }
            glyphs.push(Glyph { id: info.glyph_id, x: self.width + right, y: up, advance, cluster });
            self.width += advance;
        }
        self.runs.push(Run { font, glyphs });
    }

    /// The letters as a figure: baseline at y = 0, curves true to 1e-4 of the size. Overlapping letters are one.
    #[must_use]
    pub fn outline(&self) -> Region {
        let mut rings = Vec::new();
        let mut corners = 0;
        for run in &self.runs {
            let Some(font) = run.font.font() else { continue };
            let (outlines, scale) = (font.outline_glyphs(), self.size / Measures::of(run.font).units);
            for glyph in &run.glyphs {
                if corners > MAX_CORNERS {
                    break;
                }
                let letter = drawn(&outlines, glyph.id, 1e-4 * self.size / scale);
                corners += letter.rings.iter().map(Vec::len).sum::<usize>();
                rings.extend(letter.scaled(scale).moved(DVec2::new(glyph.x, glyph.y)).rings);
            }
        }
        Region::from_paths_non_zero(&rings)
    }
}

/// One glyph in the units of its font; nothing for one that cannot be drawn, which is missing in the font itself.
fn drawn(outlines: &OutlineGlyphCollection, id: u32, tolerance: f64) -> Region {
    let mut pen = Pen(Flattener::new(tolerance));
    let settings = DrawSettings::unhinted(Size::unscaled(), LocationRef::default());
    let done = outlines.get(GlyphId::new(id)).is_some_and(|outline| outline.draw(settings, &mut pen).is_ok());
    // Fonts of one kind run their contours one way, the other kind the other way: orient each glyph first.
    if done { Region::from_paths_non_zero(&pen.0.finish()) } else { Region::default() }
}

/// Hands a font's curves to a [`Flattener`].
struct Pen(Flattener);

fn place(x: f32, y: f32) -> DVec2 {
    DVec2::new(f64::from(x), f64::from(y))
}

impl OutlinePen for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.move_to(place(x, y));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.0.line_to(place(x, y));
    }

    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        self.0.quad_to(place(cx, cy), place(x, y));
    }

    fn curve_to(&mut self, first_x: f32, first_y: f32, second_x: f32, second_y: f32, x: f32, y: f32) {
        self.0.cubic_to(place(first_x, first_y), place(second_x, second_y), place(x, y));
    }

    fn close(&mut self) {
        self.0.close();
    }
}

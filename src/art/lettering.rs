//! Lettering: text set in one of the bundled typefaces, as glyphs for a page and as a figure to cut.
//!
//! Frame of a line: x to the right, y **up**, the baseline at y = 0, the first glyph's origin at x = 0. Its unit is that
//! of the size it was set in (mm for pieces, points for a page).

use std::ops::Range;

use glam::DVec2;
use harfrust::{FontRef, ShapeOptions, ShaperData, UnicodeBuffer};
use skrifa::MetadataProvider;
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};

use super::flatten::Flattener;
use super::region::Region;

/// Text longer than this is cut off there; every text of a design is bounded far below it.
pub const MAX_CHARACTERS: usize = 10_000;

/// A voice of the lettering.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Typeface {
    /// Plain text.
    #[default]
    Text,
    /// Headings, signs.
    Strong,
    /// Remarks.
    Slanted,
}

impl Typeface {
    /// The font file it is set from; [`FontFile::Fallback`] helps out where this one lacks a character.
    #[must_use]
    pub const fn file(self) -> FontFile {
        match self {
            Self::Text => FontFile::Regular,
            Self::Strong => FontFile::SemiBold,
            Self::Slanted => FontFile::Italic,
        }
    }

    /// The size at which a capital is `height` high.
    #[must_use]
    pub fn size_for_capitals(self, height: f64) -> f64 {
        let share = self.file().font().map_or(1.0, |font| Face::new(&font).cap_height);
        height / share
    }
}

/// A bundled font file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FontFile {
    /// Inter Regular.
    Regular,
    /// Inter SemiBold.
    SemiBold,
    /// Inter Italic.
    Italic,
    /// DejaVu Sans: characters that Inter lacks.
    Fallback,
}

impl FontFile {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Regular, Self::SemiBold, Self::Italic, Self::Fallback];

    /// The file itself, for a page that carries its fonts.
    #[must_use]
    pub const fn bytes(self) -> &'static [u8] {
        match self {
            Self::Regular => include_bytes!("../../assets/fonts/Inter-Regular.otf"),
            Self::SemiBold => include_bytes!("../../assets/fonts/Inter-SemiBold.otf"),
            Self::Italic => include_bytes!("../../assets/fonts/Inter-Italic.otf"),
            Self::Fallback => include_bytes!("../../assets/fonts/DejaVuSans.ttf"),
        }
    }

    /// `None` never comes for a bundled font; the reader of font files doesn't know that.
    fn font(self) -> Option<FontRef<'static>> {
        FontRef::new(self.bytes()).ok()
    }

    fn has(self, character: char) -> bool {
        self.font().and_then(|font| font.charmap().map(character)).is_some()
    }
}

/// One line of lettering.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Line {
    /// Stretches of one font, from left to right.
    pub runs: Vec<Run>,
    /// The size it is set in: one em.
    pub size: f64,
    /// From the first glyph's origin to where a next one would stand.
    pub width: f64,
    /// How far the font rises above the baseline.
    pub ascent: f64,
    /// How far the font falls below the baseline; positive.
    pub descent: f64,
    /// Height of a capital above the baseline.
    pub cap_height: f64,
}

/// A stretch of one font.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Its font.
    pub font: FontFile,
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
///
/// Each run is set in the direction of its script; runs stand from left to right in the order of the text.
#[must_use]
pub fn shape(text: &str, typeface: Typeface, size: f64) -> Line {
    let end = text.char_indices().nth(MAX_CHARACTERS).map_or(text.len(), |(at, _)| at);
    let text = text.get(..end).unwrap_or_default().replace(|c: char| c.is_ascii_control(), " ");
    let face = typeface.file().font().map(|font| Face::new(&font)).unwrap_or_default();
    let mut line = Line {
        size,
        ascent: face.ascent * size,
        descent: face.descent * size,
        cap_height: face.cap_height * size,
        ..Line::default()
    };
    for (font, stretch) in runs(&text, typeface.file()) {
        line.add(font, &text, stretch);
    }
    line
}

/// Stretches of one font: the typeface's own wherever it has the character. Spaces and marks stay with what precedes them.
fn runs(text: &str, own: FontFile) -> Vec<(FontFile, Range<usize>)> {
    let mut runs: Vec<(FontFile, Range<usize>)> = Vec::new();
    for (start, character) in text.char_indices() {
        let end = start + character.len_utf8();
        let last = runs.last_mut();
        let follows = joins_what_precedes(character) || character == ' ';
        let font = match &last {
            Some((font, _)) if follows => *font,
            _ if !own.has(character) && FontFile::Fallback.has(character) => FontFile::Fallback,
            _ => own,
        };
        match last {
            Some((current, stretch)) if *current == font => stretch.end = end,
            _ => runs.push((font, start..end)),
        }
    }
    runs
}

/// Combining marks, joiners and variation selectors (Unicode blocks 0300, 200C-D, FE00, FE20).
fn joins_what_precedes(character: char) -> bool {
    matches!(character, '\u{300}'..='\u{36f}' | '\u{200c}'..='\u{200d}' | '\u{fe00}'..='\u{fe0f}' | '\u{fe20}'..='\u{fe2f}')
}

impl Line {
    fn add(&mut self, font: FontFile, text: &str, stretch: Range<usize>) {
        let Some(face) = font.font() else { return };
        let scale = self.size / Face::new(&face).units;
        let mut buffer = UnicodeBuffer::new();
        for (at, character) in text.get(stretch.clone()).unwrap_or_default().char_indices() {
            buffer.add(character, u32::try_from(stretch.start + at).unwrap_or(u32::MAX));
        }
        buffer.guess_segment_properties();
        let data = ShaperData::new(&face);
        let shaped = data.shaper(&face).build().shape(buffer, ShapeOptions::new());
        let mut starts: Vec<usize> = shaped.glyph_infos().iter().map(|info| info.cluster as usize).collect();
        starts.sort_unstable();
        let end_of =
            |start: usize| starts.get(starts.partition_point(|&next| next <= start)).map_or(stretch.end, |&next| next);
        let mut glyphs = Vec::with_capacity(shaped.len());
        for (info, place) in shaped.glyph_infos().iter().zip(shaped.glyph_positions()) {
            let [right, up, advance] =
                [place.x_offset, place.y_offset, place.x_advance].map(|step| f64::from(step) * scale);
            let start = info.cluster as usize;
            let cluster = start..end_of(start);
            glyphs.push(Glyph { id: info.glyph_id, x: self.width + right, y: up, advance, cluster });
            self.width += advance;
        }
        self.runs.push(Run { font, glyphs });
    }

    /// The letters as a figure: baseline at y = 0, curves true to 1e-4 of the size. Overlapping letters are one.
    #[must_use]
    pub fn outline(&self) -> Region {
        let mut rings = Vec::new();
        for run in &self.runs {
            let Some(font) = run.font.font() else { continue };
            let (outlines, scale) = (font.outline_glyphs(), self.size / Face::new(&font).units);
            for glyph in &run.glyphs {
                let Some(outline) = outlines.get(skrifa::GlyphId::new(glyph.id)) else { continue };
                let mut pen = Pen(Flattener::new(1e-4 * self.size / scale));
                let settings = DrawSettings::unhinted(Size::unscaled(), LocationRef::default());
                // A glyph that cannot be drawn is missing in the font itself; there is nothing to show for it.
                if outline.draw(settings, &mut pen).is_ok() {
                    // Fonts of one kind run their contours one way, the other kind the other way: orient each glyph first.
                    let letter = Region::from_paths_non_zero(&pen.0.finish());
                    rings.extend(letter.scaled(scale).moved(DVec2::new(glyph.x, glyph.y)).rings);
                }
            }
        }
        Region::from_paths_non_zero(&rings)
    }
}

/// What a font says of itself, as shares of its em.
#[derive(Clone, Copy, Debug)]
struct Face {
    units: f64,
    ascent: f64,
    descent: f64,
    cap_height: f64,
}

impl Default for Face {
    fn default() -> Self {
        Self { units: 1000.0, ascent: 1.0, descent: 0.25, cap_height: 0.7 }
    }
}

impl Face {
    fn new(font: &FontRef) -> Self {
        let metrics = font.metrics(Size::unscaled(), LocationRef::default());
        let units = f64::from(metrics.units_per_em);
        let share = |units_high: f32| f64::from(units_high) / units;
        Self {
            units,
            ascent: share(metrics.ascent),
            descent: -share(metrics.descent),
            cap_height: metrics.cap_height.map_or(0.7, share),
        }
    }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_capital_is_as_high_as_asked() {
        for typeface in [Typeface::Text, Typeface::Strong, Typeface::Slanted] {
            let line = shape("H", typeface, typeface.size_for_capitals(19.05));
            let (low, high) = line.outline().bounds().unwrap();
            assert!((line.cap_height - 19.05).abs() < 1e-9);
            assert!(low.y.abs() < 1e-3 && (high.y - 19.05).abs() < 1e-3, "{low} {high}");
        }
    }

    #[test]
    fn letters_read_from_left_to_right_and_stand_upright() {
        // An L: more of it lies left of its middle, and below it.
        let region = shape("L", Typeface::Strong, 100.0).outline();
        let ((low, high), centre) = (region.bounds().unwrap(), region.centroid().unwrap());
        assert!(centre.x < (low.x + high.x) / 2.0 && centre.y < (low.y + high.y) / 2.0);
    }

    #[test]
    fn counters_are_holes_and_letters_stand_apart() {
        let faces = shape("Bo i", Typeface::Text, 20.0).outline().faces();
        let mut holes: Vec<usize> = faces.iter().map(|face| face.holes.len()).collect();
        holes.sort_unstable();
        assert_eq!(holes, [0, 0, 1, 2]);
    }

    #[test]
    fn kerning_pulls_letters_together() {
        let width = |text| shape(text, Typeface::Text, 10.0).width;
        assert!(width("AV") < width("A") + width("V") - 0.1);
        assert!((width("HH") - 2.0 * width("H")).abs() < 0.05);
    }

    #[test]
    fn a_missing_character_comes_from_the_other_font() {
        let line = shape("a ⌀ b", Typeface::Text, 10.0);
        let fonts: Vec<FontFile> = line.runs.iter().map(|run| run.font).collect();
        assert_eq!(fonts, [FontFile::Regular, FontFile::Fallback, FontFile::Regular]);
        assert!(line.runs.iter().flat_map(|run| &run.glyphs).all(|glyph| glyph.id != 0));
        for character in "½¼¾⅛″′×Ø⌀°µ←→↑↓☐☑✓−√≈≤≥éßłğ".chars() {
            let line = shape(&character.to_string(), Typeface::Strong, 10.0);
            assert!(line.runs[0].glyphs[0].id != 0 && !line.outline().is_empty(), "{character}");
        }
    }

    #[test]
    fn clusters_cover_the_text() {
        let text = "fio né\u{301}! שלום";
        let line = shape(text, Typeface::Text, 10.0);
        let mut clusters: Vec<Range<usize>> =
            line.runs.iter().flat_map(|run| &run.glyphs).map(|glyph| glyph.cluster.clone()).collect();
        clusters.sort_by_key(|cluster| cluster.start);
        clusters.dedup();
        assert_eq!((clusters[0].start, clusters.last().unwrap().end), (0, text.len()));
        assert!(clusters.windows(2).all(|pair| pair[0].end == pair[1].start));
    }

    #[test]
    fn empty_and_endless_text_are_bounded() {
        assert_eq!(shape("", Typeface::Text, 10.0).width, 0.0);
        assert!(shape("\n", Typeface::Text, 10.0).outline().is_empty());
        let long = "ab".repeat(MAX_CHARACTERS);
        assert_eq!(shape(&long, Typeface::Text, 1.0).runs[0].glyphs.len(), MAX_CHARACTERS);
    }
}

//! Fonts: the bundled ones, and a file that the person names for a sign.

use std::sync::Arc;

use harfrust::FontRef;
use skrifa::MetadataProvider;
use skrifa::instance::{LocationRef, Size};
use skrifa::raw::TableProvider;

use super::super::error::Fault;

/// Largest font file that is read, bytes: the great fonts of East Asia have about half of it.
const LARGEST: usize = 48 << 20;

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
        height / Measures::of(self.file()).cap_height
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
            Self::Regular => include_bytes!("../../../assets/fonts/Inter-Regular.otf"),
            Self::SemiBold => include_bytes!("../../../assets/fonts/Inter-SemiBold.otf"),
            Self::Italic => include_bytes!("../../../assets/fonts/Inter-Italic.otf"),
            Self::Fallback => include_bytes!("../../../assets/fonts/DejaVuSans.ttf"),
        }
    }
}

/// A font file that the person brought.
#[derive(Clone, PartialEq, Eq)]
pub struct OwnFont {
    bytes: Arc<[u8]>,
}

impl std::fmt::Debug for OwnFont {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "OwnFont({} bytes)", self.bytes.len())
    }
}

impl OwnFont {
    /// Whether a file says of itself that it is a font (OpenType 1.9, "Font file", and its collections).
    #[must_use]
    pub fn looks_like_one(bytes: &[u8]) -> bool {
        [b"\0\x01\0\0", b"OTTO", b"true", b"ttcf"].iter().any(|mark| bytes.starts_with(*mark))
    }

    /// A TrueType or OpenType font; of a collection the first.
    ///
    /// # Errors
    /// A file that is too large, damaged, or has no letters with an outline.
    pub fn read(bytes: &[u8]) -> Result<Self, Fault> {
        if bytes.len() > LARGEST {
            let what = format!("the font has {} MB; at most {} MB are read", bytes.len() >> 20, LARGEST >> 20);
            return Err(Fault::TooMuch { what });
        }
        let damaged = |reason: &str| Fault::Damaged { kind: "font", reason: reason.to_owned() };
        let font = FontRef::from_index(bytes, 0).map_err(|reason| damaged(&reason.to_string()))?;
        let head = font.head().map_err(|reason| damaged(&reason.to_string()))?;
        if !(16..=16_384).contains(&head.units_per_em()) {
            return Err(damaged("its em is no size that a font may have"));
        }
        let (outlines, characters) = (font.outline_glyphs(), font.charmap());
        if !characters.mappings().any(|(_, glyph)| outlines.get(glyph).is_some()) {
            return Err(damaged("it has no letters with an outline, as fonts made of pictures have none"));
        }
        Ok(Self { bytes: bytes.into() })
    }
}

/// Where glyphs come from.
pub trait Glyphs: Copy + PartialEq {
    /// The font; it was read before, so `None` never comes, which the reader of font files doesn't know.
    fn font(&self) -> Option<FontRef<'_>>;

    /// Whether it has a sign for a character.
    fn has(&self, character: char) -> bool {
        self.font().and_then(|font| font.charmap().map(character)).is_some()
    }
}

impl Glyphs for FontFile {
    fn font(&self) -> Option<FontRef<'_>> {
        FontRef::new(self.bytes()).ok()
    }
}

/// A font that a sign is lettered in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SignFont<'a> {
    /// One of ours.
    Bundled(FontFile),
    /// The person's own.
    Own(&'a OwnFont),
}

impl Glyphs for SignFont<'_> {
    fn font(&self) -> Option<FontRef<'_>> {
        match self {
            Self::Bundled(file) => FontRef::new(file.bytes()).ok(),
            Self::Own(own) => FontRef::from_index(&own.bytes, 0).ok(),
        }
    }
}

/// What a font says of itself, as shares of its em.
#[derive(Clone, Copy, Debug)]
pub(super) struct Measures {
    pub units: f64,
    pub ascent: f64,
    pub descent: f64,
    pub cap_height: f64,
}

impl Measures {
    pub fn of(source: impl Glyphs) -> Self {
        source
            .font()
            .map_or(Self { units: 1000.0, ascent: 1.0, descent: 0.25, cap_height: 0.7 }, |font| Self::told(&font))
    }

    /// Where a font tells nothing, or nonsense, what most have.
    fn told(font: &FontRef) -> Self {
        let metrics = font.metrics(Size::unscaled(), LocationRef::default());
        let units = f64::from(metrics.units_per_em.max(1));
        let share = |told: f32, least: f64, usual: f64| {
            let share = f64::from(told) / units;
            if (least..=3.0).contains(&share) { share } else { usual }
        };
        Self {
            units,
            ascent: share(metrics.ascent, 0.0, 1.0),
            descent: share(-metrics.descent, 0.0, 0.25),
            cap_height: share(metrics.cap_height.unwrap_or_default(), 0.2, 0.7),
        }
    }
}

//! Drawings: SVG as paths that can be cut and as pixels that can be printed.
//!
//! Bytes → [`guard`] (size, depth, references; nothing outside the file is ever fetched) → the `usvg` tree → [`outline`]
//! for cutting, pixels for printing. Text is set in the bundled typefaces only, so a drawing looks the same everywhere.

mod guard;
mod mask;
mod outline;
mod remarks;
#[cfg(test)]
mod tests;

pub use remarks::Remark;

use std::sync::{Arc, OnceLock};

use resvg::tiny_skia::{Pixmap, PremultipliedColorU8, Transform};
use resvg::usvg::{ImageHrefResolver, Options, Tree, fontdb, roxmltree};

use super::error::{ArtError, Fault};
use super::lettering::FontFile;
use super::picture::{Part, Picture};
use super::raster::MAX_PIXELS;
use super::region::Region;

/// Largest drawing that is read.
pub const MAX_DRAWING_BYTES: usize = 8 << 20;

/// How long a side of a drawing's page may be, user units.
const PAGE_SIDES: std::ops::RangeInclusive<f32> = 1e-3..=1e6;

/// A drawing, ready to be cut or painted.
#[derive(Clone, Debug)]
pub struct Drawing {
    tree: Tree,
    remarks: Vec<Remark>,
}

/// Whether the bytes look like an SVG: a text that begins with `<` and has an `svg` tag near its beginning.
pub(super) fn looks_like_svg(bytes: &[u8]) -> bool {
    let start = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let start = start.get(..start.len().min(64 << 10)).unwrap_or_default().trim_ascii_start();
    start.starts_with(b"<") && start.windows(4).any(|word| matches!(word, b"<svg" | b":svg"))
}

impl Drawing {
    /// Reads an SVG. `name` is what messages call the file.
    ///
    /// # Errors
    /// A file that is empty, too large, no SVG, or malformed; one that refers to anything outside itself; one with
    /// embedded pictures; one that unfolds into more than can be worked with.
    pub fn read(bytes: &[u8], name: &str) -> Result<Self, ArtError> {
        Self::parse(bytes).map_err(|fault| fault.of(name))
    }

    fn parse(bytes: &[u8]) -> Result<Self, Fault> {
        if bytes.is_empty() {
            return Err(Fault::Empty);
        }
        if bytes.len() > MAX_DRAWING_BYTES {
            return Err(Fault::TooMuch { what: format!("the file is larger than {} MiB", MAX_DRAWING_BYTES >> 20) });
        }
        let damaged = |reason: String| Fault::Damaged { kind: "SVG", reason };
        let text = std::str::from_utf8(bytes)
            .map_err(|error| damaged(format!("byte {} is not UTF-8 text", error.valid_up_to())))?;
        guard::check_entities(text)?;
        let xml = roxmltree::ParsingOptions { allow_dtd: true, nodes_limit: guard::MAX_NODES, ..Default::default() };
        let document = roxmltree::Document::parse_with_options(text, xml).map_err(|error| match error {
            roxmltree::Error::NodesLimitReached => {
                Fault::TooMuch { what: "the drawing has too many elements".to_owned() }
            }
            error => damaged(error.to_string()),
        })?;
        guard::check(&document)?;
        let tree = Tree::from_xmltree(&document, &options()).map_err(|error| damaged(error.to_string()))?;
        let size = [tree.size().width(), tree.size().height()];
        if !size.iter().all(|side| PAGE_SIDES.contains(side)) {
            return Err(damaged(format!("its page is {} by {} units large", size[0], size[1])));
        }
        let remarks = remarks::remarks(&document, &tree);
        Ok(Self { tree, remarks })
    }

    /// What of it is not cut, or not printed, as it was drawn.
    #[must_use]
    pub fn remarks(&self) -> &[Remark] {
        &self.remarks
    }

    /// Width and height in user units.
    #[must_use]
    pub fn size(&self) -> (f64, f64) {
        let size = self.tree.size();
        (f64::from(size.width()), f64::from(size.height()))
    }

    /// What its filled and stroked paths cover within its page: holes, fill rules, clip paths, masks, groups and transforms
    /// followed, curves true to 1e-4 of its size. User units, y **up**, origin at the page's lower left.
    ///
    /// # Errors
    /// A drawing with nothing visible in it, with a mask that is not plain black and white (and so has no outline), or with
    /// too many corners.
    pub fn outline(&self) -> Result<Region, Fault> {
        outline::outline(&self.tree)
    }

    /// The drawing's page, stretched to so many pixels; an empty picture for no pixels, or more than [`MAX_PIXELS`].
    #[must_use]
    pub fn paint(&self, width: u32, height: u32) -> Picture {
        self.paint_part(Part::WHOLE, width, height)
    }

    /// A part of the drawing's page, stretched to so many pixels; see [`Self::paint`].
    #[must_use]
    pub fn paint_part(&self, part: Part, width: u32, height: u32) -> Picture {
        let small = u64::from(width) * u64::from(height) <= MAX_PIXELS;
        let Some(mut pixels) = small.then(|| Pixmap::new(width, height)).flatten() else {
            return Picture::default();
        };
        let (page_width, page_height) = self.size();
        let across = f64::from(width) / (part.width * page_width);
        let down = f64::from(height) / (part.height * page_height);
        let (left, top) = (-part.left * page_width * across, -part.top * page_height * down);
        let place = Transform::from_row(across as f32, 0.0, 0.0, down as f32, left as f32, top as f32);
        resvg::render(&self.tree, place, &mut pixels.as_mut());
        let straight = pixels.pixels().iter().map(PremultipliedColorU8::demultiply);
        let rgba = straight.flat_map(|pixel| [pixel.red(), pixel.green(), pixel.blue(), pixel.alpha()]).collect();
        Picture { width, height, rgba }
    }
}

/// No folder, no fetching, no fonts but the bundled ones.
fn options() -> Options<'static> {
    let nothing = ImageHrefResolver { resolve_data: Box::new(|_, _, _| None), resolve_string: Box::new(|_, _| None) };
    Options { font_family: FAMILY.to_owned(), fontdb: fonts(), image_href_resolver: nothing, ..Options::default() }
}

const FAMILY: &str = "Inter";
/// Names under which drawings may ask for what is bundled.
const FAMILIES: [&str; 2] = [FAMILY, "DejaVu Sans"];

/// The bundled fonts; every generic family means the plain one.
fn fonts() -> Arc<fontdb::Database> {
    static FONTS: OnceLock<Arc<fontdb::Database>> = OnceLock::new();
    let load = || {
        let mut fonts = fontdb::Database::new();
        for file in FontFile::ALL {
            fonts.load_font_source(fontdb::Source::Binary(Arc::new(file.bytes())));
        }
        fonts.set_serif_family(FAMILY);
        fonts.set_sans_serif_family(FAMILY);
        fonts.set_cursive_family(FAMILY);
        fonts.set_fantasy_family(FAMILY);
        fonts.set_monospace_family(FAMILY);
        Arc::new(fonts)
    };
    FONTS.get_or_init(load).clone()
}

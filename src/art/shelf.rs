//! The art of one design, as it was read, by the path the design names it with.

use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

use glam::DVec2;
use sha2::{Digest, Sha256};

use super::cutting::{CutFigure, CutOrder, Cuts};
use super::error::{ArtError, Fault};
use super::lettering::OwnFont;
use super::picture::{Part, Picture};
use super::raster::{Kind, read_raster};
use super::region::Region;
use super::resample::resample;
use super::svg::{Drawing, Remark, looks_like_svg};
use super::trace::trace;

/// About how many pixels the small picture of a piece of art has.
const SMALL: f64 = 1_000_000.0;

/// One piece of art.
#[derive(Clone, Debug)]
pub struct Art {
    name: String,
    digest: [u8; 32],
    content: Content,
    outline: OnceLock<Result<Arc<Region>, ArtError>>,
    small: OnceLock<Arc<Picture>>,
    cuts: Cuts,
}

/// What a piece of art is made of.
#[derive(Clone, Debug)]
pub enum Content {
    /// Pixels: a PNG or a JPEG.
    Photo(Arc<Picture>),
    /// Shapes: an SVG.
    Drawing(Arc<Drawing>),
    /// Letters: a font file. It is no picture, and shows nothing.
    Font(OwnFont),
}

impl Art {
    /// Reads a PNG, a JPEG, an SVG or a font, told apart by its contents. `name` is what messages call the file.
    ///
    /// # Errors
    /// An empty, foreign, damaged or too large file; a drawing that refers to anything outside itself.
    pub fn read(bytes: &[u8], name: &str) -> Result<Self, ArtError> {
        let content = if bytes.is_empty() {
            return Err(Fault::Empty.of(name));
        } else if Kind::sniff(bytes).is_some() {
            Content::Photo(Arc::new(read_raster(bytes, name)?))
        } else if looks_like_svg(bytes) {
            Content::Drawing(Arc::new(Drawing::read(bytes, name)?))
        } else if OwnFont::looks_like_one(bytes) {
            Content::Font(OwnFont::read(bytes).map_err(|fault| fault.of(name))?)
        } else {
            return Err(Kind::foreign(bytes).of(name));
        };
        Ok(Self {
            name: name.to_owned(),
            digest: Sha256::digest(bytes).into(),
            content,
            outline: OnceLock::new(),
            small: OnceLock::new(),
            cuts: Cuts::default(),
        })
    }

    /// What messages call it.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// SHA-256 of the file.
    #[must_use]
    pub fn digest(&self) -> [u8; 32] {
        self.digest
    }

    /// What it is made of.
    #[must_use]
    pub fn content(&self) -> &Content {
        &self.content
    }

    /// What of it is not cut, or not printed, as it was drawn.
    #[must_use]
    pub fn remarks(&self) -> &[Remark] {
        match &self.content {
            Content::Photo(_) | Content::Font(_) => &[],
            Content::Drawing(drawing) => drawing.remarks(),
        }
    }

    /// Columns and rows of a photo; `None` for a drawing, which has no pixels.
    #[must_use]
    pub fn pixels(&self) -> Option<(u32, u32)> {
        match &self.content {
            Content::Photo(picture) => Some((picture.width, picture.height)),
            Content::Drawing(_) | Content::Font(_) => None,
        }
    }

    /// The font that it is.
    ///
    /// # Errors
    /// A picture.
    pub fn font(&self) -> Result<&OwnFont, ArtError> {
        match &self.content {
            Content::Font(font) => Ok(font),
            Content::Photo(_) | Content::Drawing(_) => Err(Fault::NotAFont.of(&self.name)),
        }
    }

    /// Says so when it is a font, where a picture is wanted.
    ///
    /// # Errors
    /// A font.
    pub fn is_picture(&self) -> Result<(), ArtError> {
        match &self.content {
            Content::Font(_) => Err(Fault::Letters.of(&self.name)),
            Content::Photo(_) | Content::Drawing(_) => Ok(()),
        }
    }

    /// Width and height of the whole page, in the units of its outline: pixels, or a drawing's user units.
    #[must_use]
    pub fn size(&self) -> (f64, f64) {
        match &self.content {
            Content::Photo(picture) => (f64::from(picture.width), f64::from(picture.height)),
            Content::Drawing(drawing) => drawing.size(),
            Content::Font(_) => (1.0, 1.0),
        }
    }

    /// Width over height of the whole page.
    #[must_use]
    pub fn proportion(&self) -> f64 {
        let (width, height) = self.size();
        width / height
    }

    /// The outline of what it shows: a drawing's paths, a photo's traced figure. Units of [`Self::size`], y **up**, origin
    /// at the page's lower left. Worked out once.
    ///
    /// # Errors
    /// Art in which nothing has an outline, or one with too many corners.
    pub fn outline(&self) -> Result<Arc<Region>, ArtError> {
        let find = || {
            let found = match &self.content {
                Content::Photo(picture) => trace(picture),
                Content::Drawing(drawing) => drawing.outline(),
                Content::Font(_) => Err(Fault::Letters),
            };
            found.map(Arc::new).map_err(|fault| fault.of(&self.name))
        };
        self.outline.get_or_init(find).clone()
    }

    /// The whole page in its own proportion at no more than [`SMALL`] pixels, for judging it and for drawing it small.
    /// Worked out once.
    #[must_use]
    pub fn small(&self) -> Arc<Picture> {
        let make = || {
            let (width, height) = self.size();
            let shrink = (SMALL / (width * height)).sqrt();
            // A photo is never enlarged; a drawing has no size in pixels of its own.
            let shrink = if self.pixels().is_some() { shrink.min(1.0) } else { shrink };
            let side = |length: f64| (length * shrink).round().clamp(1.0, SMALL / 16.0) as u32;
            Arc::new(self.paint(side(width), side(height)))
        };
        Arc::clone(self.small.get_or_init(make))
    }

    /// The figure cut to size. The last ones are kept, so asking again for the same costs nothing.
    ///
    /// # Errors
    /// As [`Self::outline`].
    pub fn cut(&self, order: &CutOrder) -> Result<Arc<CutFigure>, ArtError> {
        let outline = self.outline()?;
        let nothing = Fault::NoOutline { reason: "its shapes enclose no area; draw them as closed shapes" };
        let cut = || CutFigure::of(&outline, DVec2::from(self.size()), order);
        self.cuts.get(order, cut).ok_or_else(|| nothing.of(&self.name))
    }

    /// The whole page, stretched to so many pixels. An empty picture for no pixels.
    #[must_use]
    pub fn paint(&self, width: u32, height: u32) -> Picture {
        self.paint_part(Part::WHOLE, width, height)
    }

    /// A part of the page, stretched to so many pixels. An empty picture for no pixels.
    #[must_use]
    pub fn paint_part(&self, part: Part, width: u32, height: u32) -> Picture {
        match &self.content {
            Content::Photo(picture) => resample(picture, part, width, height),
            Content::Drawing(drawing) => drawing.paint_part(part, width, height),
            Content::Font(_) => Picture::filled(width, height, [0; 4]),
        }
    }
}

/// All art of a design, by path.
#[derive(Clone, Debug, Default)]
pub struct Shelf {
    art: BTreeMap<String, Arc<Art>>,
}

impl Shelf {
    /// Puts a piece of art under its path; what stood there before goes.
    pub fn insert(&mut self, path: impl Into<String>, art: Arc<Art>) {
        self.art.insert(path.into(), art);
    }

    /// The art at a path.
    #[must_use]
    pub fn get(&self, path: &str) -> Option<&Arc<Art>> {
        self.art.get(path)
    }

    /// SHA-256 of each, by path: what a revision counts of it.
    #[must_use]
    pub fn digests(&self) -> BTreeMap<String, [u8; 32]> {
        self.iter().map(|(path, art)| (path.to_owned(), art.digest())).collect()
    }

    /// All of it, sorted by path.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &Arc<Art>)> {
        self.art.iter().map(|(path, art)| (path.as_str(), art))
    }
}

#[cfg(test)]
mod tests {
    use super::super::{encode_jpeg, encode_png};
    use super::*;

    const FLAG: &str =
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="40" height="20"><path d="M0 0H10V20H0Z"/></svg>"#;

    #[test]
    fn kinds_are_told_by_contents_alone() {
        let picture = Picture::filled(40, 20, [200, 10, 10, 255]);
        let png = Art::read(&encode_png(&picture).unwrap(), "art/a.svg").unwrap();
        assert_eq!((png.pixels(), png.proportion()), (Some((40, 20)), 2.0));
        assert!(Art::read(&encode_jpeg(&picture, 90).unwrap(), "a").unwrap().pixels().is_some());
        let drawing = Art::read(FLAG.as_bytes(), "art/a.png").unwrap();
        assert_eq!((drawing.pixels(), drawing.proportion()), (None, 2.0));
        assert_eq!(Art::read(b"", "a").unwrap_err().fault, Fault::Empty);
        assert_eq!(Art::read(b"hello", "a").unwrap_err().fault, Fault::NotAPicture);
        assert_eq!(Art::read(b"wOF2 and more", "a").unwrap_err().fault, Fault::WebFont);
        let font = Art::read(super::super::FontFile::Fallback.bytes(), "a.ttf").unwrap();
        assert!(font.font().is_ok() && font.is_picture().is_err() && font.outline().is_err());
        assert!(drawing.font().is_err() && drawing.is_picture().is_ok());
    }

    #[test]
    fn a_photo_and_a_drawing_of_one_thing_have_one_outline_and_one_look() {
        let drawing = Art::read(FLAG.as_bytes(), "a.svg").unwrap();
        let photo = Art::read(&encode_png(&drawing.paint(40, 20)).unwrap(), "a.png").unwrap();
        let (drawn, traced) = (drawing.outline().unwrap(), photo.outline().unwrap());
        // A traced corner is cut by half a pixel.
        assert!((drawn.area() - 200.0).abs() < 1e-2 && (traced.area() - 200.0).abs() < 1.0, "{}", traced.area());
        assert!(drawn.centroid().unwrap().distance(traced.centroid().unwrap()) < 0.1);
        let part = Part { left: 0.125, width: 0.25, ..Part::WHOLE };
        assert_eq!(drawing.paint_part(part, 10, 20), photo.paint_part(part, 10, 20));
    }

    #[test]
    fn an_outline_is_worked_out_once_and_names_its_file_when_there_is_none() {
        let drawing = Art::read(FLAG.as_bytes(), "a.svg").unwrap();
        assert!(Arc::ptr_eq(&drawing.outline().unwrap(), &drawing.outline().unwrap()));
        let blank = encode_png(&Picture::filled(9, 9, [255; 4])).unwrap();
        let error = Art::read(&blank, "art/blank.png").unwrap().outline().unwrap_err().to_string();
        assert!(error.starts_with("art/blank.png: no outline"), "{error}");
    }

    #[test]
    fn a_small_picture_keeps_the_proportion_and_is_painted_once() {
        let drawing = Art::read(FLAG.as_bytes(), "a.svg").unwrap();
        let small = drawing.small();
        assert_eq!((small.width, small.height), (1414, 707));
        assert!(Arc::ptr_eq(&small, &drawing.small()));
        let picture = Picture::filled(40, 20, [200, 10, 10, 255]);
        let photo = Art::read(&encode_png(&picture).unwrap(), "a.png").unwrap();
        assert_eq!(*photo.small(), picture);
    }

    #[test]
    fn the_shelf_is_sorted_and_knows_its_files() {
        let art = Arc::new(Art::read(FLAG.as_bytes(), "b.svg").unwrap());
        let mut shelf = Shelf::default();
        shelf.insert("b.svg", art.clone());
        shelf.insert("a.svg", art);
        assert_eq!(shelf.iter().map(|(path, _)| path).collect::<Vec<_>>(), ["a.svg", "b.svg"]);
        let digest = shelf.get("b.svg").unwrap().digest();
        assert_eq!(digest, <[u8; 32]>::from(Sha256::digest(FLAG)));
        assert!(shelf.get("c.svg").is_none());
    }
}

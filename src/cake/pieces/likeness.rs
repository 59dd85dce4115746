//! Art cut to size, and the picture that is printed on it.

use std::sync::Arc;

use glam::DVec2;

use super::{Makings, PieceError};
use crate::art::{Art, BackingOrder, CutFigure, CutOrder, OwnFont, Part as PagePart, Picture};
use crate::design::model::pieces::ReferenceSide;

/// Pixels to the inch of a drawing that is painted on a piece.
const PPI: f64 = 300.0;

/// Most pixels of a side of a painted face.
const MOST: f64 = 2048.0;

/// Empty pixels round a picture, so that back and sides, which have its corner, show the finish.
const RIM: u32 = 2;

/// A figure cut from art: its middle at the origin, mm, y up.
pub(super) struct Likeness<'a> {
    pub art: &'a Art,
    /// What is cut.
    pub figure: Arc<CutFigure>,
}

impl<'a> Likeness<'a> {
    /// The figure of the art at `path`, as large as asked.
    pub fn cut(makings: Makings<'a>, path: &str, size: ReferenceSide) -> Result<Self, PieceError> {
        Self::layered(makings, path, size, (None, 0.0))
    }

    /// The same with the layer behind it, and its necks below a width (mm).
    pub fn layered(
        makings: Makings<'a>,
        path: &str,
        size: ReferenceSide,
        (backing, least_neck): (Option<BackingOrder>, f64),
    ) -> Result<Self, PieceError> {
        let art = find(makings, path)?;
        let (low, high) = art.outline()?.bounds().ok_or_else(|| PieceError::Outline { path: path.to_owned() })?;
        let own = (high - low).max(DVec2::splat(1e-9));
        let size = match size {
            ReferenceSide::Width(width) => own * (width.as_mm() / own.x),
            ReferenceSide::Height(height) => own * (height.as_mm() / own.y),
            ReferenceSide::Both(width, height) => DVec2::new(width.as_mm(), height.as_mm()),
        };
        let figure = art.cut(&CutOrder { size, backing, least_neck })?;
        Ok(Self { art, figure })
    }

    /// Width and height, mm.
    pub fn size(&self) -> DVec2 {
        let [low, high] = self.figure.bounds;
        high - low
    }

    /// The picture on the figure's front, and where it lies.
    pub fn print(&self) -> Print {
        Print::of(self.art, self.part(), self.figure.bounds)
    }

    /// The part of the art's page that the figure takes.
    pub fn part(&self) -> PagePart {
        let ([low, high], [page_low, page_high]) = (self.figure.bounds, self.figure.page);
        let page = page_high - page_low;
        PagePart {
            left: ((low.x - page_low.x) / page.x).max(0.0),
            top: ((page_high.y - high.y) / page.y).max(0.0),
            width: ((high.x - low.x) / page.x).min(1.0),
            height: ((high.y - low.y) / page.y).min(1.0),
        }
    }
}

/// What lies on the shelf at a path.
fn on_shelf<'a>(makings: Makings<'a>, path: &str) -> Result<&'a Art, PieceError> {
    let art = makings.shelf.get(path).ok_or_else(|| PieceError::Missing { path: path.to_owned() })?;
    Ok(art)
}

/// The font at a path.
pub(super) fn find_font<'a>(makings: Makings<'a>, path: &str) -> Result<&'a OwnFont, PieceError> {
    Ok(on_shelf(makings, path)?.font()?)
}

/// The art at a path.
pub(super) fn find<'a>(makings: Makings<'a>, path: &str) -> Result<&'a Art, PieceError> {
    let art = on_shelf(makings, path)?;
    art.is_picture()?;
    Ok(art)
}

/// A picture on a face.
pub(super) struct Print {
    pub picture: Arc<Picture>,
    /// Least and greatest corner of the picture on the face, mm.
    pub lies: [DVec2; 2],
}

impl Print {
    /// A part of the art's page, laid from the least to the greatest corner of a face.
    pub fn of(art: &Art, part: PagePart, [low, high]: [DVec2; 2]) -> Self {
        let size = high - low;
        let wanted = match art.pixels() {
            Some((columns, rows)) => DVec2::new(f64::from(columns) * part.width, f64::from(rows) * part.height),
            None => size / 25.4 * PPI,
        };
        let pixels = (wanted * (MOST / wanted.max_element()).min(1.0)).round().max(DVec2::ONE);
        let picture = with_rim(&art.paint_part(part, pixels.x as u32, pixels.y as u32));
        let rim = size / pixels * f64::from(RIM);
        Self { picture: Arc::new(picture), lies: [low - rim, high + rim] }
    }

    /// The largest part of the art's page with the proportion of a face, cut evenly at both ends.
    pub fn covering(art: &Art, bounds: [DVec2; 2]) -> Self {
        Self::of(art, covering(art, bounds[1] - bounds[0]), bounds)
    }
}

/// The largest part of the art's page with the proportion of a face, cut evenly at both ends.
pub(super) fn covering(art: &Art, face: DVec2) -> PagePart {
    let wider = art.proportion() / (face.x / face.y);
    let (width, height) = (wider.recip().min(1.0), wider.min(1.0));
    PagePart { left: (1.0 - width) / 2.0, top: (1.0 - height) / 2.0, width, height }
}

/// The picture with empty pixels all round.
fn with_rim(picture: &Picture) -> Picture {
    let (width, height) = (picture.width + 2 * RIM, picture.height + 2 * RIM);
    let mut rgba = Vec::with_capacity(width as usize * height as usize * 4);
    let empty = |pixels: u32| std::iter::repeat_n(0_u8, pixels as usize * 4);
    rgba.extend(empty(width * RIM));
    for row in picture.rgba.chunks_exact((picture.width as usize * 4).max(1)) {
        rgba.extend(empty(RIM));
        rgba.extend_from_slice(row);
        rgba.extend(empty(RIM));
    }
    rgba.extend(empty(width * RIM));
    Picture { width, height, rgba }
}

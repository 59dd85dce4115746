//! What the paths of a drawing cover.

use glam::{DAffine2, DMat2, DVec2};
use resvg::tiny_skia::{Path as Shape, PathSegment, PathStroker, Point};
use resvg::usvg::{ClipPath, FillRule, Group, Mask, Node, Path, Stroke, Transform, Tree};

use super::super::error::Fault;
use super::super::flatten::{Flattener, within};
use super::super::offset::Join;
use super::super::region::{Region, Ring};
use super::super::tangle::tangled;

/// Most corners of one outline.
const MAX_CORNERS: usize = 500_000;
/// Curves stray so far at most, as a share of the drawing's larger side: fills, and strokes once to widen them and once
/// to flatten what comes of it, stay within 1e-4.
const TOLERANCE: f64 = 3e-5;
/// Shapes drawn edge to edge miss each other by the rounding of their numbers; gaps up to twice this share of the
/// drawing's larger side are closed, or a figure would fall into parts that nobody drew.
const HAIRLINE: f64 = 1e-5;

/// The outline of a whole drawing, y up, origin at the page's lower left.
pub(super) fn outline(tree: &Tree) -> Result<Region, Fault> {
    let size = DVec2::new(f64::from(tree.size().width()), f64::from(tree.size().height()));
    let mut walk = Walk { tolerance: TOLERANCE * size.max_element(), corners: 0, page: size };
    let covered = walk.group(tree.root(), Transform::identity())?;
    let hairline = HAIRLINE * size.max_element();
    let covered = covered.offset(hairline, Join::Mitre).offset(-hairline, Join::Mitre);
    let page = Region::rectangle(size.x, size.y, 0.0).moved(size / 2.0);
    let outline = covered.common(&page);
    if outline.is_empty() {
        return Err(Fault::NoOutline { reason: "nothing in the drawing is filled or stroked; fill its shapes" });
    }
    Ok(outline)
}

/// What closed paths fill.
pub(super) fn unite(paths: &[Ring], rule: FillRule) -> Result<Region, Fault> {
    if tangled(paths) {
        return Err(Fault::TooMuch { what: "its lines cross each other too often".to_owned() });
    }
    Ok(match rule {
        FillRule::EvenOdd => Region::from_paths_even_odd(paths),
        FillRule::NonZero => Region::from_paths_non_zero(paths),
    })
}

/// A walk through a drawing, from its root to its paths.
pub(super) struct Walk {
    tolerance: f64,
    corners: usize,
    page: DVec2,
}

impl Walk {
    fn group(&mut self, group: &Group, above: Transform) -> Result<Region, Fault> {
        if group.opacity().get() == 0.0 {
            return Ok(Region::default());
        }
        let here = above.pre_concat(group.transform());
        let mut rings = Vec::new();
        for node in group.children() {
            match node {
                Node::Group(group) => rings.append(&mut self.group(group, here)?.rings),
                Node::Path(path) if path.is_visible() => {
                    rings.extend(
                        self.filled(path, here)?
                            .into_iter()
                            .chain(self.stroked(path, here)?)
                            .flat_map(|part| part.rings),
                    );
                }
                Node::Path(_) => {}
                Node::Text(text) => rings.append(&mut self.group(text.flattened(), here)?.rings),
                // Refused when the drawing was read.
                Node::Image(_) => {}
            }
        }
        let covered = unite(&rings, FillRule::NonZero)?;
        let covered = match group.mask() {
            Some(mask) => self.masked(&covered, mask, here)?,
            None => covered,
        };
        match group.clip_path() {
            Some(clip) => self.clip(&covered, clip, here),
            None => Ok(covered),
        }
    }

    fn clip(&mut self, covered: &Region, clip: &ClipPath, here: Transform) -> Result<Region, Fault> {
        let window = self.group(clip.root(), here.pre_concat(clip.transform()))?;
        let covered = covered.common(&window);
        match clip.clip_path() {
            Some(outer) => self.clip(&covered, outer, here),
            None => Ok(covered),
        }
    }

    /// What is left of a figure under a mask.
    fn masked(&mut self, covered: &Region, mask: &Mask, here: Transform) -> Result<Region, Fault> {
        let shown = self.shown(mask, here)?;
        let covered = covered.common(&shown);
        match mask.mask() {
            Some(outer) => self.masked(&covered, outer, here),
            None => Ok(covered),
        }
    }

    /// What the fill of a path covers; `None` without one that can be seen.
    pub(super) fn filled(&mut self, path: &Path, here: Transform) -> Result<Option<Region>, Fault> {
        let Some(fill) = path.fill().filter(|fill| fill.opacity().get() > 0.0) else { return Ok(None) };
        unite(&self.flatten(path.data(), here)?, fill.rule()).map(Some)
    }

    /// What the stroke of a path covers; `None` without one that can be seen.
    pub(super) fn stroked(&mut self, path: &Path, here: Transform) -> Result<Option<Region>, Fault> {
        let widened = path.stroke().and_then(|stroke| self.widen(path.data(), stroke, here));
        let Some(widened) = widened else { return Ok(None) };
        unite(&self.flatten(&widened, here)?, FillRule::NonZero).map(Some)
    }

    /// The figure that a stroke covers, in the path's own units; `None` for one that cannot be seen.
    fn widen(&self, path: &Shape, stroke: &Stroke, here: Transform) -> Option<Shape> {
        if stroke.opacity().get() == 0.0 {
            return None;
        }
        // The stroker strays by a quarter of a unit over this scale.
        let scale = PathStroker::compute_resolution_scale(&here) / (4.0 * self.tolerance as f32);
        let pen = stroke.to_tiny_skia();
        let dashed = pen.dash.as_ref().map(|dash| path.dash(dash, scale));
        match dashed {
            Some(dashed) => dashed?.stroke(&pen, scale),
            None => path.stroke(&pen, scale),
        }
    }

    /// A shape's closed paths, as far as they matter for the page.
    pub(super) fn flatten(&mut self, shape: &Shape, here: Transform) -> Result<Vec<Ring>, Fault> {
        let [a, b, c, d, x, y] = [here.sx, here.ky, here.kx, here.sy, here.tx, here.ty].map(f64::from);
        let upright = DAffine2::from_scale_angle_translation(DVec2::new(1.0, -1.0), 0.0, DVec2::new(0.0, self.page.y));
        let place = upright
            * DAffine2::from_mat2_translation(DMat2::from_cols(DVec2::new(a, b), DVec2::new(c, d)), DVec2::new(x, y));
        let at = |point: Point| place.transform_point2(DVec2::new(f64::from(point.x), f64::from(point.y)));
        let mut pen = Flattener::new(self.tolerance);
        for segment in shape.segments() {
            match segment {
                PathSegment::MoveTo(to) => pen.move_to(at(to)),
                PathSegment::LineTo(to) => pen.line_to(at(to)),
                PathSegment::QuadTo(control, to) => pen.quad_to(at(control), at(to)),
                PathSegment::CubicTo(first, second, to) => pen.cubic_to(at(first), at(second), at(to)),
                PathSegment::Close => pen.close(),
            }
        }
        // What lies far off the page is cut off: one stray place there would leave none of the grid's digits to the page.
        let about = [-self.page.max_element() * DVec2::ONE, 2.0 * self.page.max_element() * DVec2::ONE];
        let rings: Vec<Ring> = pen.finish().into_iter().map(|ring| within(ring, about)).collect();
        self.corners += rings.iter().map(Vec::len).sum::<usize>();
        if self.corners > MAX_CORNERS {
            return Err(Fault::TooMuch { what: format!("its paths have more than {MAX_CORNERS} corners") });
        }
        Ok(rings)
    }
}

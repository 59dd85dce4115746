//! What a mask leaves: drawing programs cut with masks where a clip path would do, white for what stays, black for what goes.

use resvg::tiny_skia::PathBuilder;
use resvg::usvg::{FillRule, Group, Mask, MaskType, Node, Paint, Path, Transform};

use super::super::error::Fault;
use super::super::region::Region;
use super::outline::{Walk, unite};

impl Walk {
    /// What a mask shows, within its frame.
    pub(super) fn shown(&mut self, mask: &Mask, here: Transform) -> Result<Region, Fault> {
        let mut shown = Region::default();
        self.shade(mask.root(), (here, mask.kind()), &mut shown)?;
        let frame = PathBuilder::from_rect(mask.rect().to_rect());
        Ok(shown.common(&unite(&self.flatten(&frame, here)?, FillRule::NonZero)?))
    }

    /// Lays the shapes of a mask over one another, in the order in which they are painted.
    fn shade(&mut self, group: &Group, (above, kind): (Transform, MaskType), shown: &mut Region) -> Result<(), Fault> {
        let plain = group.opacity().get() == 1.0
            && group.mask().is_none()
            && group.clip_path().is_none()
            && group.filters().is_empty();
        if !plain {
            return Err(soft());
        }
        let here = above.pre_concat(group.transform());
        for node in group.children() {
            match node {
                Node::Group(group) => self.shade(group, (here, kind), shown)?,
                Node::Text(text) => self.shade(text.flattened(), (here, kind), shown)?,
                Node::Path(path) if path.is_visible() => self.paint(path, (here, kind), shown)?,
                Node::Path(_) | Node::Image(_) => {}
            }
        }
        Ok(())
    }

    fn paint(&mut self, path: &Path, (here, kind): (Transform, MaskType), shown: &mut Region) -> Result<(), Fault> {
        let fill = path.fill().map(|fill| shows(fill.paint(), fill.opacity().get(), kind)).transpose()?;
        let stroke = path.stroke().map(|stroke| shows(stroke.paint(), stroke.opacity().get(), kind)).transpose()?;
        let fills = (fill.flatten(), self.filled(path, here)?);
        let strokes = (stroke.flatten(), self.stroked(path, here)?);
        for (shows, region) in [fills, strokes] {
            *shown = match (shows, region) {
                (Some(true), Some(region)) => shown.union(&region),
                (Some(false), Some(region)) => shown.without(&region),
                _ => continue,
            };
        }
        Ok(())
    }
}

/// Whether what is painted so lets through what is under the mask; `None` when it paints nothing.
fn shows(paint: &Paint, opacity: f32, kind: MaskType) -> Result<Option<bool>, Fault> {
    let full = opacity > 0.999;
    match (kind, paint) {
        _ if opacity == 0.0 => Ok(None),
        (MaskType::Alpha, _) if full => Ok(Some(true)),
        (MaskType::Luminance, Paint::Color(colour)) if full => {
            let channels = [colour.red, colour.green, colour.blue];
            if channels.iter().all(|channel| *channel >= 254) {
                Ok(Some(true))
            } else if channels.iter().all(|channel| *channel <= 1) {
                Ok(Some(false))
            } else {
                Err(soft())
            }
        }
        _ => Err(soft()),
    }
}

fn soft() -> Fault {
    let reason = "the drawing has a mask with grey, a gradient or an effect in it, and so no sharp edge; make the mask plain black \
                  and white, or use a clip path";
    Fault::NoOutline { reason }
}

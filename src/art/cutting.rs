//! Art cut to size: what is worked out once for each size that is asked for, and kept with the art.
//!
//! A design is resolved at every move of the pointer, and a wide border round lettering takes tens of milliseconds; so the
//! last figures that were cut are kept. They depend on nothing but the art and what was asked.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

use glam::DVec2;

use super::neck::Neck;
use super::offset::{Join, simplify_ring};
use super::region::{Region, Ring, ring_area};

/// A figure is cut so near its art, mm.
const KNIFE: f64 = 0.01;
/// A border is cut so near its figure, mm.
const BORDER_KNIFE: f64 = 0.05;
/// Figures that are kept for one piece of art.
const MOST_KEPT: usize = 32;
/// Corners of all figures that are kept for one piece of art: 16 MB.
const MOST_CORNERS: usize = 1_000_000;

/// What is asked of a figure that is cut from art.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutOrder {
    /// Width and height of the figure, mm.
    pub size: DVec2,
    /// A second layer behind it, if there is one.
    pub backing: Option<BackingOrder>,
    /// Necks narrower than this are looked for, mm, in the backing where there is one; zero: not at all.
    pub least_neck: f64,
}

/// What is asked of the layer behind a figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BackingOrder {
    /// How far it stands out beyond the figure, mm.
    pub border: f64,
    /// Holes smaller than this are closed, mm².
    pub closed_hole: f64,
}

/// A figure cut from art: its middle at the origin, mm, y up.
#[derive(Clone, Debug)]
pub struct CutFigure {
    /// The front layer.
    pub front: Region,
    /// The layer behind.
    pub backing: Option<Region>,
    /// Where it is narrower than was asked, the narrowest first.
    pub necks: Vec<Neck>,
    /// Into how many parts the layer that carries it falls.
    pub parts: usize,
    /// Least and greatest corner of the front.
    pub bounds: [DVec2; 2],
    /// Least and greatest corner of the art's whole page.
    pub page: [DVec2; 2],
}

impl CutFigure {
    /// Cuts an outline with a page so large; `None` for an outline that encloses nothing.
    pub(super) fn of(outline: &Region, page: DVec2, order: &CutOrder) -> Option<Self> {
        let (low, high) = outline.bounds()?;
        let (middle, scale) = ((low + high) / 2.0, order.size / (high - low).max(DVec2::splat(1e-9)));
        let place = |at: DVec2| (at - middle) * scale;
        let placed = |ring: &Ring| simplify_ring(&ring.iter().map(|&at| place(at)).collect::<Vec<_>>(), KNIFE);
        let rings = outline.rings.iter().map(placed).filter(|ring| ring.len() > 2).collect();
        let front = Region { rings };
        let backing = order.backing.map(|backing| with_border(&front, backing));
        let widest = backing.as_ref().unwrap_or(&front);
        let (necks, parts) = (widest.necks(order.least_neck), widest.faces().len());
        let page = [place(DVec2::ZERO), place(page)];
        Some(Self { front, backing, necks, parts, bounds: [place(low), place(high)], page })
    }

    /// The layer that reaches farthest out, and carries the piece.
    #[must_use]
    pub fn widest(&self) -> &Region {
        self.backing.as_ref().unwrap_or(&self.front)
    }

    fn corners(&self) -> usize {
        let regions = std::iter::once(&self.front).chain(&self.backing);
        regions.flat_map(|region| &region.rings).map(Vec::len).sum()
    }
}

/// The figure moved outward all round, with round joins, and its small holes closed.
fn with_border(front: &Region, order: BackingOrder) -> Region {
    let small = |ring: &&Ring| (-order.closed_hole..0.0).contains(&ring_area(ring));
    let rings = front.rings.iter().filter(|ring| !small(ring)).map(|ring| simplify_ring(ring, BORDER_KNIFE));
    let whole = Region { rings: rings.filter(|ring| ring.len() > 2).collect() };
    whole.offset(order.border, Join::Round).close_holes_under(order.closed_hole)
}

/// What was cut, by what was ordered, the last one first.
type Kept = VecDeque<(CutOrder, Arc<CutFigure>)>;

/// The last figures that were cut from one piece of art.
#[derive(Clone, Debug, Default)]
pub(super) struct Cuts {
    kept: Arc<Mutex<Kept>>,
}

impl Cuts {
    /// The figure for an order, cut now if it isn't kept.
    pub(super) fn get(&self, order: &CutOrder, cut: impl FnOnce() -> Option<CutFigure>) -> Option<Arc<CutFigure>> {
        let kept = || self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, figure)) = kept().iter().find(|(known, _)| known == order) {
            return Some(Arc::clone(figure));
        }
        let figure = Arc::new(cut()?);
        let mut kept = kept();
        kept.push_front((*order, Arc::clone(&figure)));
        let mut corners = 0;
        let fits = kept.iter().take_while(|(_, figure)| {
            corners += figure.corners();
            corners <= MOST_CORNERS
        });
        let many = fits.count().clamp(1, MOST_KEPT);
        kept.truncate(many);
        Some(figure)
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Art, CutOrder};
    use super::*;

    fn ring() -> Art {
        let drawing = r#"<svg xmlns="http://www.w3.org/2000/svg" width="40" height="40"><path fill-rule="evenodd" d="M5 10H35V30H5Z M10 15H30V25H10Z"/></svg>"#;
        Art::read(drawing.as_bytes(), "ring.svg").unwrap()
    }

    fn order(border: f64, closed_hole: f64) -> CutOrder {
        let backing = Some(BackingOrder { border, closed_hole });
        CutOrder { size: DVec2::new(60.0, 40.0), backing, least_neck: 5.0 }
    }

    #[test]
    fn a_figure_is_cut_to_its_size_with_a_border_and_its_small_holes_closed() {
        let open = ring().cut(&order(3.0, 64.0)).unwrap();
        assert!((open.front.area() - (2400.0 - 800.0)).abs() < 1e-3, "{}", open.front.area());
        assert_eq!(open.bounds, [DVec2::new(-30.0, -20.0), DVec2::new(30.0, 20.0)]);
        assert_eq!(open.page, [DVec2::new(-40.0, -40.0), DVec2::new(40.0, 40.0)]);
        // 66 × 46 with corners of 3 mm, less the 34 × 14 that is left of the hole.
        let expected = 66.0 * 46.0 - (4.0 - std::f64::consts::PI) * 9.0 - 34.0 * 14.0;
        assert!((open.widest().area() / expected - 1.0).abs() < 1e-4, "{}", open.widest().area());
        assert_eq!(ring().cut(&order(3.0, 500.0)).unwrap().widest().rings.len(), 1);
    }

    #[test]
    fn the_same_order_is_cut_once_and_few_are_kept() {
        let art = ring();
        let first = art.cut(&order(3.0, 64.0)).unwrap();
        assert!(Arc::ptr_eq(&first, &art.cut(&order(3.0, 64.0)).unwrap()));
        assert!(!Arc::ptr_eq(&first, &art.cut(&order(3.1, 64.0)).unwrap()));
        for number in 0..MOST_KEPT {
            art.cut(&order(4.0 + number as f64, 64.0)).unwrap();
        }
        assert!(!Arc::ptr_eq(&first, &art.cut(&order(3.0, 64.0)).unwrap()));
    }
}

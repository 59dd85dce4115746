//! Drawings to scale: the cake from the front and from above, without perspective, with the sizes that matter.
//!
//! In: the bodies, and the box of each tier. Out: flat figures and dimensions at true size.
//!
//! ```text
//!   elevation: looks along -Z     plan: looks down -Y        frame of both, mm, true size:
//!        +---+                         (   )                     +----> x, to the cake's right
//!      +-------+                      ( ( ) )                    |
//!      +-------+                       (   )                     v down the page
//!    =============                     front
//! ```

use glam::{DVec2, DVec3};

use crate::art::{Colour, Ring};
use crate::cake::{Body, CakeTier};
use crate::measure::{Length, Unit, show_length};
use crate::proof::silhouette::silhouette;
use crate::proof::span::{Side, Span};

/// The least and greatest corner of a tier as it stands, mm, in the cake's frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TierBox {
    /// Left, foot, back.
    pub low: DVec3,
    /// Right, top, front.
    pub high: DVec3,
}

impl TierBox {
    /// The box of a resolved tier: its finished outline, without what is stuck on it.
    #[must_use]
    pub fn of(tier: &CakeTier) -> Self {
        let pose = tier.pose();
        let corners = tier.outline.flat(0.1).into_iter().map(|at| pose.transform_point3(DVec3::new(at.x, 0.0, at.y)));
        let (low, high) =
            corners.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)));
        Self { low, high: high + DVec3::Y * tier.height.as_mm() }
    }
}

/// One body, flat.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// Outer rings and holes; filled by the even-odd rule.
    pub rings: Vec<Ring>,
    /// Colour of the body.
    pub colour: Colour,
}

/// A flat drawing at true size, mm, x to the right, y down.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// From the rearmost to the foremost; later ones cover earlier ones.
    pub figures: Vec<Figure>,
    /// What is measured, with the figure to be written.
    pub spans: Vec<(Span, String)>,
    /// Upper left corner of all figures.
    pub low: DVec2,
    /// Lower right corner of all figures.
    pub high: DVec2,
}

/// Which way a drawing looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Look {
    FromFront,
    FromAbove,
}

impl Look {
    /// A place of the cake on the drawing.
    fn flat(self, at: DVec3) -> DVec2 {
        match self {
            Self::FromFront => DVec2::new(at.x, -at.y),
            Self::FromAbove => DVec2::new(at.x, at.z),
        }
    }

    /// How near to the eye a place is.
    fn near(self, at: DVec3) -> f64 {
        match self {
            Self::FromFront => at.z,
            Self::FromAbove => at.y,
        }
    }
}

/// The cake from the front: heights at its left and right, widths below it.
#[must_use]
pub fn elevation(bodies: &[Body], tiers: &[TierBox], unit: Unit) -> Drawing {
    let mut drawing = figures(bodies, Look::FromFront);
    let whole = [drawing.high, DVec2::new(drawing.high.x, drawing.low.y)];
    for tier in tiers {
        let (low, high) = (Look::FromFront.flat(tier.low), Look::FromFront.flat(tier.high));
        drawing.measure([low, DVec2::new(low.x, high.y)], Side::Left, unit);
        drawing.measure([low, DVec2::new(high.x, low.y)], Side::Below, unit);
    }
    if !drawing.figures.is_empty() {
        drawing.measure(whole, Side::Right, unit);
    }
    drawing
}

/// The cake from above, its front at the foot of the drawing: the whole width below it, the whole depth at its right.
#[must_use]
pub fn plan(bodies: &[Body], unit: Unit) -> Drawing {
    let mut drawing = figures(bodies, Look::FromAbove);
    if !drawing.figures.is_empty() {
        let (low, high) = (drawing.low, drawing.high);
        drawing.measure([DVec2::new(low.x, high.y), high], Side::Below, unit);
        drawing.measure([DVec2::new(high.x, low.y), high], Side::Right, unit);
    }
    drawing
}

impl Drawing {
    fn measure(&mut self, [from, to]: [DVec2; 2], side: Side, unit: Unit) {
        let label = show_length(Length::mm(from.distance(to)), unit);
        self.spans.push((Span { from, to, side }, label));
    }
}

/// Every body's figure, the nearest to the eye last.
fn figures(bodies: &[Body], look: Look) -> Drawing {
    let nearest = |body: &Body| {
        body.mesh
            .positions
            .iter()
            .map(|&at| look.near(body.pose.transform_point3(at)))
            .fold(f64::NEG_INFINITY, f64::max)
    };
    let mut order: Vec<(f64, &Body)> = bodies.iter().map(|body| (nearest(body), body)).collect();
    order.sort_by(|(one, _), (other, _)| one.total_cmp(other));
    let figure = |(_, body): &(f64, &Body)| {
        let rings = silhouette(&body.mesh, |at| look.flat(body.pose.transform_point3(at))).rings;
        (!rings.is_empty()).then_some(Figure { rings, colour: body.surface.colour })
    };
    let figures: Vec<Figure> = order.iter().filter_map(figure).collect();
    let (low, high) = bounds(&figures).unwrap_or_default();
    Drawing { figures, spans: Vec::new(), low, high }
}

fn bounds(figures: &[Figure]) -> Option<(DVec2, DVec2)> {
    let mut points = figures.iter().flat_map(|figure| figure.rings.iter().flatten()).copied();
    let first = points.next()?;
    Some(points.fold((first, first), |(low, high), at| (low.min(at), high.max(at))))
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use glam::DAffine3;

    use super::*;
    use crate::cake::{Owner, Surface};
    use crate::shapes::Mesh;

    /// A box of w × h × d mm standing on the origin.
    fn block(size: DVec3, at: DVec3, shade: u8) -> Body {
        let mut mesh = Mesh::default();
        let outs = [DVec3::X, DVec3::NEG_X, DVec3::Y, DVec3::NEG_Y, DVec3::Z, DVec3::NEG_Z];
        for out in outs {
            let right = out.any_orthonormal_vector();
            let up = out.cross(right);
            let corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
                .map(|(a, b)| mesh.corner((out + right * a + up * b + DVec3::Y) * size / 2.0, out, DVec2::ZERO));
            mesh.patch(corners);
        }
        let surface =
            Surface { colour: Colour::new(shade, shade, shade), look: crate::design::Look::Paste, picture: None };
        let pose = DAffine3::from_translation(at);
        Body { name: shade.to_string().into(), mesh: Arc::new(mesh), pose, surface, owner: Owner::Board }
    }

    #[test]
    fn a_drawing_is_true_to_size_and_covers_what_lies_behind() {
        let tier = block(DVec3::new(200.0, 100.0, 150.0), DVec3::ZERO, 1);
        let behind = block(DVec3::splat(20.0), DVec3::new(10.0, 40.0, -90.0), 2);
        let front = block(DVec3::splat(20.0), DVec3::new(10.0, 40.0, 90.0), 3);
        let bounds = TierBox { low: DVec3::new(-100.0, 0.0, -75.0), high: DVec3::new(100.0, 100.0, 75.0) };
        let drawing = elevation(&[front, tier, behind], &[bounds], Unit::Millimetre);
        let order: Vec<u8> = drawing.figures.iter().map(|figure| figure.colour.red).collect();
        assert_eq!(order, [2, 1, 3]);
        let near = |at: DVec2, x: f64, y: f64| at.distance(DVec2::new(x, y)) < 1e-3;
        assert!(near(drawing.low, -100.0, -100.0) && near(drawing.high, 100.0, 0.0), "{drawing:?}");
        let labels: Vec<&str> = drawing.spans.iter().map(|(_, label)| label.as_str()).collect();
        assert_eq!(labels, ["100 mm", "200 mm", "100 mm"]);
    }

    #[test]
    fn the_plan_has_the_front_at_its_foot() {
        let drawing = plan(&[block(DVec3::new(40.0, 10.0, 20.0), DVec3::new(0.0, 0.0, 60.0), 1)], Unit::Millimetre);
        assert!(drawing.low.y > 49.9 && drawing.high.y > 69.9, "{drawing:?}");
        assert_eq!(drawing.spans[1].1, "20 mm");
    }

    #[test]
    fn no_bodies_make_an_empty_drawing() {
        assert_eq!(elevation(&[], &[], Unit::Inch), Drawing::default());
    }
}

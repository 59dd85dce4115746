//! The seat of a piece as the pieces that take their place from it ask for it.

use glam::{DAffine3, DMat3, DVec2, DVec3};

use super::pieces::Site;
use super::resolve::Cake;
use super::seat::before_side;
use super::{CakePiece, CakeTier};
use crate::design::model::{CourseKind, Form, Piece, Surface, Target};
use crate::measure::Length;
use crate::shapes::Outline;

/// A ball may enter a wall beside it this far, mm: less than anybody sees.
const TOUCH: f64 = 0.05;

/// A piece's seat.
pub(super) struct Ground<'a> {
    cake: &'a Cake,
    surface: Surface,
    /// The tier it sits on, and the one that stands on the same.
    tier: Option<&'a CakeTier>,
    above: Option<&'a CakeTier>,
    /// The edge of a top, or of the piece beneath.
    edge: Option<Outline>,
    /// Readings and heights from and to of seams to keep clear of, and how far.
    seams: Vec<(f64, [f64; 2])>,
    clear: f64,
    /// From the piece's frame to the seat's, on a top.
    turn: DMat3,
}

impl<'a> Ground<'a> {
    pub fn of(cake: &'a Cake, piece: &Piece, on: Option<&CakePiece>) -> Self {
        let place = match &piece.seat.on {
            Target::Tier(name) => cake.tiers.iter().position(|tier| &tier.name == name),
            Target::Board | Target::Piece(_) => None,
        };
        let tier = place.and_then(|at| cake.tiers.get(at));
        let edge = match (&piece.seat.on, tier) {
            _ if !asks(&piece.form) => None,
            (Target::Board, _) => Some(cake.board.outline.clone()),
            (_, Some(tier)) => Some(tier.outline.clone()),
            _ => on.map(|on| edge_of(on, piece.seat.surface)),
        };
        let above = match piece.seat.on {
            Target::Board => cake.tiers.first(),
            _ => place.and_then(|at| cake.tiers.get(at + 1)),
        };
        let clear = match &piece.form {
            Form::Scatter(scatter) => scatter.clear_of_seams,
            _ => None,
        };
        let seams = clear.and(tier).map(fixed_seams).unwrap_or_default();
        let turn = DMat3::from_rotation_y(piece.place().1.as_radians());
        Self {
            cake,
            surface: piece.seat.surface,
            tier,
            above,
            edge,
            seams,
            clear: clear.map_or(0.0, Length::as_mm),
            turn,
        }
    }

    /// A ball on a top, the board or another piece: inside the edge, beside what stands there.
    fn on_flat(&self, at: DVec2, radius: f64) -> Option<DVec3> {
        let rounding = self.tier.map_or(0.0, |tier| tier.edge.as_mm());
        let edge = self.edge.as_ref()?;
        let middle = DVec3::new(at.x, radius, at.y);
        let place = self.turn * middle.with_y(0.0);
        let lies = edge.beyond(DVec2::new(place.x, place.z)) <= -radius.max(rounding);
        let stands = self.above.is_none_or(|above| {
            let frame = self.tier.map_or(DAffine3::IDENTITY, CakeTier::pose);
            let place = (above.pose().inverse() * frame).transform_point3(place);
            let out = above.surface_out(radius, radius);
            above.outline.beyond(DVec2::new(place.x, place.z)) >= out + radius
        });
        (lies && stands).then_some(middle)
    }

    /// A ball on a side: below the rounded edge, above the foot, in no wall beside it, on no seam.
    fn on_side(&self, tier: &CakeTier, at: DVec2, radius: f64) -> Option<DVec3> {
        let room = radius.max(tier.edge.as_mm());
        if at.y < radius || at.y > tier.height.as_mm() - room || self.near_seam(tier, at, radius) {
            return None;
        }
        let middle = before_side(tier, at, radius).translation;
        let place = tier.pose().inverse().transform_point3(middle);
        let plan = DVec2::new(place.x, place.z);
        let nearest = tier.outline.at(tier.outline.nearest(plan)).point;
        let free = nearest.distance(plan) >= tier.surface_out(at.y, 0.1) + radius - TOUCH;
        (free && self.clears_carrier(middle, radius)).then_some(middle)
    }

    /// Whether a ball low on a side hangs over the board only, not in it.
    fn clears_carrier(&self, middle: DVec3, radius: f64) -> bool {
        middle.y >= radius - TOUCH || self.cake.board.thickness == Length::ZERO
    }

    fn near_seam(&self, tier: &CakeTier, at: DVec2, radius: f64) -> bool {
        let reach = radius + self.clear;
        self.seams.iter().any(|&(along, [bottom, top])| {
            let beside = tier.outline.reading(at.x - along).abs();
            beside < reach && at.y + reach > bottom && at.y - reach < top
        })
    }
}

impl Site for Ground<'_> {
    fn ball(&self, at: DVec2, radius: f64) -> Option<DVec3> {
        match (self.surface, self.tier) {
            (Surface::Side, Some(tier)) => self.on_side(tier, at, radius),
            (Surface::Side, None) => {
                let inside = self.edge.as_ref().is_none_or(|edge| edge.beyond(DVec2::new(at.x, -at.y)) <= -radius);
                inside.then(|| at.extend(radius))
            }
            _ => self.on_flat(at, radius),
        }
    }

    fn edge(&self) -> Option<Outline> {
        self.edge.clone()
    }

    fn around(&self, out: f64) -> Option<f64> {
        let tier = self.tier.filter(|_| self.surface == Surface::Side)?;
        Some(tier.outline.draped(out.max(0.1), out.max(0.1)).perimeter())
    }
}

/// Whether a form asks its seat anything.
fn asks(form: &Form) -> bool {
    matches!(form, Form::Scatter(_) | Form::Rope(_))
}

/// The edge of a piece as one that sits on it sees it: as a plan, y downward on a front.
fn edge_of(on: &CakePiece, surface: Surface) -> Outline {
    let ring = on.measure.footprint.iter();
    match surface {
        // What stands on a top shows its whole front.
        Surface::Side if on.side.is_none() => {
            let half = on.measure.size.width.as_mm() / 2.0;
            let top = on.measure.size.height.as_mm();
            let corners = [(-half, 0.0), (half, 0.0), (half, -top), (-half, -top)];
            Outline::from_ring(&corners.map(|(x, y)| DVec2::new(x, y)))
        }
        Surface::Side => Outline::from_ring(&ring.map(|at| DVec2::new(at.x, -at.y)).collect::<Vec<_>>()),
        Surface::Top | Surface::Board => Outline::from_ring(&ring.rev().copied().collect::<Vec<_>>()),
    }
}

/// Seams whose place the design fixes: ends of ropes and bands, pinned seams and ends of wraps.
fn fixed_seams(tier: &CakeTier) -> Vec<(f64, [f64; 2])> {
    let seams = tier.courses.iter().flat_map(|course| {
        let pinned = match &course.kind {
            CourseKind::Wrap(wrap) => {
                let ends = wrap.stretch.map(|(from, to)| [from, to]).into_iter().flatten();
                wrap.pins.iter().copied().chain(ends).map(Length::as_mm).collect()
            }
            _ => course.seam(&tier.outline).into_iter().collect::<Vec<_>>(),
        };
        pinned.into_iter().map(|along| (along, [course.bottom, course.top]))
    });
    seams.collect()
}

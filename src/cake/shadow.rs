//! The shadow of a piece on what it sits on: enough to say for certain, without its solids, that two things are apart.
//!
//! On a flat seat the shadow is the footprint in the cake's plan; on a side it is the footprint on the tape. The nearest
//! places of a convex side are never further apart than the things they are nearest to, so what is apart on the tape is apart.

use glam::{DVec2, DVec3};

use super::{Cake, CakePiece, CakeTier};
use crate::design::model::{Form, Surface};

/// A piece reaches beyond its footprint by less than this, mm.
const CUT: f64 = 0.2;

/// A piece's shadow.
#[derive(Clone, Debug)]
pub struct Shadow<'a> {
    /// The tier whose tape it lies on; `None`: it lies in the cake's plan.
    side: Option<&'a CakeTier>,
    ring: Vec<DVec2>,
    /// On a side: how far from the finished outline it reaches, mm.
    reach: f64,
    slack: f64,
}

impl<'a> Shadow<'a> {
    /// The shadow of a piece; `None` where nothing certain can be said by it.
    #[must_use]
    pub fn of(cake: &'a Cake, placed: &CakePiece) -> Option<Self> {
        let piece = cake.designed(placed)?;
        let slack = match piece.form {
            // A rod's footprint is that of its foot.
            Form::Rod(_) => return None,
            _ => CUT,
        };
        let Some(place) = &placed.side else {
            let upright = piece.seat.surface != Surface::Side && placed.pose.matrix3.y_axis.y > 1.0 - 1e-9;
            return upright.then(|| Self { side: None, ring: placed.footprint_in_cake(), reach: f64::INFINITY, slack });
        };
        let tier = cake.tiers.get(place.tier).filter(|tier| tier.outline.is_convex())?;
        let (turn, at) = (DVec2::from_angle(place.turn.as_radians()), DVec2::new(place.along, place.up));
        let ring = placed.measure.footprint.iter().map(|corner| at + turn.rotate(*corner)).collect();
        let reach = place.out + placed.measure.reach.as_mm();
        Some(Self { side: Some(tier), ring, reach, slack })
    }

    /// Whether it is certainly apart from another.
    #[must_use]
    pub fn is_apart(&self, other: &Self) -> bool {
        let one_seat = match (self.side, other.side) {
            (None, None) => true,
            (Some(one), Some(other)) => std::ptr::eq(one, other),
            _ => false,
        };
        let shift = self.shift_to(middle(&other.ring));
        let moved: Vec<DVec2> = other.ring.iter().map(|at| *at + shift).collect();
        one_seat && gap(&self.ring, &moved).max(gap(&moved, &self.ring)) > self.slack + other.slack
    }

    /// Whether it is certainly apart from a ball, whose middle is given in the cake's frame.
    #[must_use]
    pub fn is_apart_from_ball(&self, middle: DVec3, radius: f64) -> bool {
        let at = match self.side {
            None => DVec2::new(middle.x, middle.z),
            Some(tier) => {
                let local = tier.pose().inverse().transform_point3(middle);
                let flat = DVec2::new(local.x, local.z);
                if tier.outline.beyond(flat) - radius > self.reach + self.slack {
                    return true;
                }
                DVec2::new(tier.outline.nearest(flat), local.y)
            }
        };
        gap(&self.ring, &[at + self.shift_to(at)]) > radius + self.slack
    }

    /// What brings a place once round the tape as near as it gets.
    fn shift_to(&self, at: DVec2) -> DVec2 {
        let Some(tier) = self.side else { return DVec2::ZERO };
        let from = middle(&self.ring).x;
        DVec2::new(from + tier.outline.reading(at.x - from) - at.x, 0.0)
    }
}

fn middle(ring: &[DVec2]) -> DVec2 {
    let low = ring.iter().copied().fold(DVec2::INFINITY, DVec2::min);
    let high = ring.iter().copied().fold(DVec2::NEG_INFINITY, DVec2::max);
    if low.is_finite() { (low + high) / 2.0 } else { DVec2::ZERO }
}

/// The widest gap that an edge of a ring (counter-clockwise) shows between all of it and all of the others, mm; below zero
/// where no edge shows one.
fn gap(ring: &[DVec2], others: &[DVec2]) -> f64 {
    let edges = ring.iter().zip(ring.iter().cycle().skip(1));
    let shown = edges.filter_map(|(from, to)| {
        let out = -(to - from).perp().try_normalize()?;
        let own = ring.iter().map(|at| out.dot(*at)).fold(f64::NEG_INFINITY, f64::max);
        Some(others.iter().map(|at| out.dot(*at)).fold(f64::INFINITY, f64::min) - own)
    });
    shown.fold(f64::NEG_INFINITY, f64::max)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::art::Shelf;
    use crate::cake::resolve;
    use crate::design::read_design;

    fn cake(pieces: &str) -> Cake {
        let text = format!("title = \"t\"\nunit = \"mm\"\n[[tier]]\nname = \"a\"\nsize = 200\nheight = 100\n{pieces}");
        resolve(&Arc::new(read_design(&text, "cake.toml").unwrap()), &Arc::new(Shelf::default())).unwrap()
    }

    fn plate(name: &str, surface: &str, at: &str) -> String {
        format!(
            "[[piece]]\nname = \"{name}\"\nkind = \"plaque\"\nseat = {{ on = \"a\", surface = \"{surface}\" }}\nat = {at}\n\
             size = [40, 20]\nthickness = 3\nfinish = \"white\"\n"
        )
    }

    #[test]
    fn plates_are_apart_when_their_shadows_are() {
        let apart = |surface: &str, one: &str, other: &str| {
            let cake = cake(&(plate("p", surface, one) + &plate("q", surface, other)));
            let [one, other] = [0, 1].map(|number: usize| Shadow::of(&cake, &cake.pieces[number]).unwrap());
            assert_eq!(one.is_apart(&other), other.is_apart(&one));
            one.is_apart(&other)
        };
        assert!(apart("top", "{ x = 0, z = 0 }", "{ x = 41, z = 5 }"));
        assert!(!apart("top", "{ x = 0, z = 0 }", "{ x = 39, z = 5 }"));
        assert!(apart("side", "{ along = 0, up = 50 }", "{ along = 0, up = 71 }"));
        // Over the back, where the tape begins anew: 2π·100 round.
        assert!(!apart("side", "{ along = 310, up = 50 }", "{ along = -290, up = 55 }"));
        assert!(apart("side", "{ along = 300, up = 50 }", "{ along = -286, up = 50 }"));
    }

    #[test]
    fn a_ball_is_apart_by_its_radius() {
        let on_side = cake(&plate("p", "side", "{ along = 0, up = 50 }"));
        let shadow = Shadow::of(&on_side, &on_side.pieces[0]).unwrap();
        let at = |along: f64| on_side.tiers[0].outline.at(along).point * 1.05;
        for (along, apart) in [(25.3, true), (24.9, false), (0.0, false), (300.0, true)] {
            let place = at(along);
            assert_eq!(shadow.is_apart_from_ball(DVec3::new(place.x, 50.0, place.y), 5.0), apart, "{along}");
        }
        let on_top = cake(&plate("p", "top", "{ x = 0, z = 0 }"));
        let shadow = Shadow::of(&on_top, &on_top.pieces[0]).unwrap();
        assert!(shadow.is_apart_from_ball(DVec3::new(0.0, 105.0, 15.3), 5.0));
        assert!(!shadow.is_apart_from_ball(DVec3::new(0.0, 105.0, 15.1), 5.0));
    }
}

//! What is under the pointer on the tape drawing.

use glam::{DAffine3, DVec2, DVec3};

use super::hit::seam_near;
use super::{Choice, Place, Thing};
use crate::cake::{Cake, CakePiece, CakeTier};
use crate::design::model::{At, Form, Seat, Surface, Target};
use crate::measure::{Length, TapePoint};
use crate::wraps::WrapPlan;

/// What lies at a place of a tier's tape: a piece (the one made last, which lies on top), a seam within `reach`, a course, the
/// tier itself. Pieces are found within `reach` of their outline too, so that small ones can be caught.
#[must_use]
pub fn on_tape(cake: &Cake, plans: &[WrapPlan], (name, at): (&str, TapePoint), reach: Length) -> Option<Choice> {
    let index = cake.tiers.iter().position(|tier| tier.name == name)?;
    let tier = cake.tiers.get(index)?;
    let up = at.up.as_mm();
    let course = tier.courses.iter().position(|course| course.bottom <= up && up < course.top);
    let seam = || course.and_then(|course| seam_near((cake, plans), (index, course), (at.along, reach)));
    let piece = |slack: f64| piece_at(cake, (index, tier), (at, slack)).map(Thing::Piece);
    let plain = || {
        let course = course.and_then(|course| tier.courses.get(course));
        course.map(|course| Thing::Course(crate::edits::CourseName::new(&tier.name, &course.name)))
    };
    let thing = piece(0.0).or_else(seam).or_else(|| piece(reach.as_mm())).or_else(plain);
    let (at_cake, normal) = in_cake(tier, at);
    let seat = Seat { on: Target::Tier(tier.name.clone()), surface: Surface::Side };
    let place = Place { seat, at: At::Tape(at) };
    Some(Choice { thing: thing.unwrap_or_else(|| Thing::Tier(tier.name.clone())), at: at_cake, normal, place })
}

/// The place of a reading in the cake's frame, on whatever lies there, and the way out of the side.
pub(in crate::edits) fn in_cake(tier: &CakeTier, at: TapePoint) -> (DVec3, DVec3) {
    let spot = tier.outline.at(at.along.as_mm());
    let up = at.up.as_mm();
    let flat = spot.point + spot.outward * tier.surface_out(up, 0.1);
    let pose: DAffine3 = tier.pose();
    let normal = pose.matrix3 * DVec3::new(spot.outward.x, 0.0, spot.outward.y);
    (pose.transform_point3(DVec3::new(flat.x, up, flat.y)), normal)
}

fn piece_at(cake: &Cake, (index, tier): (usize, &CakeTier), (at, slack): (TapePoint, f64)) -> Option<String> {
    let here = |placed: &&CakePiece| {
        placed.side.is_some_and(|side| side.tier == index) && {
            let outline = outline_on_seat(cake, placed);
            let middle = outline.iter().fold(DVec2::ZERO, |sum, corner| sum + *corner) / outline.len().max(1) as f64;
            // The pointer and the piece may be told apart by once round the tape.
            let along = middle.x + tier.outline.reading(at.along.as_mm() - middle.x);
            distance(&outline, DVec2::new(along, at.up.as_mm())) <= slack
        }
    };
    cake.pieces.iter().rev().find(here).and_then(|placed| cake.designed(placed)).map(|piece| piece.name.clone())
}

/// The outline of what a piece covers of its seat, in the seat's own readings, mm: (along, up) on a side, (x, z) on a top or
/// the board. Round the back it runs on past half the tape.
#[must_use]
pub fn outline_on_seat(cake: &Cake, placed: &CakePiece) -> Vec<DVec2> {
    let Some(piece) = cake.designed(placed) else { return Vec::new() };
    let (place, turn) = match piece.at {
        At::Tape(at) => (DVec2::new(at.along.as_mm(), at.up.as_mm()), DVec2::from_angle(piece.turn.as_radians())),
        // Seen from above z runs down the page, so the same turn goes the other way round.
        At::Plan(at) => (DVec2::new(at.x.as_mm(), at.z.as_mm()), DVec2::from_angle(-piece.turn.as_radians())),
    };
    // A scatter's stretch is typed in readings of its own.
    let (place, turn) = match (&piece.form, piece.at) {
        (Form::Scatter(_), At::Tape(_)) => (DVec2::ZERO, DVec2::X),
        _ => (place, turn),
    };
    placed.measure.footprint.iter().map(|corner| place + turn.rotate(*corner)).collect()
}

/// How far a place lies outside a simple ring, mm; zero inside.
pub(in crate::edits) fn distance(ring: &[DVec2], at: DVec2) -> f64 {
    let ends = || ring.iter().zip(ring.iter().cycle().skip(1));
    let crossings =
        ends().filter(|(a, b)| (a.y > at.y) != (b.y > at.y) && at.x < (b.x - a.x) * (at.y - a.y) / (b.y - a.y) + a.x);
    if crossings.count() % 2 == 1 {
        return 0.0;
    }
    ends().map(|(a, b)| to_side(at, (*a, *b))).fold(f64::INFINITY, f64::min)
}

/// How far a place lies from the straight line between two others, mm.
pub(in crate::edits) fn to_side(at: DVec2, (a, b): (DVec2, DVec2)) -> f64 {
    let side = b - a;
    let share = ((at - a).dot(side) / side.length_squared().max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
    at.distance(a + side * share)
}

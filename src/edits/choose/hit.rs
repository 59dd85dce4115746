//! From a ray to what is chosen, with the place on it as a seat.

use glam::{DVec2, DVec3};

use super::{Hit, Ray, Thing, Touch};
use crate::cake::{Cake, CakeCourse, CakeTier, Owner};
use crate::design::model::{At, Seat, Surface, Target};
use crate::edits::CourseName;
use crate::measure::{Length, PlanPoint, TapePoint};
use crate::wraps::WrapPlan;

/// A surface that looks up more than this is a top: steeper than half way over a rounded edge.
const LOOKS_UP: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// A place on a seat.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// Which seat.
    pub seat: Seat,
    /// Where on it.
    pub at: At,
}

/// What is under the pointer.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// What it is.
    pub thing: Thing,
    /// Where it was touched, in the cake's frame, mm.
    pub at: DVec3,
    /// The surface's unit normal there.
    pub normal: DVec3,
    /// The place there, as a seat for something else: on the board, a top, a side, or on the piece itself.
    pub place: Place,
}

/// What a ray meets first; a seam, where one lies within `reach` of the place along the tape.
#[must_use]
pub fn choose(cake: &Cake, plans: &[WrapPlan], touch: &Touch, (ray, reach): (Ray, Length)) -> Option<Choice> {
    let hit = touch.cast(ray, |_| true)?;
    let place = place_of(cake, &hit)?;
    let thing = match (hit.owner, place.at) {
        (Owner::Course(tier, course), At::Tape(at)) => seam_near((cake, plans), (tier, course), (at.along, reach)),
        _ => None,
    };
    let thing = thing.or_else(|| Thing::of(cake, hit.owner))?;
    Some(Choice { thing, at: hit.at, normal: hit.normal, place })
}

/// The place that a hit means as a seat.
pub(in crate::edits) fn place_of(cake: &Cake, hit: &Hit) -> Option<Place> {
    match hit.owner {
        Owner::Board => {
            let seat = Seat { on: Target::Board, surface: Surface::Board };
            Some(Place { seat, at: plan(DVec2::new(hit.at.x, hit.at.z)) })
        }
        Owner::Tier(index) => cake.tiers.get(index).map(|tier| on_tier(tier, hit, hit.normal.y > LOOKS_UP)),
        Owner::Course(index, _) => cake.tiers.get(index).map(|tier| on_tier(tier, hit, false)),
        Owner::Piece(index) => {
            let placed = cake.pieces.iter().find(|placed| placed.index == index)?;
            let into = placed.pose.inverse();
            let (local, up) = (into.transform_point3(hit.at), into.matrix3 * hit.normal);
            let on = Target::Piece(cake.designed(placed)?.name.clone());
            Some(if up.y > LOOKS_UP {
                Place { seat: Seat { on, surface: Surface::Top }, at: plan(DVec2::new(local.x, local.z)) }
            } else {
                Place { seat: Seat { on, surface: Surface::Side }, at: tape(local.x, local.y) }
            })
        }
    }
}

fn on_tier(tier: &CakeTier, hit: &Hit, is_top: bool) -> Place {
    let local = tier.pose().inverse().transform_point3(hit.at);
    let flat = DVec2::new(local.x, local.z);
    let (surface, at) = if is_top {
        (Surface::Top, plan(flat))
    } else {
        (Surface::Side, tape(tier.outline.nearest(flat), local.y.clamp(0.0, tier.height.as_mm())))
    };
    Place { seat: Seat { on: Target::Tier(tier.name.clone()), surface }, at }
}

fn plan(at: DVec2) -> At {
    At::Plan(PlanPoint { x: Length::mm(at.x), z: Length::mm(at.y) })
}

fn tape(along: f64, up: f64) -> At {
    At::Tape(TapePoint { along: Length::mm(along), up: Length::mm(up) })
}

/// The seam of a course that lies nearest to a reading, within reach.
pub(super) fn seam_near(
    (cake, plans): (&Cake, &[WrapPlan]),
    (tier, course): (usize, usize),
    (along, reach): (Length, Length),
) -> Option<Thing> {
    let found = cake.tiers.get(tier)?;
    let laid = found.courses.get(course)?;
    let away = |seam: f64| found.outline.reading(seam - along.as_mm()).abs();
    let nearest =
        seams(plans, (tier, course), (found, laid)).into_iter().min_by(|a, b| away(*a).total_cmp(&away(*b)))?;
    let name = CourseName::new(&found.name, &laid.name);
    (away(nearest) <= reach.as_mm()).then(|| Thing::Seam(name, Length::mm(nearest)))
}

/// Readings of a course's seams.
fn seams(plans: &[WrapPlan], (tier, course): (usize, usize), (found, laid): (&CakeTier, &CakeCourse)) -> Vec<f64> {
    let plan = plans.iter().find(|plan| plan.tier == tier && plan.course == course);
    plan.map_or_else(
        || laid.seam(&found.outline).into_iter().collect(),
        |plan| plan.seams.iter().map(|seam| seam.along).collect(),
    )
}

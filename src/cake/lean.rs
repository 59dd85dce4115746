//! A leaning rod: its foot on the board, resting on the top edge of a tier or on what stands out before it.

use std::f64::consts::FRAC_PI_2;

use glam::{DAffine3, DMat3, DVec2, DVec3};

use super::tier::CakeTier;
use crate::design::model::CourseKind;
use crate::measure::{Angle, Length};

/// Rounds of looking up the radius where a rod touches.
const ROUNDS: u32 = 6;

/// How a rod leans.
#[derive(Clone, Debug, PartialEq)]
pub struct Lean {
    /// From upright.
    pub angle: Angle,
    /// Direction it leans in, unit, in the cake's plan (x, z).
    pub towards: DVec2,
    /// From the foot along the rod's axis to where it touches.
    pub contact: Length,
    /// What it touches: a course's name, or none for the top edge itself.
    pub course: Option<String>,
}

/// Something round that a rod may rest on, seen from the side: its middle in the upright plane through the foot (away from
/// the foot, above the board) and its radius, mm.
struct Bump {
    away: f64,
    up: f64,
    radius: f64,
    course: Option<String>,
}

impl Bump {
    /// How a rod with its foot at the origin rests on this: its axis passes the middle at the sum of both radii,
    /// `d·cosθ − h·sinθ = e + r`, with the middle `d` away and `h` up; so `θ = acos((e + r)/√(d² + h²)) − atan2(h, d)`.
    fn rest(&self, radius: impl Fn(f64) -> f64) -> (f64, f64) {
        let span = self.away.hypot(self.up);
        // Where it touches depends on its radius there, which depends on where it touches: a few rounds settle it.
        let (mut angle, mut contact) = (0.0, self.up);
        for _ in 0..ROUNDS {
            let apart = self.radius + radius(contact);
            angle = (apart / span.max(apart + 1e-9)).acos() - self.up.atan2(self.away);
            contact = self.away * f64::sin(angle) + self.up * f64::cos(angle);
        }
        (angle.clamp(0.0, FRAC_PI_2), contact)
    }
}

/// How a rod of this length leans on the last of these tiers from a foot at `foot` (mm); `radius` gives its radius so
/// far along its axis. It rests on whatever it meets first on its way from upright: the top edge, a course that stands out, a
/// tier below. What it is too short for, it cannot rest on, unless there is nothing else.
#[must_use]
pub fn lean(tiers: &[CakeTier], foot: DVec3, (length, radius): (Length, impl Fn(f64) -> f64)) -> Option<Lean> {
    let plan = DVec2::new(foot.x, foot.z);
    let towards = direction(tiers.last()?, plan);
    let bumps = tiers.iter().flat_map(|tier| bumps(tier, plan, towards));
    let bumps = bumps.map(|bump| Bump { up: bump.up - foot.y, ..bump }).filter(|bump| bump.up > 0.0);
    let rests: Vec<(f64, f64, Bump)> = bumps
        .map(|bump| {
            let (angle, contact) = bump.rest(&radius);
            (angle, contact, bump)
        })
        .collect();
    let reached = rests.iter().filter(|(_, contact, _)| *contact <= length.as_mm());
    let steepest = reached.min_by(|a, b| a.0.total_cmp(&b.0)).or(rests.last());
    steepest.map(|(angle, contact, bump)| Lean {
        angle: Angle::radians(*angle),
        towards,
        contact: Length::mm(*contact),
        course: bump.course.clone(),
    })
}

/// From the foot to the nearest place of a tier's outline, unit.
fn direction(tier: &CakeTier, foot: DVec2) -> DVec2 {
    let local = tier.pose().inverse().transform_point3(DVec3::new(foot.x, 0.0, foot.y));
    let spot = tier.outline.at(tier.outline.nearest(DVec2::new(local.x, local.z)));
    let outward = tier.pose().transform_vector3(DVec3::new(spot.outward.x, 0.0, spot.outward.y));
    let place = tier.pose().transform_point3(DVec3::new(spot.point.x, 0.0, spot.point.y));
    (DVec2::new(place.x, place.z) - foot).normalize_or(-DVec2::new(outward.x, outward.z))
}

/// What of a tier a rod may rest on: courses from the foot up, then the top edge.
fn bumps(tier: &CakeTier, foot: DVec2, towards: DVec2) -> Vec<Bump> {
    let bump = |(out, up, radius): (f64, f64, f64), course: Option<String>| {
        let away = away(tier, (foot, towards), out)?;
        Some(Bump { away, up: tier.foot.as_mm() + up, radius, course })
    };
    let courses = tier.courses.iter().filter(|course| course.outer > 0.0).filter_map(|course| {
        let place = match &course.kind {
            CourseKind::Rope { .. } | CourseKind::Pearls { .. } => {
                let radius = course.height() / 2.0;
                (course.outer - radius, course.top - radius, radius)
            }
            _ => (course.outer, course.top, 0.0),
        };
        bump(place, Some(course.name.clone()))
    });
    let edge = tier.edge.as_mm().min(tier.height.as_mm());
    courses.chain(bump((-edge, tier.height.as_mm() - edge, edge), None)).collect()
}

/// How far from the foot, in a direction, the line `out` mm outside a tier's outline lies; `None` where it is passed by.
fn away(tier: &CakeTier, (foot, towards): (DVec2, DVec2), out: f64) -> Option<f64> {
    let to_tier = tier.pose().inverse();
    let beyond = |way: f64| {
        let at = foot + towards * way;
        let local = to_tier.transform_point3(DVec3::new(at.x, 0.0, at.y));
        tier.outline.beyond(DVec2::new(local.x, local.z)) - out
    };
    // The outline's own distance is the longest safe step towards it.
    let mut way = 0.0;
    for _ in 0..400 {
        let step = beyond(way);
        if step.abs() < 1e-9 {
            return Some(way);
        }
        way += step;
        if way.abs() > 2.0 * foot.length() + 4.0 * tier.outline.reach() {
            return None;
        }
    }
    (beyond(way).abs() < 1e-3).then_some(way)
}

/// The pose of a rod: its axis is its own +Y, its foot its origin, its +Z away from what it leans on.
#[must_use]
pub fn leaning_pose(foot: DVec3, lean: &Lean) -> DAffine3 {
    let sideways = DVec3::new(lean.towards.x, 0.0, lean.towards.y);
    let up = DVec3::Y * lean.angle.as_radians().cos() + sideways * lean.angle.as_radians().sin();
    let across = sideways.cross(DVec3::Y).normalize_or(DVec3::X);
    let front = across.cross(up);
    DAffine3 { matrix3: DMat3::from_cols(across, up, front), translation: foot }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::art::Shelf;
    use crate::cake::{Cake, resolve};
    use crate::design::read_design;

    fn cake(courses: &str) -> Cake {
        let head =
            "title = \"t\"\nunit = \"mm\"\n[[tier]]\nname = \"a\"\nshape = \"square\"\nsize = 200\nheight = 120\n";
        let design = Arc::new(read_design(&format!("{head}{courses}"), "cake.toml").unwrap());
        resolve(&design, &Arc::new(Shelf::default())).unwrap()
    }

    #[test]
    fn rods_lean_by_plain_trigonometry() {
        let cake = cake("");
        let (foot, long) = (DVec3::new(0.0, 0.0, 190.0), Length::mm(200.0));
        // A thread, 90 mm before an upright edge 120 mm high: a 3-4-5 triangle.
        let thin = lean(&cake.tiers, foot, (long, |_| 0.0)).unwrap();
        assert!((thin.angle.as_degrees() - 36.869_897_645_844).abs() < 1e-6);
        assert!((thin.contact.as_mm() - 150.0).abs() < 1e-6);
        assert!(thin.towards.distance(DVec2::NEG_Y) < 1e-9);
        // A thick one stands steeper; its axis passes the edge at its radius.
        let thick = lean(&cake.tiers, foot, (long, |_| 10.0)).unwrap();
        let up = leaning_pose(foot, &thick).matrix3.y_axis;
        let edge = DVec3::new(0.0, 120.0, -90.0);
        assert!(((edge - up * edge.dot(up)).length() - 10.0).abs() < 1e-6);
        assert!(thick.angle < thin.angle);
    }

    /// Walks up the rod in small steps: the first place where its skin meets the rounded edge, and the way up to there.
    fn walked(tier: &CakeTier, foot: DVec3, (lean, radius): (&Lean, f64)) -> (f64, f64) {
        const STEP: f64 = 0.01;
        let (up, edge) = (leaning_pose(foot, lean).matrix3.y_axis, tier.edge.as_mm());
        let line = tier.outline.offset(-edge, crate::art::Join::Round);
        let rim: Vec<DVec3> = (0..20_000)
            .map(|step| line.at(line.perimeter() * f64::from(step) / 20_000.0).point)
            .map(|at| tier.pose().transform_point3(DVec3::new(at.x, tier.height.as_mm() - edge, at.y)))
            .filter(|at| at.distance(foot) < 2.0 * tier.height.as_mm())
            .collect();
        let gap = |at: DVec3| rim.iter().map(|rim| rim.distance(at)).fold(f64::MAX, f64::min) - edge - radius;
        // Far from the edge in coarse steps, near it in fine ones.
        let (mut way, mut nearest) = (0.0, (f64::MAX, 0.0));
        while way < lean.contact.as_mm() + 30.0 {
            let apart = gap(foot + up * way);
            if apart < nearest.0 {
                nearest = (apart, way);
            }
            way += (0.5 * apart).max(STEP);
        }
        nearest
    }

    #[test]
    fn a_rod_is_as_long_to_its_contact_as_one_walks() {
        for (shape, foot) in [("round", (40.0, 150.0)), ("square", (20.0, 160.0)), ("hexagon", (-10.0, 150.0))] {
            let text = format!(
                "title = \"t\"\nunit = \"mm\"\n[[tier]]\nname = \"a\"\nshape = \"{shape}\"\nsize = 200\nheight = 120\npaste = 3\nedge = 4\n"
            );
            let design = Arc::new(read_design(&text, "cake.toml").unwrap());
            let cake = resolve(&design, &Arc::new(Shelf::default())).unwrap();
            let foot = DVec3::new(foot.0, 0.0, foot.1);
            let rod = lean(&cake.tiers, foot, (Length::mm(400.0), |_| 5.0)).unwrap();
            let (gap, way) = walked(&cake.tiers[0], foot, (&rod, 5.0));
            assert!(gap.abs() < 0.02, "{shape}: its skin is {gap} mm from the edge");
            assert!((way - rod.contact.as_mm()).abs() < 0.6, "{shape}: walked {way}, told {:?}", rod.contact);
        }
    }

    #[test]
    fn a_course_that_stands_out_is_met_before_the_edge() {
        let band = "[[tier.course]]\nname = \"shelf\"\nkind = \"band\"\nheight = 60\nsize = 50\n";
        let cake = cake(band);
        let rod = lean(&cake.tiers, DVec3::new(0.0, 0.0, 190.0), (Length::mm(200.0), |_| 0.0)).unwrap();
        // 40 mm away and 60 mm up.
        assert_eq!(rod.course.as_deref(), Some("shelf"));
        assert!((rod.angle.as_radians() - (40.0_f64 / 60.0).atan()).abs() < 1e-9);
        // Too thin a shelf to matter.
        let flat = self::cake("[[tier.course]]\nname = \"shelf\"\nkind = \"band\"\nheight = 60\nsize = 3\n");
        let rod = lean(&flat.tiers, DVec3::new(0.0, 0.0, 190.0), (Length::mm(200.0), |_| 0.0)).unwrap();
        assert_eq!(rod.course, None);
    }
}

//! The solids of printed wraps: the printed sheet with its face, and the strip of paste beneath it.

use std::sync::Arc;

use super::paint::paint;
use super::plan::WrapPlan;
use crate::art::{Colour, Picture};
use crate::cake::{Body, Cake, CakeCourse, CakeTier, Owner, Surface};
use crate::design::Look;
use crate::design::model::{CourseKind, Wrap};
use crate::shapes::{Mesh, carry, close_ends, strip_section};

/// The white of an edible sheet that nothing is printed on.
const SHEET_WHITE: Colour = Colour::new(255, 255, 255);

/// The solids of every planned wrap, each face painted at most `columns` pixels wide.
#[must_use]
pub fn bodies(cake: &Cake, plans: &[WrapPlan], columns: u32) -> Vec<Body> {
    let mut bodies = Vec::new();
    for plan in plans {
        let tier = cake.tiers.get(plan.tier);
        let course = tier.and_then(|tier| tier.courses.get(plan.course));
        if let (Some(tier), Some(course)) = (tier, course)
            && let CourseKind::Wrap(wrap) = &course.kind
            && course.height() > 0.0
        {
            bodies.extend(wrap_bodies((cake, plan), (tier, course, wrap), columns));
        }
    }
    bodies
}

fn wrap_bodies(
    (cake, plan): (&Cake, &WrapPlan),
    (tier, course, wrap): (&CakeTier, &CakeCourse, &Wrap),
    columns: u32,
) -> Vec<Body> {
    let name = format!("{} · {}", tier.name, course.name);
    let owner = Owner::Course(plan.tier, plan.course);
    let under = wrap.under.as_ref().map_or(0.0, |under| under.paste.as_mm());
    let solid = |(inner, outer): (f64, f64)| Arc::new(strip(tier, course, (inner, outer)));
    let picture =
        cake.shelf.get(&wrap.art).map(|art| Arc::<Picture>::new(paint(art, &plan.layout, plan.face, columns)));
    let print = Body {
        name: name.clone(),
        mesh: solid((under, under + wrap.thickness.as_mm())),
        pose: tier.pose(),
        surface: Surface { colour: SHEET_WHITE, look: Look::Print, picture },
        owner,
    };
    let paste = wrap.under.as_ref().map(|strip| {
        let finish = cake.design.finish(&strip.finish);
        Body {
            name: format!("{name} · under"),
            mesh: solid((0.0, under)),
            pose: tier.pose(),
            surface: Surface { colour: finish.colour, look: finish.look, picture: None },
            owner,
        }
    });
    paste.into_iter().chain([print]).collect()
}

fn strip(tier: &CakeTier, course: &CakeCourse, (inner, outer): (f64, f64)) -> Mesh {
    let CourseKind::Wrap(wrap) = &course.kind else { return Mesh::default() };
    let stations = tier.outline.stretch(course.span, outer);
    let section = strip_section((inner, outer), (course.bottom, course.top), 0.0);
    let mut mesh = carry(&stations, &section);
    if wrap.stretch.is_some() {
        close_ends(&mut mesh, &stations, &section);
    }
    mesh
}

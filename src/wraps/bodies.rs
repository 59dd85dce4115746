//! The solids of printed wraps: the printed sheet with its face, and the strip of paste beneath it. What stays as it was is
//! neither built nor painted again.

use std::sync::Arc;

use super::face::{Face, Layout};
use super::paint::paint;
use super::plan::WrapPlan;
use crate::art::{Colour, Picture, Shelf};
use crate::cake::{Body, Cake, CakeCourse, CakeTier, Owner, Surface};
use crate::design::Look;
use crate::design::model::{CourseKind, Wrap};
use crate::shapes::{Mesh, carry, close_ends, strip_section};

/// The white of an edible sheet that nothing is printed on.
const SHEET_WHITE: Colour = Colour::new(255, 255, 255);

/// The solids of every planned wrap, each face painted at most `columns` pixels wide.
#[must_use]
pub fn bodies(cake: &Cake, plans: &[WrapPlan], columns: u32) -> Vec<Body> {
    PrintKeep::default().bodies(cake, plans, columns)
}

/// The solids of the wraps that were shown last, with their painted faces.
#[derive(Debug, Default)]
pub struct PrintKeep {
    shelf: Arc<Shelf>,
    painted: Vec<Painted>,
    last: Vec<Body>,
}

/// A painted face, and what it was painted from.
#[derive(Debug)]
struct Painted {
    art: String,
    layout: Layout,
    face: Face,
    columns: u32,
    picture: Arc<Picture>,
    is_used: bool,
}

impl PrintKeep {
    /// As [`bodies`]; what is as it was last has the same mesh and the same picture (the same [`Arc`]s).
    pub fn bodies(&mut self, cake: &Cake, plans: &[WrapPlan], columns: u32) -> Vec<Body> {
        if !Arc::ptr_eq(&self.shelf, &cake.shelf) {
            self.shelf = Arc::clone(&cake.shelf);
            self.painted.clear();
        }
        self.painted.iter_mut().for_each(|painted| painted.is_used = false);
        let mut bodies = Vec::new();
        for plan in plans {
            let tier = cake.tiers.get(plan.tier);
            let course = tier.and_then(|tier| tier.courses.get(plan.course));
            if let (Some(tier), Some(course)) = (tier, course)
                && let CourseKind::Wrap(wrap) = &course.kind
                && course.height() > 0.0
            {
                let picture = self.painted((&wrap.art, plan), columns);
                bodies.extend(wrap_bodies((cake, plan), (tier, course, wrap), picture));
            }
        }
        for body in &mut bodies {
            if let Some(was) = self.last.iter().find(|was| was.name == body.name && was.mesh == body.mesh) {
                body.mesh = Arc::clone(&was.mesh);
            }
        }
        self.painted.retain(|painted| painted.is_used);
        self.last.clone_from(&bodies);
        bodies
    }

    /// The face of a plan, painted; `None` when its art is not there.
    fn painted(&mut self, (path, plan): (&str, &WrapPlan), columns: u32) -> Option<Arc<Picture>> {
        let (layout, face) = (plan.layout, plan.face);
        let is_it = |painted: &&mut Painted| {
            painted.art == path && (painted.layout, painted.face, painted.columns) == (layout, face, columns)
        };
        if let Some(known) = self.painted.iter_mut().find(is_it) {
            known.is_used = true;
            return Some(Arc::clone(&known.picture));
        }
        let picture = Arc::new(paint(self.shelf.get(path)?, &layout, face, columns));
        let made =
            Painted { art: path.to_owned(), layout, face, columns, picture: Arc::clone(&picture), is_used: true };
        self.painted.push(made);
        Some(picture)
    }
}

fn wrap_bodies(
    (cake, plan): (&Cake, &WrapPlan),
    (tier, course, wrap): (&CakeTier, &CakeCourse, &Wrap),
    picture: Option<Arc<Picture>>,
) -> Vec<Body> {
    let name: Arc<str> = format!("{} · {}", tier.name, course.name).into();
    let owner = Owner::Course(plan.tier, plan.course);
    let under = wrap.under.as_ref().map_or(0.0, |under| under.paste.as_mm());
    let solid = |(inner, outer): (f64, f64)| Arc::new(strip(tier, course, (inner, outer)));
    let print = Body {
        name: Arc::clone(&name),
        mesh: solid((under, under + wrap.thickness.as_mm())),
        pose: tier.pose(),
        surface: Surface { colour: SHEET_WHITE, look: Look::Print, picture },
        owner,
    };
    let paste = wrap.under.as_ref().map(|strip| {
        let finish = cake.design.finish(&strip.finish);
        Body {
            name: format!("{name} · under").into(),
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

//! Patterns: everything that is cut from rolled paste, true to size, equal ones together.
//!
//! In: the resolved cake and its planned wraps. Out: the templates of all pieces, and the strips of bands and of the paste
//! beneath prints, each with what it is for and what it is made of.

use crate::art::Region;
use crate::cake::pieces::{Makings, Mirrored, Paint, Posture, Template, templates};
use crate::cake::{Cake, CakeCourse, CakeError};
use crate::design::model::CourseKind;
use crate::measure::Length;
use crate::wraps::WrapPlan;

/// Most patterns that are told apart; more means a mistake, or a cake that no hand makes.
pub const MOST_PATTERNS: usize = 600;

/// Something to cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Pattern {
    /// The pieces it is for; for a course its tier and itself.
    pub of: Vec<String>,
    /// What is cut, with its outline; the count is that of all of them.
    pub template: Template,
    /// How it is laid out.
    pub way: Way,
}

/// How a pattern is laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Along its outline.
    Outline,
    /// A strip with square ends: its width and its length say all.
    Strip,
}

/// Everything to cut, pieces in the design's order, then the courses from the board up; and how many had no room.
///
/// # Errors
/// Art that can't be cut.
pub fn patterns(cake: &Cake, plans: &[WrapPlan]) -> Result<(Vec<Pattern>, usize), CakeError> {
    let mut found = Patterns::default();
    let makings = Makings { shelf: &cake.shelf, design: &cake.design };
    for piece in cake.pieces.iter().filter_map(|placed| cake.designed(placed)) {
        let cut = templates(&piece.form, Posture::from(piece.seat.surface), makings)
            .map_err(|source| CakeError { place: format!("piece '{}'", piece.name), source })?;
        for template in cut {
            found.add(Pattern { of: vec![piece.name.clone()], template, way: Way::Outline });
        }
    }
    for (number, tier) in cake.tiers.iter().enumerate() {
        for (place, course) in tier.courses.iter().enumerate() {
            let plan = plans.iter().find(|plan| (plan.tier, plan.course) == (number, place));
            let of = vec![format!("{} · {}", tier.name, course.name)];
            if let Some(template) = strip(course, plan) {
                found.add(Pattern { of, template, way: Way::Strip });
            }
        }
    }
    Ok((found.patterns, found.left_out))
}

/// What is gathered.
#[derive(Default)]
struct Patterns {
    patterns: Vec<Pattern>,
    left_out: usize,
}

impl Patterns {
    /// Adds a pattern, to an equal one if there is one.
    fn add(&mut self, pattern: Pattern) {
        let same = |other: &&mut Pattern| {
            let (one, two) = (&other.template, &pattern.template);
            other.way == pattern.way
                && (one.what.as_ref(), one.thickness, &one.paint) == (two.what.as_ref(), two.thickness, &two.paint)
                && (&one.region, &one.guides) == (&two.region, &two.guides)
        };
        if let Some(known) = self.patterns.iter_mut().find(same) {
            known.of.extend(pattern.of);
            known.template.count += pattern.template.count;
        } else if self.patterns.len() < MOST_PATTERNS {
            self.patterns.push(pattern);
        } else {
            self.left_out += 1;
        }
    }
}

/// The strip of paste that a course is cut from; none for what is printed, turned or bare.
fn strip(course: &CakeCourse, plan: Option<&WrapPlan>) -> Option<Template> {
    let (what, length, thickness, finish) = match &course.kind {
        CourseKind::Band { thickness, finish, .. } => ("band", course.length, *thickness, finish),
        CourseKind::Wrap(wrap) => {
            let under = wrap.under.as_ref()?;
            ("paste beneath the print", Length::mm(plan?.under?.length), under.paste, &under.finish)
        }
        CourseKind::Rope { .. } | CourseKind::Pearls { .. } | CourseKind::Bare { .. } => return None,
    };
    let region = Region::rectangle(length.as_mm(), course.height(), 0.0);
    Some(Template {
        what: what.into(),
        region,
        thickness,
        count: 1,
        paint: Paint::Finish(finish.clone()),
        guides: Vec::new(),
        mirrored: Mirrored::Needless,
    })
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::art::Shelf;
    use crate::cake::resolve;
    use crate::design::read_design;

    const TEXT: &str = "title = \"t\"\nunit = \"mm\"\n[[tier]]\nname = \"base\"\nsize = 200\nheight = 100\n\
        [[tier.course]]\nname = \"rim\"\nkind = \"band\"\nheight = 30\nsize = 3\nfinish = \"white\"\n\
        [[tier.course]]\nname = \"rest\"\nkind = \"bare\"\nheight = \"fill\"\n";

    fn plate(name: &str, finish: &str) -> String {
        format!(
            "[[piece]]\nname = \"{name}\"\nkind = \"plaque\"\nseat = {{ on = \"board\", surface = \"board\" }}\n\
             size = [50, 40]\nthickness = 5\nfinish = \"{finish}\"\n"
        )
    }

    #[test]
    fn equal_plates_are_one_pattern_and_a_band_is_as_long_as_its_course() {
        let text = format!("{TEXT}{}{}{}", plate("a", "white"), plate("b", "white"), plate("c", "black"));
        let cake = resolve(&Arc::new(read_design(&text, "cake.toml").unwrap()), &Arc::new(Shelf::default())).unwrap();
        let (patterns, left_out) = patterns(&cake, &[]).unwrap();
        let told: Vec<(&str, u32)> =
            patterns.iter().map(|pattern| (&*pattern.template.what, pattern.template.count)).collect();
        assert_eq!((told, left_out), (vec![("plate", 2), ("plate", 1), ("band", 1)], 0));
        assert_eq!(patterns[0].of, ["a", "b"]);
        // The middle of a band 3 mm thick lies 1.5 mm out: π(200 + 3).
        let size = patterns[2].template.size();
        assert!((size.x - std::f64::consts::PI * 203.0).abs() < 1e-3 && (size.y - 30.0).abs() < 1e-9, "{size}");
    }
}

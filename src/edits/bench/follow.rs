//! What follows an edit: which pieces moved, which wraps' plans still hold, what is chosen next.

use std::collections::BTreeSet;

use crate::cake::{Cake, CakePiece};
use crate::design::Design;
use crate::design::model::{CourseKind, Wrap};
use crate::edits::choose::Thing;
use crate::edits::{CourseEdit, CourseName, Edit, PieceEdit, TierEdit};
use crate::wraps::WrapPlan;

/// The pieces, by number in the design, that sit elsewhere or are otherwise than before; all that are new.
pub(super) fn moved(before: &Cake, after: &Cake) -> BTreeSet<usize> {
    let is_same = |(now, was): (&CakePiece, &CakePiece)| {
        now.index == was.index
            && now.pose == was.pose
            && now.measure.size == was.measure.size
            && before.designed(was) == after.designed(now)
    };
    let changed = |(number, now): (usize, &CakePiece)| {
        let same = before.pieces.get(number).is_some_and(|was| is_same((now, was)));
        (!same).then_some(now.index)
    };
    after.pieces.iter().enumerate().filter_map(changed).collect()
}

/// The plans of an earlier cake that still say where the strips of this one lie: those of wraps that are still there, under the
/// same names, with the same length and height. The others are being planned anew.
pub(super) fn plans_that_hold(plans: &[WrapPlan], (before, after): (&Cake, &Cake)) -> Vec<WrapPlan> {
    let hold = |plan: &WrapPlan| {
        let was_on = before.tiers.get(plan.tier)?;
        let was = was_on.courses.get(plan.course)?;
        let tier = after.tiers.iter().position(|tier| tier.name == was_on.name)?;
        let on = after.tiers.get(tier)?;
        let course = on.courses.iter().position(|course| course.name == was.name)?;
        let is = on.courses.get(course)?;
        let same_size = is.length == was.length && (is.height() - was.height()).abs() < 1e-9 && is.span == was.span;
        let is_wrap = is_same_print(&is.kind, &was.kind);
        (is_wrap && same_size).then(|| WrapPlan { tier, course, ..plan.clone() })
    };
    plans.iter().filter_map(hold).collect()
}

/// Whether two courses are wraps with the same print on them; where its seams are pinned may differ, so that a print stays to
/// be seen while a seam of it is dragged.
fn is_same_print(one: &CourseKind, other: &CourseKind) -> bool {
    let without_pins = |wrap: &Wrap| Wrap { pins: Vec::new(), ..wrap.clone() };
    match (one, other) {
        (CourseKind::Wrap(one), CourseKind::Wrap(other)) => without_pins(one) == without_pins(other),
        _ => false,
    }
}

/// What is chosen after an edit: what was chosen under its new name, what the edit added, else what was chosen and is still there.
pub(super) fn chosen_after(chosen: Option<Thing>, edit: &Edit, (before, after): (&Design, &Design)) -> Option<Thing> {
    let chosen = chosen.map(|thing| followed(thing, edit));
    added(before, after).or(chosen).filter(|thing| thing.is_in_design(after))
}

/// A thing under the name that an edit gives it.
fn followed(thing: Thing, edit: &Edit) -> Thing {
    match (thing, edit) {
        (Thing::Piece(name), Edit::Piece(of, PieceEdit::Rename(to))) if name == *of => Thing::Piece(to.clone()),
        (Thing::Tier(name), Edit::Tier(of, TierEdit::Rename(to))) if name == *of => Thing::Tier(to.clone()),
        (Thing::Course(name), edit) => Thing::Course(followed_course(name, edit)),
        (Thing::Seam(name, along), Edit::Course(of, CourseEdit::MoveSeam(from, to)))
            if name == *of && along == *from =>
        {
            Thing::Seam(name, *to)
        }
        (Thing::Seam(name, along), edit) => Thing::Seam(followed_course(name, edit), along),
        (thing, _) => thing,
    }
}

fn followed_course(name: CourseName, edit: &Edit) -> CourseName {
    match edit {
        Edit::Course(of, CourseEdit::Rename(to)) if name == *of => CourseName::new(name.tier, to),
        Edit::Tier(of, TierEdit::Rename(to)) if name.tier == *of => CourseName::new(to, name.course),
        _ => name,
    }
}

/// The one thing that a design has more than the one before it; `None` when there is none, or several.
pub(super) fn added(before: &Design, after: &Design) -> Option<Thing> {
    let more = |was: usize, is: usize| is == was + 1;
    if more(before.pieces.len(), after.pieces.len()) {
        let names: BTreeSet<&str> = before.pieces.iter().map(|piece| piece.name.as_str()).collect();
        let new = after.pieces.iter().find(|piece| !names.contains(piece.name.as_str()))?;
        return Some(Thing::Piece(new.name.clone()));
    }
    if more(before.tiers.len(), after.tiers.len()) {
        let new = after.tiers.iter().find(|tier| !before.tiers.iter().any(|old| old.name == tier.name))?;
        return Some(Thing::Tier(new.name.clone()));
    }
    let grown = after.tiers.iter().find_map(|tier| {
        let old = before.tiers.iter().find(|old| old.name == tier.name)?;
        more(old.courses.len(), tier.courses.len()).then_some((old, tier))
    });
    let (old, tier) = grown?;
    let new = tier.courses.iter().find(|course| !old.courses.iter().any(|other| other.name == course.name))?;
    Some(Thing::Course(CourseName::new(&tier.name, &new.name)))
}

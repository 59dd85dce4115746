//! What is made again although every size stays: another picture, another colour, other words, another cut.

use super::figures::{course_name, is_printed};
use super::{MADE_SLACK, Made, Planned};
use crate::cake::{Cake, CakeCourse};
use crate::design::differences;
use crate::design::model::{CourseKind, Piece};
use crate::wraps::WrapPlan;

/// Keys of a piece that say where it is, not what it is; and its sticks, which have sizes of their own.
const PLACE: [&str; 11] =
    ["seat", "at", "turn", "tilt", "name", "hidden", "locked", "dry", "picks", "leans_on", "over"];

/// Made anew: how, what, why.
pub(super) type Again = (Made, String, String);

/// Courses whose picture, cut or colour differs.
pub(super) fn courses(before: Planned<'_>, after: Planned<'_>) -> Vec<Again> {
    let mut found = Vec::new();
    for (number, tier) in after.cake.tiers.iter().enumerate() {
        let Some((old_number, old_tier)) = before.cake.tiers.iter().enumerate().find(|(_, old)| old.name == tier.name)
        else {
            continue;
        };
        for (place, course) in tier.courses.iter().enumerate() {
            let Some((old_place, old)) = old_tier.courses.iter().enumerate().find(|(_, old)| old.name == course.name)
            else {
                continue;
            };
            let name = course_name(&tier.name, &course.name);
            let plans = (plan(before, (old_number, old_place)), plan(after, (number, place)));
            found.extend(
                course_again((before.cake, after.cake), (old, course), plans).map(|(made, why)| (made, name, why)),
            );
        }
    }
    found
}

fn plan(of: Planned<'_>, place: (usize, usize)) -> Option<&WrapPlan> {
    of.plans.iter().find(|plan| (plan.tier, plan.course) == place)
}

fn course_again(
    (before, after): (&Cake, &Cake),
    (old, new): (&CakeCourse, &CakeCourse),
    plans: (Option<&WrapPlan>, Option<&WrapPlan>),
) -> Option<(Made, String)> {
    if let (CourseKind::Wrap(was), CourseKind::Wrap(is)) = (&old.kind, &new.kind) {
        if art(before, &was.art) != art(after, &is.art) {
            return Some((Made::Printed, "its picture is another one".to_owned()));
        }
        let keys = differences(&**was, &**is);
        let laid = keys.iter().any(|key| matches!(key.as_str(), "fit" | "repeat" | "focus" | "shift" | "overlap"));
        let moved = plans.0.zip(plans.1).is_some_and(|(was, is)| cut_elsewhere(was, is));
        return (laid || moved).then(|| (Made::Printed, "its picture is laid or cut otherwise".to_owned()));
    }
    if old.kind.word() != new.kind.word() {
        return Some((Made::Cut, format!("it is a {} now", new.kind.word())));
    }
    let (was, is) = (finish_of(&old.kind)?, finish_of(&new.kind)?);
    (before.design.finish(was) != after.design.finish(is)).then(|| (Made::Cut, "its finish is another one".to_owned()))
}

fn cut_elsewhere(was: &WrapPlan, is: &WrapPlan) -> bool {
    let other = |(a, b): (f64, f64)| (a - b).abs() > MADE_SLACK;
    was.strips.len() != is.strips.len()
        || was.strips.iter().zip(&is.strips).any(|(was, is)| other((was.from, is.from)) || other((was.to, is.to)))
}

fn finish_of(kind: &CourseKind) -> Option<&str> {
    match kind {
        CourseKind::Rope { finish, .. } | CourseKind::Pearls { finish, .. } | CourseKind::Band { finish, .. } => {
            Some(finish)
        }
        CourseKind::Wrap(_) | CourseKind::Bare { .. } => None,
    }
}

/// The digest of a piece of art: the same picture under another name is the same picture.
fn art(cake: &Cake, path: &str) -> Option<[u8; 32]> {
    cake.shelf.get(path).map(|art| art.digest())
}

/// Pieces that are new, or made otherwise.
pub(super) fn pieces(before: Planned<'_>, after: Planned<'_>) -> Vec<Again> {
    let mut found = Vec::new();
    for placed in &after.cake.pieces {
        let Some(piece) = after.cake.designed(placed) else { continue };
        let old = before.cake.pieces.iter().find_map(|old| {
            before.cake.designed(old).filter(|old| old.name == piece.name).map(|designed| (designed, old))
        });
        let name = format!("“{}”", piece.name);
        let (why, print) = match old {
            None => ("it is new".to_owned(), true),
            Some((old, was)) => {
                let pictures = [(before.cake, old), (after.cake, piece)]
                    .map(|(cake, piece)| piece.form.art().and_then(|path| art(cake, path)));
                let keys = other_keys(old, piece);
                let finishes = |cake: &Cake, volumes: &[(String, f64)]| -> Vec<_> {
                    volumes.iter().map(|(name, _)| cake.design.finish(name)).collect()
                };
                let other = pictures.first() != pictures.last();
                let why = if other {
                    "its picture is another one".to_owned()
                } else if !keys.is_empty() {
                    format!("it is made otherwise: {}", keys.join(", "))
                } else if finishes(before.cake, &was.measure.volumes) != finishes(after.cake, &placed.measure.volumes) {
                    "its finish is another one".to_owned()
                } else {
                    continue;
                };
                (why, other)
            }
        };
        if print && is_printed(piece) {
            found.push((Made::Printed, name.clone(), why.clone()));
        }
        found.push((Made::Cut, name, why));
    }
    found
}

/// Keys by which two pieces are made otherwise, as a person says them. Art has a picture of its own.
fn other_keys(old: &Piece, new: &Piece) -> Vec<String> {
    let keys = differences(old, new).into_iter();
    keys.filter(|key| !PLACE.contains(&key.as_str()) && key != "art").map(|key| key.replace('_', " ")).collect()
}

//! What is drawn over the cake: what is chosen and its handles, what runs into what, seams, the readout.

use std::collections::{BTreeMap, BTreeSet};

use egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, Ui, Vec2, pos2, vec2};
use glam::DVec3;

use super::hand::{Hand, Under};
use super::open::Open;
use super::view::Seen;
use crate::cake::{CakeCourse, CakeTier, Owner};
use crate::edits::bench::ShownSeam;
use crate::edits::choose::{Grip, Handle, Ray, Thing, handles};
use crate::panels::theme::{Palette, palette};
use crate::wraps::WrapPlan;

/// How far round a chosen thing its line is drawn, points.
const ROUND: f32 = 3.0;

/// A seam is hidden when something lies this far before it, mm.
const BEFORE: f64 = 3.0;

/// Draws everything over the cake.
pub(super) fn paint(ui: &Ui, open: &Open, seen: &Seen, under: Option<&Under>) {
    let painter = ui.painter().with_clip_rect(seen.rect);
    let ink = palette(ui);
    if let Some(thing) = under.map(|under| &under.choice.thing).filter(|thing| Some(*thing) != open.bench.chosen()) {
        round(&painter, (open, seen), thing, Stroke::new(1.0, ink.muted));
    }
    if let Some(thing) = open.bench.chosen() {
        round(&painter, (open, seen), thing, Stroke::new(2.0, ink.accent));
    }
    seams(&painter, (open, seen), ink);
    clashes(&painter, (open, seen), ink);
    if let (Some(Thing::Piece(name)), Hand::Free | Hand::Lost) = (open.bench.chosen(), &open.hand) {
        for handle in handles(open.bench.cake(), name) {
            hold(&painter, seen, handle, (ink, under));
        }
    }
}

/// Which bodies belong to a thing.
fn belongs(open: &Open, thing: &Thing) -> impl Fn(Owner) -> bool {
    let (cake, thing) = (std::sync::Arc::clone(open.bench.cake()), thing.clone());
    move |owner| match (&thing, owner) {
        (Thing::Seam(..), _) => false,
        (thing, owner) => Thing::of(&cake, owner).as_ref() == Some(thing),
    }
}

/// A line round a thing as it is seen.
fn round(painter: &Painter, (open, seen): (&Open, &Seen), thing: &Thing, stroke: Stroke) {
    let hull = hull_of(open, seen, belongs(open, thing));
    if hull.len() > 2 {
        painter.add(Shape::closed_line(hull.clone(), Stroke::new(stroke.width + 2.0, Color32::from_white_alpha(150))));
        painter.add(Shape::closed_line(hull, stroke));
    }
}

fn hull_of(open: &Open, seen: &Seen, belongs: impl Fn(Owner) -> bool) -> Vec<Pos2> {
    let points: Vec<Pos2> = open.followed.corners_of(belongs).filter_map(|at| seen.at(at)).collect();
    let hull = hull(points);
    let middle = hull.iter().fold(Vec2::ZERO, |sum, at| sum + at.to_vec2()) / hull.len().max(1) as f32;
    hull.into_iter().map(|at| at + (at.to_vec2() - middle).normalized() * ROUND).collect()
}

/// The convex hull of places (Andrew's monotone chain).
fn hull(mut points: Vec<Pos2>) -> Vec<Pos2> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    points.dedup();
    let half = |points: &mut dyn Iterator<Item = Pos2>| {
        let mut chain: Vec<Pos2> = Vec::new();
        for at in points {
            while let [.., a, b] = chain.as_slice() {
                let (one, two) = (*b - *a, at - *b);
                if one.x * two.y - one.y * two.x > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(at);
        }
        chain.pop();
        chain
    };
    let mut hull = half(&mut points.iter().copied());
    hull.extend(half(&mut points.iter().rev().copied()));
    hull
}

/// The handles: each grip has its own form, told by form and not by colour.
fn hold(painter: &Painter, seen: &Seen, handle: Handle, (ink, under): (&Palette, Option<&Under>)) {
    let Some(at) = seen.at(handle.at) else { return };
    let is_under = under.is_some_and(|under| under.grip == handle.grip && under.grip != Grip::Move);
    let (fill, line) = if is_under { (ink.accent, ink.on_accent) } else { (ink.sheet, ink.accent) };
    let stroke = Stroke::new(1.5, if is_under { ink.accent } else { line });
    let square = |size: Vec2| Rect::from_center_size(at, size);
    match handle.grip {
        Grip::Move => {}
        Grip::Turn => {
            painter.circle(at, 7.0, fill, stroke);
            painter.add(Shape::line(arc(at, 3.5, (-0.6, 4.2)), Stroke::new(1.5, line)));
            painter.circle_filled(at + vec2(3.0, -2.0), 1.6, line);
        }
        Grip::Scale => {
            painter.rect(square(Vec2::splat(11.0)), 1.0, fill, stroke, StrokeKind::Middle);
        }
        Grip::Width => {
            painter.rect(square(vec2(7.0, 15.0)), 3.0, fill, stroke, StrokeKind::Middle);
        }
        Grip::Height => {
            painter.rect(square(vec2(15.0, 7.0)), 3.0, fill, stroke, StrokeKind::Middle);
        }
    }
}

fn arc(middle: Pos2, radius: f32, (from, to): (f32, f32)) -> Vec<Pos2> {
    let angle = |step: u8| from + (to - from) * f32::from(step) / 12.0;
    (0..=12).map(|step| middle + Vec2::angled(angle(step)) * radius).collect()
}

/// What runs into something, or stands out over an edge: a broken line round it, and a word.
fn clashes(painter: &Painter, (open, seen): (&Open, &Seen), ink: &Palette) {
    let mut words: BTreeMap<usize, BTreeSet<&str>> = BTreeMap::new();
    for clash in open.bench.clashes() {
        let word = if clash.pieces.len() > 1 { "overlaps" } else { "over the edge" };
        clash.pieces.iter().for_each(|&piece| {
            words.entry(piece).or_default().insert(word);
        });
    }
    let mut taken: Vec<Rect> = Vec::new();
    for (piece, words) in words {
        let hull = hull_of(open, seen, |owner| owner == Owner::Piece(piece));
        let closed: Vec<Pos2> = hull.iter().copied().chain(hull.first().copied()).collect();
        painter.extend(Shape::dashed_line(&closed, Stroke::new(2.5, ink.stop), 6.0, 4.0));
        let Some(top) = hull.iter().copied().min_by(|a, b| a.y.total_cmp(&b.y)) else { continue };
        let words = words.into_iter().collect::<Vec<_>>().join(", ");
        // Words that would lie over others are left out: the line says it too.
        let place = Rect::from_center_size(top, vec2(9.0 * words.len() as f32, 24.0));
        if !taken.iter().any(|other| other.intersects(place)) {
            taken.push(place);
            tag(painter, (top + vec2(0.0, -8.0), Align2::CENTER_BOTTOM), &words, (ink.stop, ink.sheet));
        }
    }
}

/// Words on a small ground of their own.
fn tag(painter: &Painter, (at, align): (Pos2, Align2), words: &str, (ink, ground): (Color32, Color32)) -> Rect {
    let galley = painter.layout_no_wrap(words.to_owned(), FontId::proportional(12.5), ink);
    let rect = align.anchor_size(at, galley.size() + vec2(12.0, 6.0));
    let within = painter.clip_rect();
    let into = |low: f32, size: f32, (from, to): (f32, f32)| low.clamp(from, (to - size).max(from));
    let min = pos2(
        into(rect.min.x, rect.width(), (within.min.x, within.max.x)),
        into(rect.min.y, rect.height(), (within.min.y, within.max.y)),
    );
    let rect = Rect::from_min_size(min, rect.size());
    painter.rect(rect, 3.0, ground, Stroke::new(1.0, ink), StrokeKind::Inside);
    painter.galley(rect.min + vec2(6.0, 3.0), galley, ink);
    rect
}

/// The readout beside the pointer.
pub(super) fn readout(ui: &Ui, seen: &Seen, (at, words): (Pos2, &str)) {
    let painter = ui.painter().with_clip_rect(seen.rect);
    let ink = palette(ui);
    tag(&painter, (at + vec2(18.0, 18.0), Align2::LEFT_TOP), words, (ink.ink, ink.sheet));
}

/// The seams of the course or tier that is chosen: a broken line where one is in sight, and a word.
fn seams(painter: &Painter, (open, seen): (&Open, &Seen), ink: &Palette) {
    let cake = open.bench.cake();
    for plan in open.bench.plans().iter() {
        let Some(tier) = cake.tiers.get(plan.tier) else { continue };
        let Some(course) = tier.courses.get(plan.course) else { continue };
        let is_meant = match open.bench.chosen() {
            Some(Thing::Tier(name)) => *name == tier.name,
            Some(Thing::Course(name) | Thing::Seam(name, _)) => name.tier == tier.name && name.course == course.name,
            _ => false,
        };
        if is_meant {
            seams_of(painter, (open, seen), (tier, course, plan), ink);
        }
    }
}

/// The planned seams of a course, and the pins that it was not planned anew with yet.
fn seams_of(
    painter: &Painter,
    (open, seen): (&Open, &Seen),
    (tier, course, plan): (&CakeTier, &CakeCourse, &WrapPlan),
    ink: &Palette,
) {
    let bench = &open.bench;
    let chosen = match bench.chosen() {
        Some(Thing::Seam(_, along)) => Some(along.as_mm()),
        _ => None,
    };
    for ShownSeam { along, pinned, .. } in bench.seams_of((plan.tier, plan.course)) {
        let spot = tier.outline.at(along);
        let out = spot.point + spot.outward * course.outer;
        let place = |up: f64| tier.pose().transform_point3(DVec3::new(out.x, up, out.y));
        let (foot, top) = (place(course.bottom), place(course.top));
        let (Some(low), Some(high)) = (seen.at(foot), seen.at(top)) else { continue };
        if !is_seen(open, seen, (foot + top) / 2.0) {
            continue;
        }
        let is_chosen = chosen.is_some_and(|chosen| bench.is_same_seam(plan.tier, (chosen, along)));
        let colour = if is_chosen { ink.accent } else { ink.ink };
        painter.extend(Shape::dashed_line(&[low, high], Stroke::new(3.5, Color32::from_white_alpha(170)), 7.0, 4.0));
        painter.extend(Shape::dashed_line(&[low, high], Stroke::new(1.8, colour), 7.0, 4.0));
        let words = if pinned { "seam, pinned" } else { "seam" };
        tag(painter, (high + vec2(0.0, -4.0), Align2::CENTER_BOTTOM), words, (colour, ink.sheet));
    }
}

/// Whether nothing lies before a place.
fn is_seen(open: &Open, seen: &Seen, place: DVec3) -> bool {
    let eye = seen.camera.eye;
    let ray = Ray { from: eye, toward: place - eye };
    open.followed.touch.cast(ray, |_| true).is_none_or(|hit| hit.distance > eye.distance(place) - BEFORE)
}

#[cfg(test)]
mod tests {
    use super::{Pos2, hull, pos2};

    #[test]
    fn a_hull_goes_round_the_outermost_places() {
        let places = [(0.0, 0.0), (2.0, 0.0), (1.0, 1.0), (2.0, 2.0), (0.0, 2.0), (1.0, 0.5)];
        let found = hull(places.iter().map(|&(x, y)| pos2(x, y)).collect());
        let mut corners: Vec<(f32, f32)> = found.iter().map(|at: &Pos2| (at.x, at.y)).collect();
        corners.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        assert_eq!(corners, [(0.0, 0.0), (0.0, 2.0), (2.0, 0.0), (2.0, 2.0)]);
        assert!(hull(Vec::new()).is_empty());
    }
}

//! The side itself: the covering, and the courses on it as they will look.

use std::f64::consts::TAU;
use std::sync::Arc;

use glam::DVec2;

use super::MARGIN;
use super::side::Side;
use crate::art::{Art, Colour, Stretch};
use crate::cake::{Cake, CakeCourse, pearl_count};
use crate::design::model::CourseKind;
use crate::measure::{Length, show_length};
use crate::proof::chart::{Align, Chart, Hand, Mark};
use crate::proof::ink::{INK, MUTED, PAPER};
use crate::wraps::{Layout, WrapPlan, paint};

/// Pixels to the millimetre of the page that a print is painted with.
const FINE: f64 = 10.0;
/// Pearls smaller than this on the page can't be told apart, mm.
const FINEST: f64 = 0.6;
/// Letters of the courses' names and the room each takes, mm.
const LETTERS: f64 = 2.5;
const LINE: f64 = 3.2;

/// Draws a tier's side with everything on it but its pieces.
pub(super) fn draw(chart: &mut Chart, side: &Side, (cake, plans): (&Cake, &[&WrapPlan])) {
    chart.block(side.frame(), cake.design.finish(&side.tier.finish).colour);
    for (number, course) in side.tier.courses.iter().enumerate().filter(|(_, course)| course.height() > 0.0) {
        let colour = |finish: &str| cake.design.finish(finish).colour;
        match &course.kind {
            CourseKind::Bare { .. } => {}
            CourseKind::Band { finish, .. } => chart.block(whole(side, course), colour(finish)),
            CourseKind::Rope { finish, .. } => rope(chart, whole(side, course), colour(finish)),
            CourseKind::Pearls { diameter, finish, .. } => {
                pearls(chart, side, course, (diameter.as_mm(), colour(finish)));
            }
            CourseKind::Wrap(wrap) => {
                let plan = plans.iter().find(|plan| plan.course == number);
                print(chart, side, course, cake.shelf.get(&wrap.art).zip(plan));
            }
        }
    }
    let lines = side.tier.courses.iter().map(|course| course.top);
    for up in lines.filter(|&up| up < side.tier.height.as_mm() - 0.1) {
        chart.line([DVec2::new(side.ends().0, side.y(up)), DVec2::new(side.ends().1, side.y(up))], thin());
    }
    for along in side.corners() {
        let line = [side.at(along, side.tier.height.as_mm()), side.at(along, 0.0)];
        chart.line(line, Stretch { opacity: 0.45, ..Stretch::solid(0.55, PAPER) });
        chart.line(line, Stretch { dashes: vec![0.35, 0.9], ..Stretch::solid(0.35, INK) });
    }
    chart.edge(side.frame(), Stretch::solid(0.35, INK));
}

fn thin() -> Stretch {
    Stretch { opacity: 0.6, ..Stretch::solid(0.14, INK) }
}

fn whole(side: &Side, course: &CakeCourse) -> [DVec2; 2] {
    let half = side.around() / 2.0;
    [side.at(-half, course.top), side.at(half, course.bottom)]
}

/// A rope is round: light along its upper part, dark along its foot.
fn rope(chart: &mut Chart, [low, high]: [DVec2; 2], colour: Colour) {
    chart.block([low, high], colour);
    let height = high.y - low.y;
    for (share, shade, opacity) in [(0.3, PAPER, 0.45), (0.86, INK, 0.22)] {
        let y = low.y + height * share;
        let pen = Stretch { opacity, ..Stretch::solid(height * 0.26, shade) };
        chart.line([DVec2::new(low.x, y), DVec2::new(high.x, y)], pen);
    }
}

fn pearls(chart: &mut Chart, side: &Side, course: &CakeCourse, (diameter, colour): (f64, Colour)) {
    if diameter * side.scale < FINEST {
        return rope(chart, whole(side, course), colour);
    }
    let count = pearl_count(diameter, &side.tier.outline);
    let seam = course.seam(&side.tier.outline).unwrap_or_default();
    let step = side.around() / f64::from(count.max(1));
    let radius = diameter / 2.0;
    for n in 0..count {
        let along = side.tier.outline.reading(seam + step * (f64::from(n) + 0.5));
        let middle = side.at(along, course.bottom + radius);
        let ring: Vec<DVec2> = (0..24)
            .map(|turn| middle + DVec2::from_angle(f64::from(turn) / 24.0 * TAU) * radius * side.scale)
            .collect();
        let edge: Vec<DVec2> = ring.iter().chain(ring.first()).copied().collect();
        chart.area(vec![ring], (colour, 1.0));
        chart.line(edge, thin());
    }
}

/// The print as it will lie: the wrap's own art, in one part or, over the back, in two.
fn print(chart: &mut Chart, side: &Side, course: &CakeCourse, art: Option<(&Arc<Art>, &&WrapPlan)>) {
    for part in side.parts(course.span) {
        let [low, high] = [side.at(part.from, course.top), side.at(part.to, course.bottom)];
        let Some((art, plan)) = art else {
            chart.block([low, high], PAPER);
            continue;
        };
        let (start, end) = (part.shares.0 * plan.face.size.x, part.shares.1 * plan.face.size.x);
        let layout = Layout { at: plan.layout.at - DVec2::X * start, ..plan.layout };
        let mut face = plan.face;
        face.size.x = end - start;
        let columns = ((high.x - low.x) * FINE).clamp(16.0, 8_192.0) as u32;
        let picture = Arc::new(paint(art, &layout, face, columns));
        chart.marks.push(Mark::Picture { low, high, picture });
        chart.edge([low, high], thin());
    }
}

/// The courses' names with their heights, left of the side; thin courses get room and a line to their name.
pub(super) fn names(chart: &mut Chart, side: &Side) {
    let courses: Vec<&CakeCourse> = side.tier.courses.iter().rev().filter(|course| course.height() > 0.0).collect();
    let middles: Vec<f64> = courses.iter().map(|course| side.y((course.bottom + course.top) / 2.0)).collect();
    let left = side.ends().0;
    for ((course, &middle), place) in courses.iter().zip(&middles).zip(spread(&middles, LINE)) {
        let height = show_length(Length::mm(course.height()), side.unit);
        let words = DVec2::new(left - 5.0, place + LETTERS * 0.35);
        chart.text((words, Align::Right), height.clone(), Hand::text(LETTERS).coloured(MUTED));
        let before = words - DVec2::X * (Hand::text(LETTERS).width(&height) + 1.4);
        let name = Hand::strong(LETTERS).fitted(&course.name, before.x - MARGIN);
        chart.text((before, Align::Right), name, Hand::strong(LETTERS));
        chart.line([DVec2::new(left - 4.4, place), DVec2::new(left - 0.7, middle)], Stretch::solid(0.16, MUTED));
    }
}

/// The places nearest to the wished ones (ascending), by least squares, that are at least `gap` apart.
fn spread(wished: &[f64], gap: f64) -> Vec<f64> {
    // Less n gaps each, the places need only ascend: pool those that don't (isotonic regression).
    let mut pools: Vec<(f64, u32)> = Vec::new();
    for (number, &place) in wished.iter().enumerate() {
        pools.push((place - number as f64 * gap, 1));
        while let &[.., (before, many), (last, few)] = pools.as_slice()
            && before > last
        {
            pools.pop();
            pools.pop();
            let both = (before * f64::from(many) + last * f64::from(few)) / f64::from(many + few);
            pools.push((both, many + few));
        }
    }
    let levels = pools.iter().flat_map(|&(level, count)| (0..count).map(move |_| level));
    levels.enumerate().map(|(number, level)| level + number as f64 * gap).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_move_apart_no_further_than_they_must() {
        assert_eq!(spread(&[0.0, 10.0, 20.0], 3.0), [0.0, 10.0, 20.0]);
        assert_eq!(spread(&[10.0, 11.0, 12.0], 3.0), [8.0, 11.0, 14.0]);
        assert_eq!(spread(&[0.0, 10.0, 10.0, 30.0], 4.0), [0.0, 8.0, 12.0, 30.0]);
        assert!(spread(&[], 3.0).is_empty());
    }
}

//! Tops and board from above: rings round the middle, a clock round them, and every piece with its number.
//!
//! ```text
//!            12              rings: one an inch, or 25 mm
//!         .-----.            the front is at the foot, as one stands before the cake
//!     9  (  (+)  )  3
//!         '-----'
//!            6
//! ```

use std::f64::consts::TAU;

use glam::{DVec2, DVec3};

use super::tags;
use crate::art::Region;
use crate::design::model::Form;
use crate::kitchen::{Placing, Spot};
use crate::measure::Unit;
use crate::packs::kitchen_pack::KitchenInput;
use crate::packs::pdf::{Flow, Frame, INK, MUTED, Page, Pen, RULE, Style, TONE, Trace};
use crate::packs::words::length;
use crate::shapes::Outline;

/// Height of one drawing, mm, the clock's figures included.
const TALL: f64 = 104.0;
/// Room for the clock's figures round the outline.
const ROUND: f64 = 6.0;
/// Room between the figures of two rings, mm.
const BETWEEN_FIGURES: f64 = 1.5;
/// More rings than this say nothing.
const MOST_RINGS: u32 = 40;
/// The heading over the board.
const BOARD: &str = "The board";
/// Flat to this many mm.
pub(super) const FINE: f64 = 0.02;

/// A view from above: from the plan of a seat, mm, to the page.
#[derive(Clone, Copy, Debug)]
pub(super) struct Dial {
    pub centre: DVec2,
    pub scale: f64,
}

impl Dial {
    /// In the middle of a frame, so that an outline and its clock fit.
    pub fn in_frame(frame: Frame, outline: &Outline) -> Self {
        let (low, high) = outline.bounds();
        let reach = high.abs().max(low.abs());
        let room = DVec2::new(frame.width, frame.height) / 2.0 - ROUND;
        let scale = (room / reach.max(DVec2::ONE)).min_element().min(1.0);
        Self { centre: DVec2::new(frame.x + frame.width / 2.0, frame.y + frame.height / 2.0), scale }
    }

    pub fn at(&self, place: DVec2) -> DVec2 {
        self.centre + place * self.scale
    }

    pub fn ring(&self, places: impl IntoIterator<Item = DVec2>) -> Trace {
        Trace { points: places.into_iter().map(|place| self.at(place)).collect(), closed: true }
    }

    /// A circle about the middle.
    pub fn circle(&self, radius: f64) -> Trace {
        self.ring(circle(radius))
    }

    /// Draws the outline, its rings with their distances, its axes and the clock.
    pub fn face(&self, page: &mut Page, outline: &Outline, unit: Unit) {
        page.area(vec![self.ring(outline.flat(FINE))], TONE);
        page.trace(self.ring(outline.flat(FINE)), Pen::solid(0.3, INK));
        let step = if unit == Unit::Inch { 25.4 } else { 25.0 };
        // Rings end at the farthest side, not at a corner: beyond it they would run over what stands beside.
        let (low, high) = outline.bounds();
        let reach = high.max(-low).max_element();
        let count = ((reach / step) as u32).min(MOST_RINGS);
        for number in 1..=count {
            for arc in within(&circle(step * f64::from(number)), outline) {
                page.trace(Trace { closed: false, ..self.ring(arc) }, Pen::dashed(0.12, RULE, &[1.0, 1.0]));
            }
        }
        for way in [DVec2::X, DVec2::NEG_X, DVec2::Y, DVec2::NEG_Y] {
            let end = way * edge(outline, way, outline.reach());
            page.line(self.at(DVec2::ZERO), self.at(end), Pen::solid(0.12, RULE));
        }
        let figure = |number: u32| Style::LABEL.line(&length(step * f64::from(number), unit));
        // Figures need their room.
        let widest = (1..=count).map(|number| figure(number).width).fold(0.0, f64::max);
        let every = ((widest + BETWEEN_FIGURES) / (step * self.scale)).ceil().max(1.0) as u32;
        let end = edge(outline, DVec2::X, outline.reach()) * self.scale;
        for number in (1..=count).filter(|number| number % every == 0) {
            let words = figure(number);
            if step * f64::from(number) * self.scale + words.width / 2.0 > end {
                break;
            }
            let at = self.at(DVec2::X * step * f64::from(number));
            page.text(at + DVec2::new(-words.width / 2.0, -0.6), words, MUTED);
        }
        for hour in 1..=12_u32 {
            let way = DVec2::from_angle(TAU * (f64::from(hour) / 12.0 - 0.25));
            let words = Style::LABEL.line(&hour.to_string());
            let edge = edge(outline, way, outline.reach());
            let at = self.at(way * edge) + way * 3.2 + DVec2::new(-words.width / 2.0, words.line.cap_height / 2.0);
            page.text(at, words, INK);
        }
    }
}

/// Places on a circle about the middle.
fn circle(radius: f64) -> Vec<DVec2> {
    Region::disc(radius).rings.into_iter().flatten().step_by(4).collect()
}

/// The arcs of a ring that lie within an outline.
fn within(ring: &[DVec2], outline: &Outline) -> Vec<Vec<DVec2>> {
    let is_inside = |at: &DVec2| outline.contains(*at);
    // Round once more from a place outside, if there is one, so that no arc is cut in two.
    let start = ring.iter().position(|at| !is_inside(at)).unwrap_or_default();
    let round: Vec<DVec2> = ring.iter().cycle().skip(start).take(ring.len() + 1).copied().collect();
    round.split(|at| !is_inside(at)).filter(|arc| arc.len() > 1).map(<[DVec2]>::to_vec).collect()
}

/// How far from the middle an outline lies in a direction, by halving.
fn edge(outline: &Outline, way: DVec2, reach: f64) -> f64 {
    let (mut inside, mut outside) = (0.0, reach * 1.01);
    for _ in 0..40 {
        let middle = (inside + outside) / 2.0;
        (inside, outside) = if outline.contains(way * middle) { (middle, outside) } else { (inside, middle) };
    }
    outside
}

/// Sets a drawing of the board and of every top that carries a piece.
pub(super) fn set(flow: &mut Flow, input: &KitchenInput, steps: &[Placing]) {
    let cake = input.cake;
    let numbered: Vec<(usize, &Placing)> = (1..).zip(steps).collect();
    let on = |name: &str| -> Vec<(usize, &Placing)> {
        let flat = numbered.iter().filter(|(_, step)| step.piece.is_some() && matches!(step.spot, Spot::Plan { .. }));
        flat.filter(|(_, step)| carrier(input, step) == name).copied().collect()
    };
    let mut views = Vec::new();
    for tier in cake.tiers.iter().rev() {
        let pieces = on(&tier.name);
        if !pieces.is_empty() {
            let back = tier.pose().inverse();
            views.push((format!("Top of {}", tier.name), &tier.outline, back, pieces));
        }
    }
    let pieces = on("board");
    let board = &cake.board.outline;
    views.push((BOARD.to_owned(), board, glam::DAffine3::IDENTITY, pieces));
    flow.section("From above", TALL + 20.0);
    let told = "Numbers are those of the order above. Rings are measured from the middle; the front is at the foot.";
    flow.paragraph(told, Style::REMARK);
    for (title, outline, back, pieces) in views {
        flow.need(TALL + 8.0);
        let area = flow.column();
        let at = DVec2::new(area.x, area.y + Style::STRONG.rise());
        flow.page().text(at, Style::STRONG.line(&title), INK);
        flow.space(Style::STRONG.step());
        let frame = Frame { height: TALL, ..flow.column() };
        let dial = Dial::in_frame(frame, outline);
        dial.face(flow.page(), outline, cake.design.unit);
        if title == BOARD {
            feet(flow.page(), input, &dial);
        }
        // Tags come last, so that no piece lies over one.
        let mut numbered = Vec::new();
        for (number, step) in pieces {
            let covers = footprint(flow.page(), input, (&dial, back), step);
            numbered.extend(covers.map(|covers| (number, covers)));
        }
        tags::set(flow.page(), &numbered);
        flow.space(TALL + 3.0);
    }
}

/// What carries a piece in the end: a tier's name, or `board`.
fn carrier<'a>(input: &'a KitchenInput, step: &'a Placing) -> &'a str {
    let mut on = step.on.as_str();
    for _ in 0..input.cake.design.pieces.len() {
        let Some(piece) = input.cake.design.pieces.iter().find(|piece| piece.name == on) else { break };
        on = piece.seat.on.word();
    }
    on
}

/// The tiers' feet on the board.
fn feet(page: &mut Page, input: &KitchenInput, dial: &Dial) {
    for tier in &input.cake.tiers {
        let pose = tier.pose();
        let places = tier.outline.flat(FINE).into_iter().map(|at| pose.transform_point3(DVec3::new(at.x, 0.0, at.y)));
        page.trace(dial.ring(places.map(|at| DVec2::new(at.x, at.z))), Pen::dashed(0.25, MUTED, &[1.6, 1.0]));
    }
}

/// A piece's footprint; the least and greatest corner of what it covers of the page.
fn footprint(
    page: &mut Page,
    input: &KitchenInput,
    (dial, back): (&Dial, glam::DAffine3),
    step: &Placing,
) -> Option<[DVec2; 2]> {
    let placed = step.piece.and_then(|piece| input.cake.pieces.get(piece))?;
    let colour = placed.measure.volumes.first().map(|(finish, _)| input.cake.design.finish(finish).colour);
    let seat = |at: DVec2| {
        let own = back.transform_point3(DVec3::new(at.x, 0.0, at.y));
        DVec2::new(own.x, own.z)
    };
    let places: Vec<DVec2> = placed.footprint_in_cake().into_iter().map(seat).collect();
    let ring = dial.ring(places.iter().copied());
    let (low, high) =
        ring.points.iter().fold((DVec2::MAX, DVec2::MIN), |(low, high), at| (low.min(*at), high.max(*at)));
    // A rope may go round everything that lies within it.
    let open = input.cake.designed(placed).is_some_and(|piece| matches!(piece.form, Form::Rope(_)));
    if !(step.spread || open)
        && let Some(colour) = colour
    {
        page.area(vec![ring.clone()], colour);
    }
    let pen = if step.spread { Pen::dashed(0.15, MUTED, &[0.8, 0.8]) } else { Pen::solid(0.2, INK) };
    page.trace(ring, pen);
    for ball in &placed.measure.balls {
        let at = placed.pose.transform_point3(DVec3::new(ball.at.x, 0.0, ball.at.y));
        let middle = dial.at(seat(DVec2::new(at.x, at.z)));
        let dot = Dial { centre: middle, scale: dial.scale };
        page.trace(dot.circle(ball.across / 2.0), Pen::solid(0.15, INK));
    }
    Some([low, high])
}

#[cfg(test)]
mod tests {
    use super::{circle, within};
    use crate::shapes::forms::rectangle;

    #[test]
    fn rings_end_at_the_board() {
        let board = rectangle(100.0, 60.0, 0.0);
        let [whole, cut, gone] = [20.0, 40.0, 90.0].map(|radius| within(&circle(radius), &board));
        // The first place comes once more at the end, so that the ring is closed.
        assert!(whole.len() == 1 && whole[0].first() == whole[0].last());
        assert_eq!(cut.len(), 2);
        assert!(cut.iter().flatten().all(|at| at.y.abs() <= 30.0 && (at.length() - 40.0).abs() < 0.1));
        assert!(gone.is_empty());
    }
}

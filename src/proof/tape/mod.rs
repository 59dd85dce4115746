//! The tape: sides of the cake unrolled flat, to scale, with all that is on them.
//!
//! In: the cake, its planned wraps, its bodies and who looks at it. Out: a [`Chart`] for a file, a page or a window.
//!
//! ```text
//!                 | seam 1        | bow                 flags: what is named, over its place
//!   lid  ---------+---------------+------------  |
//!   print         :     art      (o)             | up  side: courses, prints, pieces, seams (dashed)
//!   rope ---------------------------------------  |
//!         4 . 3 . 2 . 1 . 0 . 1 . 2 . 3 . 4            ruler: 0 at front centre
//!   strips [ 3 ][    1     ][     2     ][ 3 ]         lanes of each print
//!   seen   ___--~~~~~~~~~~~~~~~~~~~~--___              how much a seam would be seen
//! ```

mod courses;
mod flags;
mod footprint;
mod joins;
mod lanes;
mod ruler;
mod side;
mod unrolled;

use glam::DVec2;

pub use self::unrolled::{RULERS, Unrolled, unrolled, unrolled_height};

use self::flags::{Flag, Flags, fly};
use self::footprint::{Footprint, footprints};
use self::joins::{Place, places};
use self::side::Side;
use super::chart::{Align, Chart, Hand};
use super::ink::{ACCENT, INK, MUTED};
use crate::art::{Region, Stretch};
use crate::cake::{Body, Cake, CakePiece, Owner};
use crate::design::model::Form;
use crate::measure::{Length, show_length, tape_reading};
use crate::wraps::{End, Join, Onlookers, WrapPlan, joins};

/// Width of the page, mm: letter or A4 lying on its side takes it.
const PAGE: f64 = 277.0;
const MARGIN: f64 = 8.0;
/// Room for the names left of a side, and for the ruler right of it, mm.
const NAMES: f64 = 46.0;
const RULER: f64 = 17.0;
const TITLE: f64 = 13.0;
const HEADING: f64 = 8.0;
const FOOT: f64 = 12.0;
const BETWEEN: f64 = 9.0;
/// More pieces than this on one side are drawn without their names: labels would take more room than the side.
const MOST_NAMED: usize = 30;

/// What a tape is drawn from.
#[derive(Clone, Copy, Debug)]
pub struct TapeInput<'a> {
    /// The resolved cake.
    pub cake: &'a Cake,
    /// Its planned wraps.
    pub plans: &'a [WrapPlan],
    /// Where the ends of its bands and ropes meet.
    pub ends: &'a [End],
    /// Its bodies, those of the pieces among them.
    pub bodies: &'a [Body],
    /// Who looks at it: how much a seam would be seen elsewhere.
    pub onlookers: &'a Onlookers<'a>,
    /// Printed at the foot.
    pub revision: &'a str,
}

/// Draws the sides of tiers (numbers from the board up), the upper ones above the lower ones, all to one scale.
#[must_use]
pub fn tape(input: &TapeInput<'_>, tiers: &[usize]) -> Chart {
    let known = tiers.iter().rev().filter_map(|&index| Some((index, input.cake.tiers.get(index)?)));
    let known: Vec<_> = known.collect();
    let longest = known.iter().map(|(_, tier)| tier.outline.perimeter()).fold(1.0, f64::max);
    let room = PAGE - 2.0 * MARGIN - NAMES - RULER;
    // To the next tenth: a scale that can be said.
    let scale = 10.0 / (10.0 * longest / room).ceil().max(10.0);
    let axis = MARGIN + NAMES + room / 2.0;
    let joins = joins(input.plans, input.ends);
    let sides = known.iter().map(|&(index, tier)| {
        let side = Side { tier, unit: input.cake.design.unit, scale, axis, foot: 0.0 };
        Laid::new(input, (side, index), &joins)
    });
    let sides: Vec<Laid> = sides.collect();
    let dotted = sides.iter().any(|laid| !laid.side.corners().is_empty());
    let between = BETWEEN * sides.len().saturating_sub(1) as f64;
    let height = 2.0 * MARGIN + TITLE + FOOT + between + sides.iter().map(Laid::height).sum::<f64>();
    let title = format!("{}: the side unrolled", input.cake.design.title);
    let mut chart = Chart::new(title, DVec2::new(PAGE, height));
    head(&mut chart, &input.cake.design.title);
    let mut top = MARGIN + TITLE;
    for side in sides {
        let deep = side.height();
        side.draw(&mut chart, input, top);
        top += deep + BETWEEN;
    }
    foot(&mut chart, input, (scale, dotted));
    chart
}

fn head(chart: &mut Chart, title: &str) {
    let at = DVec2::new(MARGIN, MARGIN + 5.0);
    let title = Hand::strong(5.6).fitted(title, PAGE - 2.0 * MARGIN - 50.0);
    let after = at + DVec2::X * (Hand::strong(5.6).width(&title) + 3.0);
    chart.text((at, Align::Left), title, Hand::strong(5.6));
    chart.text((after, Align::Left), "the side unrolled", Hand::text(4.0).coloured(MUTED));
    let rule = MARGIN + 8.2;
    chart.line([DVec2::new(MARGIN, rule), DVec2::new(PAGE - MARGIN, rule)], Stretch::solid(0.5, ACCENT));
}

fn foot(chart: &mut Chart, input: &TapeInput<'_>, (scale, dotted): (f64, bool)) {
    let baseline = chart.size.y - MARGIN;
    let corners = if dotted { " Dotted: corners." } else { "" };
    let words = [
        format!(
            "Along: from front centre, on the finished side. Up: from the tier's foot. Dashed: where ends meet.{corners}"
        ),
        "How much a seam is seen: the share of the customer's sight lines that reach it.".to_owned(),
    ];
    for (line, words) in words.into_iter().enumerate() {
        let at = DVec2::new(MARGIN, baseline - 3.4 + 3.4 * line as f64);
        chart.text((at, Align::Left), words, Hand::text(2.4).coloured(MUTED));
    }
    let right = chart.size.x - MARGIN;
    ruler::scale_bar(chart, DVec2::new(right, baseline - 3.6), input.cake.design.unit, scale);
    let revision = format!("revision {}", input.revision);
    chart.text((DVec2::new(right, baseline), Align::Right), revision, Hand::text(2.4).coloured(MUTED));
}

/// One side with everything that needs room.
struct Laid<'a> {
    side: Side<'a>,
    index: usize,
    plans: Vec<&'a WrapPlan>,
    places: Vec<Place>,
    pieces: Vec<(&'a CakePiece, Vec<Footprint>)>,
    flags: Flags,
}

impl<'a> Laid<'a> {
    fn new(input: &TapeInput<'a>, (side, index): (Side<'a>, usize), joins: &[Join]) -> Self {
        let plans: Vec<&WrapPlan> = input.plans.iter().filter(|plan| plan.tier == index).collect();
        let places = places(&side, index, joins);
        let pieces = pieces(input, &side, index);
        // Poles stand on what they name wherever the side comes to lie on the page: heights are known from its foot.
        let named =
            pieces.iter().take(MOST_NAMED).filter_map(|(piece, prints)| piece_flag(input, &side, (piece, prints)));
        let flags: Vec<Flag> = places.iter().map(|place| place.flag(&side)).chain(named).collect();
        let flags = fly(flags, PAGE - MARGIN);
        Self { side, index, plans, places, pieces, flags }
    }

    fn height(&self) -> f64 {
        let lanes: f64 = self.plans.iter().map(|plan| lanes::height(plan)).sum();
        HEADING + self.flags.height() + self.side.tier.height.as_mm() * self.side.scale + 1.2 + ruler::HEIGHT + lanes
    }

    fn draw(mut self, chart: &mut Chart, input: &TapeInput<'_>, top: f64) {
        let high = self.side.tier.height.as_mm() * self.side.scale;
        let upper = top + HEADING + self.flags.height();
        self.side.foot = upper + high;
        let side = &self.side;
        heading(chart, side, top + 3.4);
        courses::draw(chart, side, (input.cake, &self.plans));
        courses::names(chart, side);
        let mut prints: Vec<&Footprint> = self.pieces.iter().flat_map(|(_, prints)| prints).collect();
        prints.sort_by(|a, b| a.out.total_cmp(&b.out));
        for print in prints {
            cover(chart, side, print);
        }
        for place in &self.places {
            place.draw(chart, side);
        }
        self.flags.draw(chart, (upper, side.foot));
        ruler::up(chart, side);
        ruler::along(chart, side, side.foot + 1.2);
        let mut top = side.foot + 1.2 + ruler::HEIGHT;
        for plan in &self.plans {
            if let Some(sight) = input.onlookers.course(self.index, plan.course) {
                lanes::draw(chart, side, (plan, &sight), top);
            }
            top += lanes::height(plan);
        }
    }
}

fn heading(chart: &mut Chart, side: &Side, baseline: f64) {
    let says = |length: Length| show_length(length, side.unit);
    let at = DVec2::new(MARGIN, baseline);
    let name = Hand::strong(3.6).fitted(&side.tier.name, PAGE / 2.0);
    let after = at + DVec2::X * (Hand::strong(3.6).width(&name) + 2.4);
    chart.text((at, Align::Left), name, Hand::strong(3.6));
    let mut words = format!("{} round, {} high", says(side.tier.around()), says(side.tier.height));
    let turn = side.tier.turn.as_degrees();
    if turn != 0.0 {
        words += &format!(", turned {turn:.0}°: its front centre is not the cake's");
    }
    chart.text((after, Align::Left), words, Hand::text(3.0).coloured(MUTED));
}

/// The pieces that sit on a tier's side, with what they cover.
fn pieces<'a>(input: &TapeInput<'a>, side: &Side, index: usize) -> Vec<(&'a CakePiece, Vec<Footprint>)> {
    let on_side = input.cake.pieces.iter().filter_map(|piece| {
        let place = piece.side.filter(|place| place.tier == index)?;
        let own = input.bodies.iter().filter(|body| body.owner == Owner::Piece(piece.index));
        Some((piece, footprints(side.tier, own, place.along)))
    });
    on_side.collect()
}

/// A flag over the middle of what a piece covers, with its name and where its seat is.
fn piece_flag(input: &TapeInput<'_>, side: &Side, (piece, prints): (&CakePiece, &[Footprint])) -> Option<Flag> {
    let designed = input.cake.designed(piece)?;
    let place = piece.side?;
    let seat = side.tier.outline.reading(place.along);
    let corners = prints.iter().flat_map(|print| print.region.rings.iter().flatten());
    // On its outline, straight above its seat as nearly as can be: a step aside is worth two up.
    let near = |at: &DVec2| at.y - 2.0 * (at.x - seat).abs();
    let foot = corners.copied().max_by(|a, b| near(a).total_cmp(&near(b)))?;
    let reading = tape_reading(seat, side.around(), side.unit);
    let up = show_length(Length::mm(place.up), side.unit);
    // The seat of a scatter is the stretch it is strewn over.
    let words = if matches!(designed.form, Form::Scatter(_)) { String::new() } else { format!("{reading}, {up} up") };
    Some(Flag { foot: side.at(foot.x, foot.y), names: vec![designed.name.clone()], words, colour: INK })
}

fn cover(chart: &mut Chart, side: &Side, print: &Footprint) {
    let Region { rings } = &print.region;
    let rings: Vec<Vec<DVec2>> = rings.iter().map(|ring| side.ring(ring)).collect();
    chart.area(rings.clone(), (print.colour, 0.85));
    for ring in rings {
        let closed: Vec<DVec2> = ring.iter().chain(ring.first()).copied().collect();
        chart.line(closed, Stretch { opacity: 0.8, ..Stretch::solid(0.12, INK) });
    }
}

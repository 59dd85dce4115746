//! What is longer than a page and has square ends: a ruled strip of its true width, to be laid along the paste several times.

use glam::DVec2;

use super::card::{CUT_LINE, Card, Stroke};
use super::words;
use crate::kitchen::Pattern;
use crate::measure::Unit;
use crate::packs::kitchen_pack::KitchenInput;
use crate::packs::pdf::{ACCENT, INK, Pen, Style};
use crate::packs::words::length;

/// Room kept for the words below a strip, mm.
const WORDS: f64 = 14.0;
/// A rest shorter than this is not worth a mark, mm.
const NO_REST: f64 = 0.05;

/// How a strip is ruled: from one tick to the next, mm, and every how many ticks a figure stands.
fn ruling(unit: Unit) -> (f64, u32) {
    match unit {
        Unit::Inch => (25.4 / 4.0, 4),
        Unit::Millimetre | Unit::Centimetre => (5.0, 4),
    }
}

/// The ruled strip of a pattern on a page with so much room; `None` where it is wider than the page.
pub(super) fn ruled(pattern: &Pattern, input: &KitchenInput, room: DVec2) -> Option<Card> {
    let unit = input.cake.design.unit;
    let (tick, figured) = ruling(unit);
    let size = pattern.template.size();
    if size.y + WORDS > room.min_element() {
        return None;
    }
    let step = tick * f64::from(figured);
    let long = (room.max_element() / step).floor() * step;
    let times = (size.x / long + 1e-9).floor();
    let rest = size.x - times * long;
    let says = |mm: f64| length(mm, unit);
    let whole = format!("{} long in all: lay this strip {times:.0} times ({} each)", says(size.x), says(long));
    let told = if rest > NO_REST { format!("{whole}, then {} up to the mark", says(rest)) } else { whole };
    let details = format!("{told} · {}", words::details(pattern, input));
    let mut card = Card::plain(DVec2::new(long, size.y), words::name(pattern), &details);
    card.strokes.push(edge(card.figure));
    rule(&mut card, (tick, figured), unit);
    if rest > NO_REST {
        let mark = [DVec2::new(rest, 0.0), DVec2::new(rest, size.y)];
        card.strokes.push(Stroke {
            points: mark.to_vec(),
            closed: false,
            pen: Pen::dashed(CUT_LINE, ACCENT, &[2.0, 1.0]),
        });
        let words = Style::BESIDE.line("cut here the last time");
        if size.y > 6.0 {
            let left = if rest + words.width + 2.0 > long { rest - words.width - 1.0 } else { rest + 1.0 };
            card.on_it.push((DVec2::new(left, size.y - 1.2), words, ACCENT));
        }
    }
    Some(card)
}

fn edge(size: DVec2) -> Stroke {
    let points = vec![DVec2::ZERO, DVec2::new(size.x, 0.0), size, DVec2::new(0.0, size.y)];
    Stroke { points, closed: true, pen: Pen::solid(CUT_LINE, INK) }
}

/// Ticks along the upper edge, with figures.
fn rule(card: &mut Card, (tick, figured): (f64, u32), unit: Unit) {
    let count = (card.figure.x / tick).round() as u32;
    for number in 1..count {
        let at = DVec2::new(tick * f64::from(number), 0.0);
        let tall = if number % figured == 0 { 0.35 } else { 0.18 };
        let tall = (card.figure.y * tall).min(if number % figured == 0 { 3.0 } else { 1.6 });
        let points = vec![at, at + DVec2::Y * tall];
        card.strokes.push(Stroke { points, closed: false, pen: Pen::solid(0.12, INK) });
        if number % figured == 0 && card.figure.y > 7.0 {
            let words = Style::BESIDE.line(&figure(at.x, unit));
            let left = at - DVec2::X * words.width / 2.0;
            card.on_it.push((left + DVec2::Y * (tall + 2.4), words, INK));
        }
    }
}

/// A reading of the rule, without its unit.
fn figure(mm: f64, unit: Unit) -> String {
    length(mm, unit).split(' ').next().unwrap_or_default().to_owned()
}

//! How far each covering is rolled out: drawn to scale, since it is larger than any page, with its sizes in figures.

use glam::DVec2;

use super::pages::{EDGE, Pages};
use crate::cake::CakeTier;
use crate::design::model::TierShape;
use crate::kitchen::{covering, rolled_out};
use crate::measure::Length;
use crate::packs::kitchen_pack::KitchenInput;
use crate::packs::pdf::{ACCENT, INK, MUTED, Page, Pen, Style, TONE, Trace, break_lines};
use crate::packs::words::{length, product};
use crate::shapes::Outline;

/// Height of one covering on the page, mm.
const BAND: f64 = 56.0;
/// Width of its drawing.
const DRAWING: f64 = 62.0;
/// Flat to this many mm.
const FINE: f64 = 0.2;

/// Adds the pages; none where nothing is covered.
pub(super) fn set(pages: &mut Pages, input: &KitchenInput) {
    let covered: Vec<&CakeTier> = input.cake.tiers.iter().filter(|tier| tier.paste > Length::ZERO).collect();
    let room = pages.room();
    let head = Style::HEADING.step() + 2.0 * Style::BODY.step() + 4.0;
    let each = (((room.y - head) / BAND).floor() as usize).max(1);
    for tiers in covered.chunks(each) {
        let Some(page) = pages.add("Coverings to roll out") else { continue };
        let mut y = head_of(page, room.x);
        for tier in tiers {
            one(page, input, (tier, DVec2::new(EDGE, y)));
            y += BAND;
        }
    }
}

/// The heading; where what follows begins.
fn head_of(page: &mut Page, wide: f64) -> f64 {
    let mut y = EDGE;
    let told = "Not to size: roll to these figures, over the iced cake's top, down its side all round, and half an inch beyond, to be \
                trimmed.";
    for (text, style) in [("Coverings to roll out", Style::HEADING), (told, Style::BODY)] {
        for line in break_lines(text, style, wide) {
            page.text(DVec2::new(EDGE, y + style.rise()), line, style.colour);
            y += style.step();
        }
    }
    y + 3.0
}

fn one(page: &mut Page, input: &KitchenInput, (tier, at): (&CakeTier, DVec2)) {
    let outer = rolled_out(tier);
    let (low, high) = outer.bounds();
    let scale = (DRAWING / (high.x - low.x)).min((BAND - 6.0) / (high.y - low.y));
    let middle = at + DVec2::new(DRAWING, BAND - 6.0) / 2.0;
    let ring = |outline: &Outline| Trace {
        points: outline.flat(FINE).into_iter().map(|place| middle + (place - (low + high) / 2.0) * scale).collect(),
        closed: true,
    };
    page.area(vec![ring(&outer)], TONE);
    page.trace(ring(&outer), Pen::solid(0.3, INK));
    page.trace(ring(&tier.iced), Pen::dashed(0.2, MUTED, &[1.6, 1.2]));
    let left = at.x + DRAWING + 8.0;
    let mut y = at.y + 4.0;
    for (text, style) in words(input, tier, &outer) {
        for line in break_lines(&text, style, page.size[0] - left - EDGE) {
            page.text(DVec2::new(left, y + style.rise()), line, style.colour);
            y += style.step();
        }
    }
}

fn words(input: &KitchenInput, tier: &CakeTier, outer: &Outline) -> Vec<(String, Style)> {
    let design = &input.cake.design;
    let unit = design.unit;
    let (low, high) = outer.bounds();
    let size = high - low;
    let roll = if tier.shape == TierShape::Round {
        format!("a disc {} across", length(size.x, unit))
    } else {
        product(&size.to_array(), unit)
    };
    let (paste, _) = design.paste_of(&tier.finish);
    let weighs = covering(design, tier);
    vec![
        (format!("{} · covering", tier.name), Style::STRONG),
        (format!("Roll out {roll}, {} thick", length(tier.paste.as_mm(), unit)), Style::STRONG.coloured(ACCENT)),
        (
            format!(
                "{}, from {paste} paste: {:.0} g to roll out, of which {:.0} g stay on the cake",
                tier.finish, weighs.rolled, weighs.on_cake
            ),
            Style::BODY,
        ),
        ("Dashed: the iced top.".to_owned(), Style::LABEL),
        (super::words::revision(input), Style::LABEL),
    ]
}

//! A card: a pattern ready for a page, its words below it. Frame: origin at its upper left, y down, mm.

use glam::DVec2;

use super::words;
use crate::art::Colour;
use crate::cake::pieces::{Guide, Template};
use crate::kitchen::Pattern;
use crate::packs::kitchen_pack::KitchenInput;
use crate::packs::kitchen_pack::sheets::Hand;
use crate::packs::pdf::{ACCENT, INK, MUTED, Pen, Style, Words, break_lines};

/// Thickness of the line to cut along; its middle is the edge of what is cut.
pub(super) const CUT_LINE: f64 = 0.2;
/// Words are no narrower than this, however small the piece.
const LEAST_WORDS: f64 = 44.0;
/// Between a figure and its words.
const APART: f64 = 1.6;
/// The name, and what follows it.
const NAME: Style = Style { points: 7.6, leading: 1.25, ..Style::STRONG };
const DETAILS: Style = Style { points: 6.6, leading: 1.25, ..Style::BESIDE };

/// A line on a card.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Stroke {
    pub points: Vec<DVec2>,
    pub closed: bool,
    pub pen: Pen,
}

/// A pattern, ready.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Card {
    /// Its name, for lists.
    pub name: String,
    /// Width and height of what is cut.
    pub figure: DVec2,
    pub strokes: Vec<Stroke>,
    /// Words on the figure itself: where their baseline starts.
    pub on_it: Vec<(DVec2, Words, Colour)>,
    /// Words below it, line by line, each with the distance of its baseline from the figure's foot.
    pub below: Vec<(f64, Words, Colour)>,
    /// Height of the words with the room above them.
    pub deep: f64,
}

impl Card {
    /// The card of a pattern as it is cut, or as in a mirror.
    pub fn of(pattern: &Pattern, input: &KitchenInput, hand: Hand) -> Self {
        let name = words::name(pattern);
        let (name, details) = match hand {
            Hand::Right => (name, words::details(pattern, input)),
            Hand::Mirrored => {
                let told = format!("to transfer from, not one more to cut · {}", words::revision(input));
                (format!("{name}, MIRRORED"), told)
            }
        };
        let template = &pattern.template;
        Self { strokes: strokes(template, hand), ..Self::plain(template.size(), name, &details) }
    }

    /// A card with nothing on it yet but its words.
    pub fn plain(figure: DVec2, name: String, details: &str) -> Self {
        let wide = figure.x.max(LEAST_WORDS);
        let mut below = Vec::new();
        let mut deep = APART;
        for (text, style) in [(name.as_str(), NAME), (details, DETAILS)] {
            for line in break_lines(text, style, wide) {
                below.push((deep + style.rise(), line, style.colour));
                deep += style.step();
            }
        }
        Self { name, figure, strokes: Vec::new(), on_it: Vec::new(), below, deep }
    }

    /// Width and height with its words.
    pub fn size(&self) -> DVec2 {
        let words = self.below.iter().map(|(_, words, _)| words.width).fold(0.0, f64::max);
        DVec2::new(self.figure.x.max(words), self.figure.y + self.deep)
    }
}

/// The lines of a template in the frame of its card.
fn strokes(template: &Template, hand: Hand) -> Vec<Stroke> {
    let Some((low, high)) = template.region.bounds() else { return Vec::new() };
    let place = |at: &DVec2| {
        let x = if hand == Hand::Mirrored { high.x - at.x } else { at.x - low.x };
        DVec2::new(x, high.y - at.y)
    };
    let ring = |ring: &Vec<DVec2>, pen: Pen| Stroke { points: ring.iter().map(place).collect(), closed: true, pen };
    let mut strokes: Vec<Stroke> =
        template.region.rings.iter().map(|edge| ring(edge, Pen::solid(CUT_LINE, INK))).collect();
    for guide in &template.guides {
        match guide {
            Guide::Figure(rings) => strokes.extend(rings.iter().map(|edge| ring(edge, Pen::solid(0.1, MUTED)))),
            Guide::Pick(ends) => strokes.extend(pick(ends.each_ref().map(place))),
        }
    }
    strokes
}

/// A stick as a dashed line with a bar at its end; one that goes straight in as a cross.
fn pick([foot, end]: [DVec2; 2]) -> Vec<Stroke> {
    let line = |points: [DVec2; 2], pen: Pen| Stroke { points: points.to_vec(), closed: false, pen };
    let bar = |at: DVec2, half: DVec2| line([at - half, at + half], Pen::solid(0.2, ACCENT));
    if foot.distance(end) < 1.0 {
        return vec![bar(foot, DVec2::X * 2.0), bar(foot, DVec2::Y * 2.0)];
    }
    let across = (end - foot).perp().normalize_or_zero() * 1.6;
    vec![line([foot, end], Pen::dashed(0.2, ACCENT, &[2.0, 1.2])), bar(end, across)]
}

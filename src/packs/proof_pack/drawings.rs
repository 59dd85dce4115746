//! The cake drawn to scale: from the front, and below it from above, as a drawing board has them.

use glam::DVec2;

use super::ProofInput;
use crate::art::Colour;
use crate::packs::pdf::{Flow, Frame, INK, MUTED, Page, Pen, Role, Style, Trace};
use crate::proof::drawing::{Drawing, TierBox, elevation, plan};
use crate::proof::span::{Side, Span, levels};

/// Scales to choose from, as `1 : n`.
const SCALES: [f64; 14] = [1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 30.0];
/// From the cake to the first dimension line and from one to the next: beside the cake, below it; mm on paper.
const BESIDE: f64 = 13.0;
const BELOW: f64 = 6.0;
/// Between the two drawings, and for their captions, mm.
const GAP: f64 = 7.0;
const CAPTION: f64 = 6.0;

/// What each drawing shows.
const CAPTIONS: [&str; 2] = ["From the front", "From above, front below"];

/// A drawing with the room that its dimensions take on paper.
struct Laid {
    drawing: Drawing,
    levels: Vec<u32>,
}

/// Sets the page of drawings; nothing where there is nothing to draw.
pub(super) fn set(flow: &mut Flow, input: &ProofInput) {
    let Some(drawings) = laid(input) else { return };
    flow.section("Drawn to scale", 120.0);
    let area = flow.column();
    let area = Frame { height: area.height - 2.0 * CAPTION - GAP, ..area };
    let Some(scale) = SCALES.into_iter().find(|&scale| fits(&drawings, scale, area)) else { return };
    let says = format!("Scale 1 : {scale}. Sizes are of the finished cake; prints are not drawn.");
    flow.paragraph(&says, Style::REMARK);
    for (laid, words) in drawings.iter().zip(CAPTIONS) {
        caption(flow, words);
        let area = flow.column();
        // Both drawings share the cake's own axis, so that one stands under the other.
        let from = flow.page().marks.len();
        lay(flow.page(), DVec2::new(area.x + area.width / 2.0, area.y), (laid, scale));
        let sizes: Vec<&str> = laid.drawing.spans.iter().map(|(_, label)| label.as_str()).collect();
        let says = format!("{words}, drawn 1 : {scale}, with its sizes: {}", sizes.join(", "));
        flow.page().tell(from, Role::Figure(says));
        flow.space(laid.high(scale) + GAP);
    }
    flow.turn();
}

/// The same drawings, each on a page of its own, to be shown small: caption and page.
pub(super) fn apart(input: &ProofInput) -> Vec<(&'static str, Page)> {
    /// So narrow that the figures can be read on a phone, mm.
    const ROOM: Frame = Frame { x: 0.0, y: 0.0, width: 96.0, height: 190.0 };
    let Some(drawings) = laid(input) else { return Vec::new() };
    let Some(scale) = SCALES.into_iter().find(|&scale| fits(&drawings, scale, ROOM)) else { return Vec::new() };
    let page = |(laid, words): (&Laid, &'static str)| {
        let mut page = Page::new([ROOM.width, laid.high(scale) + 2.0]);
        lay(&mut page, DVec2::new(ROOM.width / 2.0, 1.0), (laid, scale));
        (words, page)
    };
    drawings.iter().zip(CAPTIONS).map(page).collect()
}

/// Both drawings; nothing where there is nothing to draw.
fn laid(input: &ProofInput) -> Option<[Laid; 2]> {
    let unit = input.design.unit;
    let tiers: Vec<TierBox> = input.tiers.iter().map(TierBox::of).collect();
    let drawings = [elevation(input.bodies, &tiers, unit), plan(input.bodies, unit)].map(Laid::new);
    drawings.iter().all(|laid| !laid.drawing.figures.is_empty()).then_some(drawings)
}

impl Laid {
    fn new(drawing: Drawing) -> Self {
        let spans: Vec<Span> = drawing.spans.iter().map(|&(span, _)| span).collect();
        Self { levels: levels(&spans, 2.0), drawing }
    }

    /// Dimension lines at a side.
    fn deep(&self, side: Side) -> f64 {
        let here = self.drawing.spans.iter().zip(&self.levels).filter(|((span, _), _)| span.side == side);
        here.map(|(_, level)| f64::from(level + 1)).fold(0.0, f64::max)
    }

    /// Height on paper with the dimensions below, mm.
    fn high(&self, scale: f64) -> f64 {
        (self.drawing.high.y - self.drawing.low.y) / scale + self.deep(Side::Below) * BELOW
    }

    /// Width and height on paper with the dimensions, mm. Room is kept at both sides alike, so that centres align.
    fn size(&self, scale: f64) -> DVec2 {
        let beside = self.deep(Side::Left).max(self.deep(Side::Right)) * BESIDE;
        (self.drawing.high - self.drawing.low) / scale + DVec2::new(2.0 * beside, self.deep(Side::Below) * BELOW)
    }
}

fn fits(drawings: &[Laid; 2], scale: f64, area: Frame) -> bool {
    let [front, above] = drawings.each_ref().map(|laid| laid.size(scale));
    front.x.max(above.x) <= area.width && front.y + above.y <= area.height - Style::REMARK.step() * 2.0
}

fn caption(flow: &mut Flow, words: &str) {
    let area = flow.column();
    let at = DVec2::new(area.x, area.y + Style::LABEL.rise());
    flow.page().text(at, Style::LABEL.line(words), Style::LABEL.colour);
    flow.space(CAPTION);
}

/// Draws one drawing, the cake's axis and the drawing's upper edge at a place.
fn lay(page: &mut Page, place: DVec2, (laid, scale): (&Laid, f64)) {
    let drawing = &laid.drawing;
    let on_page = |at: DVec2| place + DVec2::new(at.x, at.y - drawing.low.y) / scale;
    for figure in &drawing.figures {
        let traces: Vec<Trace> = figure
            .rings
            .iter()
            .map(|ring| Trace { points: ring.iter().map(|&at| on_page(at)).collect(), closed: true })
            .collect();
        page.area(traces.clone(), pale(figure.colour));
        for trace in traces {
            page.trace(trace, Pen::solid(0.18, INK));
        }
    }
    let (low, high) = (on_page(drawing.low), on_page(drawing.high));
    for ((span, label), level) in drawing.spans.iter().zip(&laid.levels) {
        let placed = Span { from: on_page(span.from), to: on_page(span.to), side: span.side };
        dimension(page, placed, (low, high, *level), label);
    }
}

/// A dimension with its witness lines; its words stand in a gap of the line.
fn dimension(page: &mut Page, span: Span, (low, high, level): (DVec2, DVec2, u32), label: &str) {
    let away = span.away();
    let step = if span.side == Side::Below { BELOW } else { BESIDE };
    let ends = span.set_off(low.dot(away).max(high.dot(away)) + step * (f64::from(level) + 0.75));
    for (at, end) in [span.from, span.to].into_iter().zip(ends) {
        page.line(at + away, end + away, Pen::solid(0.12, MUTED));
        let slash = DVec2::new(0.9, -0.9);
        page.line(end - slash, end + slash, Pen::solid(0.3, INK));
    }
    let words = Style::LABEL.coloured(INK).line(label);
    let ([from, to], half) = (ends, DVec2::new(words.width, words.line.cap_height) / 2.0 + DVec2::splat(0.8));
    let middle = (from + to) / 2.0;
    let along = (to - from).normalize_or_zero();
    let gap = along * half.dot(along.abs());
    for (end, stop) in [(from, middle - gap), (to, middle + gap)] {
        // A span shorter than its words keeps its ends only.
        if (stop - end).dot(middle - end) > 0.0 {
            page.line(end, stop, Pen::solid(0.2, INK));
        }
    }
    page.text(middle + DVec2::new(-words.width, words.line.cap_height) / 2.0, words, INK);
}

/// The colour as a pale tint, so that lines and figures read on it.
fn pale(colour: Colour) -> Colour {
    let tint = |channel: u8| u8::try_from((u16::from(channel) + 255) / 2).unwrap_or(u8::MAX);
    Colour::new(tint(colour.red), tint(colour.green), tint(colour.blue))
}

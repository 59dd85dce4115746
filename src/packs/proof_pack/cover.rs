//! Page 1: what the cake is, for whom, and what it looks like from every side.

use glam::DVec2;

use super::ProofInput;
use crate::packs::PackError;
use crate::packs::pdf::{ACCENT, Flow, Frame, Pen, Print, RULE, Role, Style, TONE, break_lines};
use crate::packs::words::product;
use crate::proof::shot::Shot;

/// The small pictures in reading order, as they are called under them.
pub(super) const SMALL: [(&str, &str); 5] = [
    ("front", "front"),
    ("right", "from the right"),
    ("back", "back"),
    ("left", "from the left"),
    ("top", "from above"),
];
/// Between two small pictures, mm.
const GAP: f64 = 3.0;

/// Height kept for the line of figures at the foot, mm.
const GLANCE: f64 = 16.0;

/// Sets the first page.
pub(super) fn set(flow: &mut Flow, input: &ProofInput) -> Result<(), PackError> {
    flow.bookmark("The cake");
    title(flow, input);
    strip(flow, &order_fields(input));
    let area = flow.rest();
    let small: Vec<(&Shot, &str)> = SMALL.iter().filter_map(|&(view, name)| Some((shot(input, view)?, name))).collect();
    let width = (area.width - GAP * 4.0) / 5.0;
    let pictures = if small.is_empty() { 0.0 } else { width * 0.75 + GAP + Style::LABEL.step() };
    let below = pictures + GLANCE;
    if let Some(hero) = shot(input, "customer") {
        let room = Frame { height: area.height - below - GAP, ..area };
        let print = Print::new(&hero.picture)?;
        let frame = Frame { height: room.height.min(room.width / print.proportion), ..room };
        picture(flow, (frame, &print), "The cake as the customer sees it");
        flow.space(frame.height + GAP);
    }
    small_views(flow, &small, width)?;
    strip(flow, &glance_fields(input));
    Ok(())
}

pub(super) fn shot<'a>(input: &ProofInput<'a>, view: &str) -> Option<&'a Shot> {
    input.shots.iter().find(|shot| shot.view == view)
}

fn title(flow: &mut Flow, input: &ProofInput) {
    let area = flow.rest();
    let baseline = area.y + Style::KICKER.rise();
    let revision = Style::LABEL.line(&format!("revision {}", input.facts.revision));
    let at = DVec2::new(area.x + area.width - revision.width, baseline);
    flow.page().text(DVec2::new(area.x, baseline), Style::KICKER.line("Cake proof"), ACCENT);
    flow.page().text(at, revision, Style::LABEL.colour);
    flow.space(Style::KICKER.step() + 1.0);
    let from = flow.page().marks.len();
    for line in break_lines(&input.facts.title, Style::TITLE, area.width) {
        let at = DVec2::new(area.x, flow.rest().y + Style::TITLE.rise());
        flow.page().text(at, line, Style::TITLE.colour);
        flow.space(Style::TITLE.step());
    }
    flow.page().tell(from, Role::Heading(1, input.facts.title.clone()));
    if let Some(approval) = &input.facts.approval {
        let style = if approval.stands { Style::STRONG } else { Style::STRONG.coloured(ACCENT) };
        let at = DVec2::new(area.x, flow.rest().y + style.rise());
        let words = break_lines(&approval.sentence(), style, area.width).into_iter().next();
        flow.page().text(at, words.unwrap_or_else(|| style.line("")), style.colour);
        flow.space(style.step());
    }
    flow.space(2.0);
}

/// For whom, what, when, how many: what the order says.
pub(super) fn order_fields(input: &ProofInput) -> [(&'static str, String); 4] {
    let order = &input.design.order;
    let handover = order.handover.map(|when| when.strftime("%A, %-d %B %Y, %H:%M").to_string());
    [
        ("For", order.customer.clone()),
        ("Event", order.event.clone()),
        ("Hand-over", handover.unwrap_or_default()),
        ("Portions wanted", order.portions.map(|portions| portions.to_string()).unwrap_or_default()),
    ]
}

/// The whole size, the tiers, the portions: what a shelf, a table and a host need to know.
pub(super) fn glance_fields(input: &ProofInput) -> [(&'static str, String); 3] {
    let (facts, unit) = (input.facts, input.design.unit);
    let overall = &facts.overall;
    let shapes: Vec<String> = facts.tiers.iter().rev().map(|tier| tier.shape.clone()).collect();
    [
        (
            "Whole size with the board (width × depth × height)",
            product(&[overall.width, overall.depth, overall.height], unit),
        ),
        ("Tiers, from the top", shapes.join(", ")),
        ("Portions", facts.servings.ordered.to_string()),
    ]
}

/// Labelled values side by side; empty ones are left out. Columns are as wide as they need, where that fits.
fn strip(flow: &mut Flow, fields: &[(&str, String)]) {
    const GUTTER: f64 = 6.0;
    let given: Vec<_> = fields.iter().filter(|(_, value)| !value.trim().is_empty()).collect();
    if given.is_empty() {
        return;
    }
    let area = flow.rest();
    let own = |(label, value): &&(&str, String)| Style::LABEL.width(label).max(Style::STRONG.width(value)) + GUTTER;
    let spare = (area.width - given.iter().copied().map(|field| own(&field)).sum::<f64>()) / given.len() as f64;
    let width = |field| if spare < 0.0 { area.width / given.len() as f64 } else { own(field) + spare };
    let columns: Vec<_> = given
        .iter()
        .map(|field| (field, width(field), break_lines(&field.1, Style::STRONG, width(field) - GUTTER)))
        .collect();
    let lines = columns.iter().map(|(_, _, lines)| lines.len()).max().unwrap_or(1) as f64;
    let height = Style::LABEL.step() + lines * Style::STRONG.step() + 3.6;
    flow.page().block(Frame { height, ..area }, TONE);
    let mut x = area.x + GUTTER / 2.0;
    for ((label, _), width, lines) in columns {
        let (from, number) = (flow.page().marks.len(), flow.number());
        let mut at = DVec2::new(x, area.y + 1.6 + Style::LABEL.rise());
        flow.page().text(at, Style::LABEL.line(label), Style::LABEL.colour);
        at.y += Style::LABEL.step() - Style::LABEL.rise() + Style::STRONG.rise();
        for line in lines {
            flow.page().text(at, line, Style::STRONG.colour);
            at.y += Style::STRONG.step();
        }
        flow.page().tell(from, Role::Paragraph(number));
        x += width;
    }
    flow.space(height + GAP);
}

/// Lays a picture with an edge into a frame.
fn picture(flow: &mut Flow, (frame, print): (Frame, &Print), words: &str) {
    let from = flow.page().marks.len();
    let filled = flow.page().picture(frame, print);
    flow.page().edge(filled, Pen::solid(0.2, RULE));
    flow.page().tell(from, Role::Figure(words.to_owned()));
}

fn small_views(flow: &mut Flow, small: &[(&Shot, &str)], width: f64) -> Result<(), PackError> {
    let area = flow.rest();
    let height = width * 0.75;
    for (number, (shot, name)) in small.iter().enumerate() {
        let frame = Frame { x: area.x + (width + GAP) * number as f64, y: area.y, width, height };
        let print = Print::new(&shot.picture)?;
        picture(flow, (frame, &print), &format!("The cake, {name}"));
        let caption = Style::LABEL.line(name);
        let at = DVec2::new(frame.x + (width - caption.width) / 2.0, frame.y + height + 1.0 + Style::LABEL.rise());
        flow.page().text(at, caption, Style::LABEL.colour);
    }
    flow.space(height + GAP + Style::LABEL.step());
    Ok(())
}

//! Where the customer signs.

use glam::DVec2;

use super::ProofInput;
use crate::packs::pdf::{Flow, Frame, MUTED, Pen, Role, Style, TONE, break_lines};

/// Height of the block, mm.
const HEIGHT: f64 = 56.0;
/// From line to line to write on, mm.
const LINE: f64 = 11.0;

/// Sets the block to sign, whole on one page.
pub(super) fn set(flow: &mut Flow, input: &ProofInput) {
    flow.section("Approval", HEIGHT + 3.0);
    let area = Frame { height: HEIGHT, ..flow.column() };
    flow.page().block(area, TONE);
    let (left, width) = (area.x + 5.0, area.width - 10.0);
    let text = format!(
        "I have seen this proof, revision {}, and approve the cake as it is shown and described here. Any change makes a new \
         revision, with a proof of its own.",
        input.facts.revision
    );
    let mut y = area.y + 4.0;
    let (from, number) = (flow.page().marks.len(), flow.number());
    for line in break_lines(&text, Style::BODY, width) {
        flow.page().text(DVec2::new(left, y + Style::BODY.rise()), line, Style::BODY.colour);
        y += Style::BODY.step();
    }
    flow.page().tell(from, Role::Paragraph(number));
    let half = (width - 8.0) / 2.0;
    y += LINE;
    field(flow, DVec2::new(left, y), half, "Name");
    field(flow, DVec2::new(left + half + 8.0, y), half, "Date");
    y += LINE + 2.0;
    field(flow, DVec2::new(left, y), width, "Signature");
    y += LINE + 1.0;
    field(flow, DVec2::new(left, y), width, "Changes asked for instead");
    flow.space(HEIGHT);
}

/// A line to write on, with its label beneath.
fn field(flow: &mut Flow, at: DVec2, width: f64, label: &str) {
    flow.page().line(at, DVec2::new(at.x + width, at.y), Pen::solid(0.2, MUTED));
    flow.page().text(DVec2::new(at.x, at.y + 0.6 + Style::LABEL.rise()), Style::LABEL.line(label), Style::LABEL.colour);
}

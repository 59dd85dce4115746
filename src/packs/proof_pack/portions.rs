//! How many it serves, how that was counted, and what else the order says.

use super::ProofInput;
use crate::design::model::Slice;
use crate::packs::pdf::{ACCENT, Flow, Style};
use crate::packs::words::product;

/// Sets the portions, and the order's notes.
pub(super) fn set(flow: &mut Flow, input: &ProofInput) {
    let (unit, order, served) = (input.design.unit, &input.design.order, input.facts.servings);
    let [width, depth] = match order.slice {
        Slice::Party => [1.5 * 25.4, 2.0 * 25.4],
        Slice::Wedding => [25.4, 2.0 * 25.4],
        Slice::Own(width, depth) => [width.as_mm(), depth.as_mm()],
    };
    flow.section("Portions", 24.0);
    let slice = product(&[width, depth], unit);
    flow.paragraph(&format!("{} portions, cut as slices of {slice}.", served.ordered), Style::STRONG);
    if let Some(wanted) = order.portions {
        let (text, style) = match served.ordered.cmp(&wanted) {
            std::cmp::Ordering::Less => (
                format!("That is {} fewer than the {wanted} asked for.", wanted - served.ordered),
                Style::STRONG.coloured(ACCENT),
            ),
            std::cmp::Ordering::Equal => (format!("That is exactly the {wanted} asked for."), Style::BODY),
            std::cmp::Ordering::Greater => {
                (format!("{wanted} were asked for; {} are to spare.", served.ordered - wanted), Style::BODY)
            }
        };
        flow.paragraph(&text, style);
    }
    let counted = "How it is counted: each slice goes the full height of its tier. A round tier is cut in rings as deep as the \
                   slice, from the outside in; a square or rectangular one in rows and columns; any other shape is counted \
                   by the area of its top.";
    flow.paragraph(counted, Style::BODY);
    let named = [[1.5, 2.0], [1.0, 2.0]].map(|sides| product(&sides.map(|inches| inches * 25.4), unit));
    let [party, wedding] = named;
    let both = format!(
        "By the same count: {} party slices ({party}) or {} wedding slices ({wedding}).",
        served.party, served.wedding
    );
    flow.paragraph(&both, Style::REMARK);
    if !order.notes.trim().is_empty() {
        flow.section("Notes", 20.0);
        flow.paragraph(&order.notes, Style::BODY);
    }
}

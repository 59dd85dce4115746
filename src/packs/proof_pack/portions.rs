//! How many it serves, how that was counted, what it costs if that is asked for, and what else the order says.

use super::ProofInput;
use super::section::{Section, Tone};
use crate::design::model::Slice;
use crate::packs::words::{money, product};

/// The portions, and the order's notes.
pub(super) fn sections(input: &ProofInput) -> Vec<Section> {
    let (unit, order, served) = (input.design.unit, &input.design.order, input.facts.servings);
    let [width, depth] = match order.slice {
        Slice::Party => [1.5 * 25.4, 2.0 * 25.4],
        Slice::Wedding => [25.4, 2.0 * 25.4],
        Slice::Own(width, depth) => [width.as_mm(), depth.as_mm()],
    };
    let mut section = Section::new("Portions");
    let slice = product(&[width, depth], unit);
    section.text(Tone::Strong, format!("{} portions, cut as slices of {slice}.", served.ordered));
    if let Some(wanted) = order.portions {
        let (tone, text) = match served.ordered.cmp(&wanted) {
            std::cmp::Ordering::Less => {
                (Tone::Alert, format!("That is {} fewer than the {wanted} asked for.", wanted - served.ordered))
            }
            std::cmp::Ordering::Equal => (Tone::Plain, format!("That is exactly the {wanted} asked for.")),
            std::cmp::Ordering::Greater => {
                (Tone::Plain, format!("{wanted} were asked for; {} are to spare.", served.ordered - wanted))
            }
        };
        section.text(tone, text);
    }
    let counted = "How it is counted: each slice goes the full height of its tier. A round tier is cut in rings as deep as the \
                   slice, from the outside in; a square or rectangular one in rows and columns; any other shape is counted \
                   by the area of its top.";
    section.text(Tone::Plain, counted);
    let named = [[1.5, 2.0], [1.0, 2.0]].map(|sides| product(&sides.map(|inches| inches * 25.4), unit));
    let [party, wedding] = named;
    let both = format!(
        "By the same count: {} party slices ({party}) or {} wedding slices ({wedding}).",
        served.party, served.wedding
    );
    section.text(Tone::Remark, both);
    let mut sections = vec![section];
    sections.extend(price(input));
    if !order.notes.trim().is_empty() {
        let mut notes = Section::new("Notes");
        notes.text(Tone::Plain, order.notes.as_str());
        sections.push(notes);
    }
    sections
}

/// What the cake costs, where `[proof] price` asks for it; how it is reckoned stays in the kitchen.
fn price(input: &ProofInput) -> Option<Section> {
    let mut section = Section::new("Price");
    let price = &input.facts.price;
    match price.total {
        Some(total) => {
            let says =
                format!("{}, for the cake as it is shown and described here.", money(total, price.currency.as_deref()));
            section.text(Tone::Strong, says);
        }
        None => section.text(Tone::Alert, "The decorator has not set it yet."),
    }
    input.design.proof.price.filter(|asked| *asked).map(|_| section)
}

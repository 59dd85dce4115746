//! Allergens as declared, what comes out before cutting, and what to mind: said once, shortly; the decision stays with the
//! person and their local food rules.

use super::ProofInput;
use super::section::{Section, Tone};
use crate::design::model::pieces::SolidForm;
use crate::design::model::{Form, Piece};
use crate::packs::words::{count, length, list};
use crate::proof::facts::PieceFacts;

/// All three sections.
pub(super) fn sections(input: &ProofInput) -> Vec<Section> {
    vec![allergens(input), before_cutting(input), mind(input)]
}

fn allergens(input: &ProofInput) -> Section {
    let mut section = Section::new("Allergens");
    section.text(
        Tone::Strong,
        match input.design.order.allergens.as_slice() {
            [] => "None declared so far. Ask the decorator before anyone with an allergy eats of this cake.".to_owned(),
            declared => format!("Declared: {}.", list(declared)),
        },
    );
    for caution in input.facts.cautions.iter().filter(|caution| caution.about == "allergens") {
        section.text(Tone::Plain, caution.text.as_str());
    }
    section
}

fn before_cutting(input: &ProofInput) -> Section {
    let mut section = Section::new("Take out before cutting");
    let mut entries = grouped(input.facts.pieces.iter().filter_map(|piece| taken_out(piece, input)));
    let dowels: usize = input.facts.supports.iter().map(|support| support.positions.len()).sum();
    if input.facts.tiers.len() > 1 {
        entries.push(format!("Between the tiers: {} and cards, as each tier is lifted off.", count(dowels, "dowel")));
    }
    if entries.is_empty() {
        section.text(Tone::Plain, "Nothing: this cake is planned without sticks, pins or wires.");
    }
    for entry in entries {
        section.entry(entry);
    }
    section.text(Tone::Plain, "The board is not food. Count what comes out.");
    section
}

/// One sentence for all pieces of which the same comes out, in the order of the first of them.
fn grouped(pieces: impl Iterator<Item = (String, String)>) -> Vec<String> {
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    for (name, what) in pieces {
        match groups.iter_mut().find(|(known, _)| *known == what) {
            Some((_, names)) => names.push(name),
            None => groups.push((what, vec![name])),
        }
    }
    let sentence = |(what, names): (String, Vec<String>)| {
        let each = if names.len() > 1 { "of each, " } else { "" };
        format!("{}: {each}{what}.", names.join("; "))
    };
    groups.into_iter().map(sentence).collect()
}

/// A piece and what of it is no food: its sticks and pins, or the whole of it.
fn taken_out(piece: &PieceFacts, input: &ProofInput) -> Option<(String, String)> {
    let designed = input.design.pieces.iter().find(|designed| designed.name == piece.name);
    let whole = designed.and_then(whole_piece);
    let sticks = piece.picks.chunk_by(|one, next| one.what == next.what).map(|alike| {
        let lengths: Vec<f64> = alike.iter().map(|pick| pick.length).collect();
        let longest = lengths.iter().copied().fold(0.0, f64::max);
        let even = lengths.iter().all(|length| (length - longest).abs() < 0.1);
        let each = if even { "" } else { "up to " };
        let kind = alike.first().map_or("stick", |pick| pick.what);
        format!("{}, {each}{} long", count(alike.len(), kind), length(longest, input.design.unit))
    });
    let parts: Vec<String> = whole.map(str::to_owned).into_iter().chain(sticks).collect();
    (!parts.is_empty()).then(|| (piece.name.clone(), parts.join("; ")))
}

fn whole_piece(piece: &Piece) -> Option<&'static str> {
    match &piece.form {
        Form::Rod(_) => Some("everything that the decorator does not call edible"),
        Form::Solid(solid) => Some(match solid.form {
            SolidForm::Candle => "the candle and its holder",
            SolidForm::Figure => "everything that the decorator does not call edible",
            SolidForm::Flowers => "wires, tape and holders; fresh flowers as a whole",
        }),
        _ => None,
    }
}

fn mind(input: &ProofInput) -> Section {
    let mut section = Section::new("Please mind");
    // Allergens have a section of their own.
    for caution in input.facts.cautions.iter().filter(|caution| caution.about != "allergens") {
        section.entry(caution.text.as_str());
    }
    section.entry(
        "Made by hand: shades differ a little between screen, paper and sugar; sizes can differ by a few millimetres; \
         hand-set patterns, brush marks and joins can be seen from near.",
    );
    section.entry("Where your local food rules say more or otherwise, they hold.");
    section
}

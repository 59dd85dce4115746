//! Everything placed on the cake: where, how large, in which finish.

use super::ProofInput;
use super::section::{Section, Tone};
use crate::design::model::Form;
use crate::design::model::pieces::SolidForm;
use crate::packs::pdf::{Cell, Column, Row, Table};
use crate::packs::words::product;
use crate::proof::facts::PieceFacts;

/// The list of decorations, if there are any.
pub(super) fn section(input: &ProofInput) -> Option<Section> {
    let mut section = Section::new("Decorations");
    section.text(Tone::Remark, "Sizes are width × height × depth of the piece itself.");
    let columns = vec![
        Column::words("Piece", 3.4),
        Column::words("Where", 2.7),
        Column::words("Size", 3.7),
        Column::words("Finish", 2.2),
    ];
    let rows = input.facts.pieces.iter().map(|piece| row(piece, input)).collect();
    section.table(Table { columns, rows });
    (!input.facts.pieces.is_empty()).then_some(section)
}

fn row(piece: &PieceFacts, input: &ProofInput) -> Row {
    let size = product(&[piece.size.width, piece.size.height, piece.size.depth], input.design.unit);
    let dots = piece.finishes.iter().map(|name| input.design.finish(name).colour).collect();
    let finish = Cell { text: piece.finishes.join(", "), dots };
    let kind = kind(piece, input);
    let name = if piece.name.contains(kind) { piece.name.clone() } else { format!("{} ({kind})", piece.name) };
    Row::Cells(vec![name.into(), seat(piece).into(), size.into(), finish])
}

/// What it is, in the customer's words.
fn kind<'a>(piece: &'a PieceFacts, input: &ProofInput) -> &'a str {
    let designed = input.design.pieces.iter().find(|designed| designed.name == piece.name);
    match designed.map(|designed| &designed.form) {
        Some(Form::Scatter(_)) => "balls",
        Some(Form::Rod(_)) => "prop",
        Some(Form::Solid(solid)) => match solid.form {
            SolidForm::Candle => "candle",
            SolidForm::Figure => "figure",
            SolidForm::Flowers => "flowers",
        },
        _ => &piece.kind,
    }
}

fn seat(piece: &PieceFacts) -> String {
    match piece.seat.surface.as_str() {
        "top" => format!("{}, top", piece.seat.on),
        "side" => format!("{}, side", piece.seat.on),
        _ => "board".to_owned(),
    }
}

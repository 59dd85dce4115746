//! `make-list.csv`: UTF-8, as RFC 4180 has it. Lengths in mm, masses in g, each a plain number; a text that a spreadsheet program
//! would take for a formula gets an apostrophe before it.

use super::rows;
use crate::kitchen::{Make, PasteMass};
use crate::packs::PackError;
use crate::packs::kitchen_pack::KitchenInput;

const HEAD: [&str; 13] = [
    "list",
    "for",
    "part",
    "count",
    "size",
    "length_mm",
    "width_mm",
    "thickness_mm",
    "finish",
    "paste",
    "on_cake_g",
    "to_mix_g",
    "sticks",
];

/// The whole file.
pub(super) fn write(input: &KitchenInput, (list, masses): (&[Make], &[PasteMass])) -> Result<Vec<u8>, PackError> {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let failed = |reason: String| PackError::Writer { file: "make-list.csv", reason };
    let head = std::iter::once(HEAD.map(str::to_owned));
    let made = list.iter().map(|make| made(input, make));
    let mixed = masses.iter().map(mixed);
    let sticks = input.facts.sticks.iter().map(|stick| stick_row(input, stick));
    let sheets = input.facts.sheets.iter().map(sheet_row);
    for row in head.chain(made).chain(mixed).chain(sticks).chain(sheets) {
        writer.write_record(&row).map_err(|error| failed(error.to_string()))?;
    }
    writer.into_inner().map_err(|error| failed(error.to_string()))
}

/// A text that no spreadsheet program reckons with: the first character of a formula, and whatever a program might skip before
/// one, is kept from the beginning.
fn safe(text: &str) -> String {
    let risky =
        text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}']);
    if risky { format!("'{text}") } else { text.to_owned() }
}

fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn made(input: &KitchenInput, make: &Make) -> [String; HEAD.len()] {
    let unit = input.cake.design.unit;
    let side = |which: usize| make.sizes.get(which).map(|side| number(side.as_mm())).unwrap_or_default();
    let weighs = |which: usize| make.rolled.and_then(|both| both.get(which).copied()).map(number).unwrap_or_default();
    [
        "make".to_owned(),
        safe(&make.of),
        safe(&make.part),
        make.count.to_string(),
        safe(&rows::size(make, unit)),
        side(0),
        side(1),
        make.thickness.map(|thick| number(thick.as_mm())).unwrap_or_default(),
        safe(&make.finish),
        safe(&make.paste),
        weighs(0),
        weighs(1),
        safe(&rows::picks(make, unit)),
    ]
}

/// A row with some of its cells filled.
fn row(cells: &[(usize, String)]) -> [String; HEAD.len()] {
    let mut row: [String; HEAD.len()] = Default::default();
    for (place, cell) in cells {
        if let Some(slot) = row.get_mut(*place) {
            slot.clone_from(cell);
        }
    }
    row
}

fn mixed(paste: &PasteMass) -> [String; HEAD.len()] {
    row(&[
        (0, "mix".to_owned()),
        (1, safe(&paste.name)),
        (2, paste.colour.to_string()),
        (9, safe(&paste.name)),
        (10, number(paste.on_cake)),
        (11, number(paste.to_mix)),
    ])
}

fn stick_row(input: &KitchenInput, stick: &crate::proof::carrying::StickFacts) -> [String; HEAD.len()] {
    let unit = input.cake.design.unit;
    let size = crate::packs::words::product(&[stick.length, stick.diameter], unit);
    row(&[
        (0, "cut".to_owned()),
        (2, safe(&stick.what)),
        (3, stick.count.to_string()),
        (4, size),
        (5, number(stick.length)),
        (6, number(stick.diameter)),
    ])
}

fn sheet_row(sheet: &crate::proof::facts::SheetFacts) -> [String; HEAD.len()] {
    let on: Vec<&str> = sheet.placed.iter().map(|placed| placed.what.as_str()).collect();
    row(&[
        (0, "print".to_owned()),
        (1, safe(&on.join("; "))),
        (2, format!("sheet {} · {}", sheet.sheet, sheet.size)),
        (3, "1".to_owned()),
        (5, number(sheet.width)),
        (6, number(sheet.height)),
    ])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_typed_becomes_a_formula() {
        for text in ["=1+1", "+49 30", "-x", "@SUM(A1)", "\t=1", "\r=1", "＝1"] {
            assert_eq!(safe(text), format!("'{text}"));
        }
        assert_eq!((safe("rose = red"), safe("")), ("rose = red".to_owned(), String::new()));
        assert_eq!((number(12.50), number(0.0), number(-0.001)), ("12.5".into(), "0".into(), "-0".into()));
    }
}

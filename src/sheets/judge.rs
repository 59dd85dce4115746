//! What is wrong with prints and sheets.

use glam::DVec2;

use super::lay::lacking;
use super::plan::{MOST_PRINTS, MOST_SHEETS, SheetPlan};
use super::prints::{Print, PrintOf};
use crate::cake::Cake;
use crate::design::model::Sheet;
use crate::findings::{Code, Finding};
use crate::measure::{Length, Unit, show_length};

pub(super) fn place(cake: &Cake, print: &Print) -> String {
    match &print.of {
        PrintOf::Piece { piece, .. } => {
            let piece = cake.pieces.get(*piece).and_then(|placed| cake.designed(placed));
            format!("piece '{}'", piece.map_or("", |piece| piece.name.as_str()))
        }
        PrintOf::Strip { .. } => format!("print '{}'", print.name),
    }
}

/// A strip higher than the sheet is told of by the wrap's own plan.
pub(super) fn larger_than_sheet(cake: &Cake, print: &Print, sheet: &Sheet) -> Option<Finding> {
    let says = |mm: f64| show_length(Length::mm(mm), cake.design.unit);
    let size = |size: DVec2, unit: Unit| size.to_array().map(|side| show_length(Length::mm(side), unit)).join(" × ");
    let printable = DVec2::from_array(sheet.printable.map(Length::as_mm));
    if matches!(print.of, PrintOf::Strip { .. }) && print.size.y > printable.max_element() {
        return None;
    }
    let by = lacking(print, sheet);
    let unit = cake.design.unit;
    let outer = print.size + 2.0 * print.bleed;
    let with = if print.bleed > 0.0 { " with its bleed" } else { "" };
    let sentence = format!(
        "{} is {}{with}, the sheet “{}” prints {}: {} too much",
        print.name,
        size(outer, unit),
        print.sheet,
        size(printable, unit),
        says(by)
    );
    let mend = if sheet.turn {
        "make it smaller, or choose a larger sheet"
    } else {
        "make it smaller, choose a larger sheet, or let prints be turned on this one"
    };
    Some(Finding::new(Code::PrintLargerThanSheet, place(cake, print), sentence, mend).by(Length::mm(by)))
}

pub(super) fn too_many(plan: &SheetPlan) -> Finding {
    let sentence = if plan.prints.len() > MOST_PRINTS {
        format!("{} things are to be printed; only the first {MOST_PRINTS} are laid out", plan.prints.len())
    } else {
        format!("the prints need {} sheets; only the first {MOST_SHEETS} are laid out", plan.sheets.len())
    };
    Finding::new(Code::TooManySheets, "sheets", sentence, "check the sizes of the prints and of the sheet")
}

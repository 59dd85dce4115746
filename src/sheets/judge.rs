//! What is wrong with prints and sheets.

use glam::DVec2;

use super::lay::lacking;
use super::plan::{MOST_PRINTS, MOST_SHEETS, SheetPlan};
use super::prints::{Print, PrintOf};
use crate::cake::Cake;
use crate::design::model::Sheet;
use crate::findings::{Code, Finding, Place};
use crate::measure::{Length, Unit, show_length};

pub(super) fn place(cake: &Cake, print: &Print) -> Place {
    match &print.of {
        PrintOf::Piece { piece, .. } => {
            let piece = cake.pieces.get(*piece).and_then(|placed| cake.designed(placed));
            Place::piece(piece.map_or("", |piece| piece.name.as_str()))
        }
        PrintOf::Strip { .. } => format!("print '{}'", print.name).into(),
    }
}

/// A finding for each piece, and one for the longest strip of a wrap.
pub(super) fn larger_than_sheet(cake: &Cake, prints: &[&Print], sheet: &Sheet) -> Vec<Finding> {
    let mut worst: Vec<&Print> = Vec::new();
    for print in prints.iter().filter(|print| !told_by_its_wrap(print, sheet)) {
        match worst.last_mut() {
            Some(last) if same_wrap(last, print) && lacking(last, sheet) < lacking(print, sheet) => *last = print,
            Some(last) if same_wrap(last, print) => {}
            _ => worst.push(print),
        }
    }
    worst.into_iter().map(|print| larger(cake, print, sheet)).collect()
}

fn same_wrap(one: &Print, other: &Print) -> bool {
    let wrap = |print: &Print| if let PrintOf::Strip { plan, .. } = print.of { Some(plan) } else { None };
    wrap(one).is_some() && wrap(one) == wrap(other)
}

fn may_turn(print: &Print, sheet: &Sheet) -> bool {
    sheet.turn && print.turn
}

/// A strip higher than the sheet prints is told of by the wrap's own plan.
fn told_by_its_wrap(print: &Print, sheet: &Sheet) -> bool {
    let [width, tall] = sheet.printable.map(Length::as_mm);
    let height = print.size.y + 2.0 * print.bleed;
    matches!(print.of, PrintOf::Strip { .. }) && height > tall && (!may_turn(print, sheet) || height > width)
}

fn larger(cake: &Cake, print: &Print, sheet: &Sheet) -> Finding {
    let unit = cake.design.unit;
    let size = |size: DVec2| product(&size.to_array(), unit);
    let by = lacking(print, sheet);
    let with = if print.bleed > 0.0 { " with its bleed" } else { "" };
    let sentence = format!(
        "{} is {}{with}, the sheet “{}” prints {}: {} too much",
        print.name,
        size(print.size + 2.0 * print.bleed),
        print.sheet,
        size(DVec2::from_array(sheet.printable.map(Length::as_mm))),
        show_length(Length::mm(by), unit)
    );
    let mend = if may_turn(print, sheet) {
        "make it smaller, or choose a larger sheet"
    } else {
        "make it smaller, choose a larger sheet, or let it be turned on this one"
    };
    Finding::new(Code::PrintLargerThanSheet, place(cake, print), sentence, mend).by(Length::mm(by))
}

fn product(sides: &[f64], unit: Unit) -> String {
    sides.iter().map(|&side| show_length(Length::mm(side), unit)).collect::<Vec<_>>().join(" × ")
}

pub(super) fn too_many(plan: &SheetPlan) -> Finding {
    let sentence = if plan.prints.len() > MOST_PRINTS {
        format!("{} things are to be printed; only the first {MOST_PRINTS} are laid out", plan.prints.len())
    } else {
        format!("the prints need {} sheets; only the first {MOST_SHEETS} are laid out", plan.sheets.len())
    };
    Finding::new(Code::TooManySheets, "sheets", sentence, "check the sizes of the prints and of the sheet")
}

//! Laying prints on sheets: every kind of sheet by itself, with room for names and a rule where that costs no sheet.

use glam::DVec2;

use super::judge::{larger_than_sheet, place, too_many};
use super::nest::{Item, Nesting, Rect, Space, nest, nest_within};
use super::plan::{LABEL, LEGEND, MOST_PRINTS, MOST_SHEETS, Placed, PrintedSheet, SheetPlan};
use super::prints::{Print, PrintOf, prints};
use super::room::{label, legend};
use crate::cake::Cake;
use crate::design::model::Sheet;
use crate::findings::Finding;
use crate::measure::Length;
use crate::wraps::{WrapPlan, resolution};

/// Places looked at while searching for fewer sheets; a few hundredths of a second.
pub const EFFORT: u64 = 500_000;
/// A strip typed as long as the sheet must not fail by rounding, µm.
const ROUNDING: i64 = 10;

/// Lays out everything printed, with what is wrong with it.
#[must_use]
pub fn lay_out(cake: &Cake, plans: &[WrapPlan]) -> (SheetPlan, Vec<Finding>) {
    let mut plan = SheetPlan { prints: prints(cake, plans), sheets: Vec::new() };
    let mut findings = Vec::new();
    let mut kinds: Vec<&str> = Vec::new();
    for print in plan.prints.iter().take(MOST_PRINTS) {
        if !kinds.contains(&print.sheet.as_str()) {
            kinds.push(&print.sheet);
        }
    }
    for kind in kinds {
        let sheet = cake.design.sheet(Some(kind));
        let here = plan.prints.iter().enumerate().take(MOST_PRINTS).filter(|(_, print)| print.sheet == kind);
        let here: Vec<(usize, &Print)> = here.collect();
        let fits = |print: &Print| lacking(print, &sheet) <= 0.0;
        let fitting: Vec<(usize, &Print)> = here.iter().copied().filter(|(_, print)| fits(print)).collect();
        let too_large: Vec<&Print> = here.iter().map(|(_, print)| *print).filter(|print| !fits(print)).collect();
        findings.extend(larger_than_sheet(cake, &too_large, &sheet));
        plan.sheets.extend(lay_kind(kind, sheet, &fitting));
    }
    let bound = plan.sheets.len() > MOST_SHEETS || plan.prints.len() > MOST_PRINTS;
    findings.extend(bound.then(|| too_many(&plan)));
    plan.sheets.truncate(MOST_SHEETS);
    for (sheet, number) in plan.sheets.iter().zip(1..) {
        for placed in &sheet.placed {
            if let Some(print) = plan.prints.get_mut(placed.print) {
                print.on = Some(number);
            }
        }
    }
    let coarse = plan.prints.iter().filter(|print| matches!(print.of, PrintOf::Piece { .. }));
    findings.extend(coarse.filter_map(|print| resolution(print.ppi?, &place(cake, print))));
    (plan, findings)
}

fn lay_kind(kind: &str, sheet: Sheet, prints: &[(usize, &Print)]) -> Vec<PrintedSheet> {
    let space = Space { size: sheet.printable.map(micrometres), gap: micrometres(sheet.gap), reserved: None };
    let bare: Vec<Item> = prints.iter().map(|(_, print)| item(print, 0.0, &sheet)).collect();
    let named: Vec<Item> = prints.iter().map(|(_, print)| item(print, LABEL, &sheet)).collect();
    // What fits only without its words goes without.
    let named: Vec<Item> = named
        .into_iter()
        .zip(&bare)
        .map(|(named, bare)| if lies_in(&named, space.size) { named } else { *bare })
        .collect();
    let fewest = nest(&bare, &space, EFFORT);
    let reserved = [None, Some(false), Some(true)].map(|way| way.map(|turned| legend_reserved(space.size, turned)));
    let [none, lying, standing] = reserved;
    let wishes = [(&named, lying), (&named, standing), (&bare, lying), (&bare, standing), (&named, none)];
    let as_few = |(items, reserved): &(&Vec<Item>, Option<Rect>)| {
        nest_within(items, &Space { reserved: *reserved, ..space }, (EFFORT / 20, fewest.sheets))
    };
    let nesting = wishes.iter().find_map(as_few).unwrap_or_else(|| fewest.clone());
    let mut sheets = sheets_of(&nesting, (kind, sheet), prints);
    for sheet in &mut sheets {
        label(sheet, prints);
        sheet.legend = legend(sheet, prints);
    }
    sheets
}

fn sheets_of(nesting: &Nesting, (kind, sheet): (&str, Sheet), prints: &[(usize, &Print)]) -> Vec<PrintedSheet> {
    let empty = PrintedSheet { kind: kind.to_owned(), sheet, placed: Vec::new(), legend: None };
    let corner = empty.printable().0;
    let mut sheets = vec![empty; nesting.sheets];
    for (place, (number, print)) in nesting.places.iter().zip(prints) {
        let Some(place) = place else { continue };
        let at = DVec2::new(place.at.x as f64, place.at.y as f64) / 1_000.0;
        // A turned print has its foot at the left, and there the room for its words.
        let words = if place.turned { place.at.width as f64 / 1_000.0 - print.size.y - 2.0 * print.bleed } else { 0.0 };
        let placed = Placed {
            print: *number,
            at: corner + at + DVec2::splat(print.bleed) + DVec2::X * words.max(0.0),
            size: if place.turned { DVec2::new(print.size.y, print.size.x) } else { print.size },
            turned: place.turned,
            label: None,
        };
        if let Some(sheet) = sheets.get_mut(place.sheet) {
            sheet.placed.push(placed);
        }
    }
    sheets
}

pub(super) fn micrometres(length: Length) -> i64 {
    (length.as_mm() * 1_000.0).round() as i64
}

/// A print with its bleed, and room for its words below it.
fn item(print: &Print, words: f64, sheet: &Sheet) -> Item {
    let outer = print.size + DVec2::splat(2.0 * print.bleed) + DVec2::Y * words;
    let mut item = Item {
        width: micrometres(Length::mm(outer.x)).max(1),
        height: micrometres(Length::mm(outer.y)).max(1),
        may_turn: sheet.turn && print.turn,
    };
    let [width, height] = sheet.printable.map(micrometres);
    for side in [width, height] {
        for own in [&mut item.width, &mut item.height] {
            if (1..=ROUNDING).contains(&(*own - side)) {
                *own = side;
            }
        }
    }
    item
}

fn lies_in(item: &Item, [width, height]: [i64; 2]) -> bool {
    let (wide, tall) = (item.width, item.height);
    wide <= width && tall <= height || item.may_turn && tall <= width && wide <= height
}

/// How much longer the sheet would have to be for a print, mm; at most zero where it fits.
pub(super) fn lacking(print: &Print, sheet: &Sheet) -> f64 {
    let item = item(print, 0.0, sheet);
    let [width, height] = sheet.printable.map(micrometres);
    let way = |wide: i64, tall: i64| (wide - width).max(tall - height);
    let upright = way(item.width, item.height);
    let least = if item.may_turn { upright.min(way(item.height, item.width)) } else { upright };
    least as f64 / 1_000.0
}

/// The legend's place at the foot of a sheet, or standing at its right.
fn legend_reserved([width, height]: [i64; 2], turned: bool) -> Rect {
    let [long, short] = LEGEND.to_array().map(|side| micrometres(Length::mm(side)));
    if turned {
        Rect { x: width - short, y: 0, width: short, height: long }
    } else {
        Rect { x: 0, y: height - short, width: long, height: short }
    }
}

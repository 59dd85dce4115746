//! Checks figures against one another: what is printed against its sheet, from against to, how many balls in all.

use toml_edit::Document;

use super::place::{Step, place_of};
use super::raw::shortened;
use super::walk::{Walk, report};
use crate::art::MAX_PIXELS;
use crate::design::tree::{Table, Value};
use crate::measure::{Length, MM_PER_INCH};

/// Balls of all scatters together.
const MOST_BALLS: u64 = 20_000;

/// Checks the figures of the whole design.
pub(super) fn check(walk: &mut Walk, tree: &Table, document: &Document<&str>) {
    stretches(walk, tree, document);
    sheets(walk, tree, document);
    balls(walk, tree, document);
    hours(walk, tree, document);
    eye_levels(walk, tree, document);
}

fn stretches(walk: &mut Walk, tree: &Table, document: &Document<&str>) {
    for (tier_number, tier) in tree.tables("tier") {
        for (number, course) in tier.tables("course") {
            let ends = course.take::<Length>("from").zip(course.take("to"));
            if ends.is_none_or(|(from, to)| from < to) {
                continue;
            }
            let tier_steps = [Step::Key("tier"), Step::Number(tier_number)];
            let steps = [&tier_steps[..], &[Step::Key("course"), Step::Number(number), Step::Key("to")]].concat();
            let name = |table: &Table| shortened(table.text("name").unwrap_or_default());
            let place = format!("tier “{}”, course “{}”, to", name(tier), name(course));
            let mend = "swap from and to; a stretch across the back goes on counting beyond half the tape";
            walk.fault_at(
                place,
                place_of(document, &steps),
                report("an end that lies before from", "from before to", mend),
            );
        }
    }
}

fn sheets(walk: &mut Walk, tree: &Table, document: &Document<&str>) {
    let Some(sheets) = tree.table("sheet") else { return };
    for (name, sheet) in sheets.iter().filter_map(|(name, sheet)| Some((name, sheet.table()?))) {
        pixels(walk, (name, sheet), document);
        let pair = |key| sheet.take::<[Length; 2]>(key);
        let fits = |([width, height], [printed_width, printed_height]): ([Length; 2], [Length; 2])| {
            printed_width <= width && printed_height <= height
        };
        if pair("size").zip(pair("printable")).is_none_or(fits) {
            continue;
        }
        let span = place_of(document, &[Step::Key("sheet"), Step::Key(name), Step::Key("printable")]);
        let found = "more than the sheet itself";
        let mend = "write the width and height that the printer reaches, in the order of the size";
        let place = format!("sheet “{}”, printable", shortened(name));
        walk.fault_at(place, span, report(found, "at most the size of the sheet", mend));
    }
}

/// A sheet is painted whole, so its pixels are bounded as a picture's are.
fn pixels(walk: &mut Walk, (name, sheet): (&str, &Table), document: &Document<&str>) {
    let Some((size, ppi)) = sheet.take::<[Length; 2]>("size").zip(sheet.take::<u32>("ppi")) else { return };
    let side = |length: Length| length.as_mm() / MM_PER_INCH * f64::from(ppi);
    let pixels = size.map(side).iter().product::<f64>();
    if pixels <= MAX_PIXELS as f64 {
        return;
    }
    let span = place_of(document, &[Step::Key("sheet"), Step::Key(name), Step::Key("ppi")]);
    let found = format!("{:.0} million pixels on one sheet", pixels / 1e6);
    let expected = format!("at most {} million", MAX_PIXELS / 1_000_000);
    let mend = "lower ppi, or make the sheet smaller";
    walk.fault_at(format!("sheet “{}”, ppi", shortened(name)), span, report(found, expected, mend));
}

fn balls(walk: &mut Walk, tree: &Table, document: &Document<&str>) {
    let mut all = 0;
    for (number, piece) in tree.tables("piece") {
        let Some(sizes) = piece.take::<Vec<(Length, u64)>>("sizes") else { continue };
        all += sizes.iter().map(|(_, count)| count).sum::<u64>();
        if all > MOST_BALLS {
            let span = place_of(document, &[Step::Key("piece"), Step::Number(number), Step::Key("sizes")]);
            let found = format!("the {all}th ball of all scatters together");
            let place = format!("piece “{}”, sizes", shortened(piece.text("name").unwrap_or_default()));
            walk.fault_at(place, span, report(found, format!("at most {MOST_BALLS}"), "scatter fewer balls"));
            return;
        }
    }
}

fn hours(walk: &mut Walk, tree: &Table, document: &Document<&str>) {
    let Some(Value::List(hours)) = tree.table("kitchen").and_then(|kitchen| kitchen.get("working_hours")) else {
        return;
    };
    let [Value::Text(first), Value::Text(last)] = hours.as_slice() else { return };
    // Clock times of one form are in order as texts.
    if first >= last {
        let span = place_of(document, &[Step::Key("kitchen"), Step::Key("working_hours")]);
        let found = format!("working hours from {first} to {last}");
        let mend = "write the first hour first, for example [\"09:00\", \"17:00\"]";
        walk.fault_at("kitchen, working_hours".to_owned(), span, report(found, "the first hour before the last", mend));
    }
}

fn eye_levels(walk: &mut Walk, tree: &Table, document: &Document<&str>) {
    let Some((from, to)) = tree.table("viewing").and_then(|viewing| viewing.take::<(f64, f64)>("down")) else { return };
    if from > to {
        let span = place_of(document, &[Step::Key("viewing"), Step::Key("down")]);
        let mend = "write the smaller angle first, for example [10, 35]";
        let found = format!("a look down from {from} to {to} degrees");
        walk.fault_at("viewing, down".to_owned(), span, report(found, "the first at most the second", mend));
    }
}

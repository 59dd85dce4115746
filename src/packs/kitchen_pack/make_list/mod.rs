//! `make-list.pdf` and `make-list.csv`: everything to make, to mix, to cut and to print; what to do when; portions and price.

mod plan;
mod price;
mod rows;
mod spreadsheet;

use super::{KitchenInput, PackError, PackFile, front};
use crate::art::Colour;
use crate::kitchen::{Make, PasteMass, Schedule, covering, making, pastes};
use crate::measure::Length;
use crate::packs::pdf::{Cell, Column, Flow, Row, Style, Table, paper_of};
use crate::packs::words::{count, length};

/// Both files.
pub(super) fn files(input: &KitchenInput, plan: Option<&Schedule>) -> Result<Vec<PackFile>, PackError> {
    let list = making(input.cake, input.patterns.0);
    let masses = pastes(input.cake);
    let title = format!("{} · make list", input.facts.title);
    let mut flow = Flow::new(&title, &input.facts.revision, paper_of(&input.cake.design));
    head(&mut flow, input);
    make(&mut flow, input, &list);
    mix(&mut flow, input, &masses);
    sticks(&mut flow, input, &list);
    sheets(&mut flow, input);
    plan::set(&mut flow, input, plan);
    price::set(&mut flow, input);
    let csv = spreadsheet::write(input, (&list, &masses))?;
    Ok(vec![("make-list.pdf".to_owned(), flow.finish()?), ("make-list.csv".to_owned(), csv)])
}

fn head(flow: &mut Flow, input: &KitchenInput) {
    let order = &input.cake.design.order;
    front::set(flow, input);
    let due = order.handover.map_or_else(
        || "no hand-over date set".to_owned(),
        |moment| format!("hand-over {}", crate::packs::words::moment(moment)),
    );
    let told = [order.event.as_str(), order.customer.as_str(), due.as_str()];
    let told: Vec<&str> = told.into_iter().filter(|part| !part.trim().is_empty()).collect();
    flow.paragraph(&told.join(" · "), Style::REMARK);
}

fn dots(input: &KitchenInput, finish: &str) -> Vec<Colour> {
    if finish.is_empty() { Vec::new() } else { vec![input.cake.design.finish(finish).colour] }
}

/// Everything to make.
fn make(flow: &mut Flow, input: &KitchenInput, list: &[Make]) {
    flow.section("To make", 40.0);
    flow.paragraph("Sizes as cut or rolled: length × width, or across. Templates have the outlines.", Style::REMARK);
    let columns = vec![
        Column::words("For", 3.6),
        Column::words("Part", 2.6),
        Column::figures("No.", 0.9),
        Column::figures("Size", 3.0),
        Column::figures("Thick", 1.5),
        Column::words("Finish, paste", 3.2),
    ];
    let row = |make: &Make| {
        let made = rows::made_in(make);
        let made = Cell {
            text: made,
            dots: if make.finish.starts_with('#') { Vec::new() } else { dots(input, &make.finish) },
        };
        Row::Cells(vec![
            make.of.as_str().into(),
            make.part.as_str().into(),
            make.count.to_string().into(),
            rows::size(make, input.cake.design.unit).into(),
            rows::thick(make, input.cake.design.unit).into(),
            made,
        ])
    };
    // Sticks have a table of their own.
    let rows = list.iter().filter(|make| !make.sizes.is_empty()).map(row).collect();
    let area = flow.column();
    flow.table(&Table { columns, rows }, area);
}

fn grams(mass: f64) -> String {
    format!("{mass:.0} g")
}

/// What to mix, and what of it is covering.
fn mix(flow: &mut Flow, input: &KitchenInput, masses: &[PasteMass]) {
    if masses.is_empty() {
        return;
    }
    flow.section("Pastes to mix", 30.0);
    let columns =
        vec![Column::words("Paste", 4.0), Column::figures("On the cake", 2.0), Column::figures("To mix", 2.0)];
    let row = |paste: &PasteMass| {
        let name = Cell { text: format!("{} {}", paste.name, paste.colour), dots: vec![paste.colour] };
        Row::Cells(vec![name, grams(paste.on_cake).into(), grams(paste.to_mix).into()])
    };
    let area = flow.column();
    flow.table(&Table { columns, rows: masses.iter().map(row).collect() }, area);
    let told = "To mix: what lies on the cake and the waste of rolling and cutting; coverings as far as they are rolled out. Trimmings \
                can be kneaded again.";
    flow.paragraph(told, Style::REMARK);
    let covered: Vec<_> = input.cake.tiers.iter().filter(|tier| tier.paste > Length::ZERO).collect();
    if covered.is_empty() {
        return;
    }
    let columns = vec![
        Column::words("Covering of", 4.0),
        Column::figures("On the cake", 2.0),
        Column::figures("To roll out", 2.0),
    ];
    let row = |tier: &&crate::cake::CakeTier| {
        let weighs = covering(&input.cake.design, tier);
        let name = Cell { text: format!("{} ({})", tier.name, tier.finish), dots: dots(input, &tier.finish) };
        Row::Cells(vec![name, grams(weighs.on_cake).into(), grams(weighs.rolled).into()])
    };
    let area = flow.column();
    flow.table(&Table { columns, rows: covered.iter().map(row).collect() }, area);
}

/// Dowels, sticks and pins: which piece has which, and how many of each to cut.
fn sticks(flow: &mut Flow, input: &KitchenInput, list: &[Make]) {
    if input.facts.sticks.is_empty() {
        return;
    }
    let unit = input.cake.design.unit;
    flow.section("Dowels, sticks, pins", 30.0);
    let columns = vec![
        Column::words("Cut", 3.0),
        Column::figures("No.", 1.0),
        Column::figures("Across", 2.0),
        Column::figures("Length", 2.0),
    ];
    let row = |stick: &crate::proof::carrying::StickFacts| {
        Row::Cells(vec![
            stick.what.as_str().into(),
            stick.count.to_string().into(),
            length(stick.diameter, unit).into(),
            length(stick.length, unit).into(),
        ])
    };
    let area = flow.column();
    flow.table(&Table { columns, rows: input.facts.sticks.iter().map(row).collect() }, area);
    for make in list.iter().filter(|make| !make.picks.is_empty()) {
        flow.entry(&format!("{}: {}", make.of, rows::picks(make, unit)));
    }
    flow.paragraph(
        "Food-safe sticks only, or sleeved. Count them going in and coming out, before anyone eats.",
        Style::REMARK,
    );
}

/// What is printed on which sheet.
fn sheets(flow: &mut Flow, input: &KitchenInput) {
    if input.facts.sheets.is_empty() {
        return;
    }
    flow.section("Printed sheets", 24.0);
    let columns = vec![Column::words("Sheet", 2.0), Column::words("On it", 8.0), Column::figures("Used", 1.2)];
    let row = |sheet: &crate::proof::facts::SheetFacts| {
        let on: Vec<&str> = sheet.placed.iter().map(|placed| placed.what.as_str()).collect();
        let name = format!("{} of {} · {}", sheet.sheet, input.facts.sheets.len(), sheet.size);
        Row::Cells(vec![name.into(), on.join("; ").into(), format!("{:.0} %", sheet.used * 100.0).into()])
    };
    let area = flow.column();
    flow.table(&Table { columns, rows: input.facts.sheets.iter().map(row).collect() }, area);
    flow.paragraph(
        &format!("{} to print, from sheets.pdf at actual size.", count(input.facts.sheets.len(), "sheet")),
        Style::REMARK,
    );
}

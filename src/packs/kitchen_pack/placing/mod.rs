//! `placing.pdf`: in which order everything goes on the cake, and where, as a tape measure reads it.
//!
//! `words` tells a step; `dial` draws tops and board from above, with rings and a clock; `dowels` and `cutting` draw where dowels
//! stand and how it is cut; the tapes come last, each on a page of its own.

mod cutting;
mod dial;
mod dowels;
mod tags;
mod words;

use super::{KitchenInput, PackError, PackFile, front};
use crate::kitchen::{Placing, Spot, placing};
use crate::packs::pdf::{Column, Flow, Frame, Page, Row, Style, Table, lay_chart, paper_of, paper_size};

/// Above a tape, and below it for the footer, mm; it has margins of its own, and its scale is told on it.
const ROUND: [f64; 2] = [3.0, 13.0];

/// The file.
pub(super) fn files(input: &KitchenInput) -> Result<Vec<PackFile>, PackError> {
    let design = &input.cake.design;
    let title = format!("{} · placing", input.facts.title);
    let mut flow = Flow::new(&title, &input.facts.revision, paper_of(design));
    front::set(&mut flow, input);
    let steps = placing(input.cake);
    order(&mut flow, input, &steps);
    dial::set(&mut flow, input, &steps);
    dowels::set(&mut flow, input);
    cutting::set(&mut flow, input);
    tapes(&mut flow, input)?;
    Ok(vec![("placing.pdf".to_owned(), flow.finish()?)])
}

/// Every step, numbered.
fn order(flow: &mut Flow, input: &KitchenInput, steps: &[Placing]) {
    flow.section("In this order", 40.0);
    let told = "Right and left, front and back are the customer's. On a side: the piece's middle, along a tape that reads 0 at front \
                centre, and up from the board. From above: from the middle of what it stands on; 6 o'clock is the front.";
    flow.paragraph(told, Style::REMARK);
    let columns = vec![
        Column::figures("No.", 0.8),
        Column::words("What", 3.2),
        Column::words("Where", 6.0),
        Column::words("Turn", 2.6),
        Column::words("Stuck with", 2.0),
    ];
    let mut rows = Vec::new();
    let mut on = None;
    for (step, number) in steps.iter().zip(1..) {
        let seat = step.piece.map(|_| &step.on);
        if seat != on {
            rows.extend(seat.map(|seat| Row::Group(format!("on {}", words::seat(seat)))));
        }
        on = seat;
        rows.push(Row::Cells(vec![
            number.to_string().into(),
            step.what.as_str().into(),
            words::place(input.cake, step).into(),
            words::turn(step).into(),
            step.stuck_with.clone().unwrap_or_else(|| "–".to_owned()).into(),
        ]));
    }
    let area = flow.column();
    flow.table(&Table { columns, rows }, area);
    if steps.iter().any(|step| step.piece.is_some() && step.stuck_with.is_none()) {
        let told = "–: the design doesn't say. Set stuck_with for a piece, or for all under [kitchen].";
        flow.paragraph(told, Style::REMARK);
    }
    if steps.iter().any(|step| matches!(step.spot, Spot::Side { .. })) {
        flow.paragraph("The tapes at the end show each side unrolled, to scale.", Style::REMARK);
    }
}

/// The tapes, each on a page lying on its side.
fn tapes(flow: &mut Flow, input: &KitchenInput) -> Result<(), PackError> {
    let [short, long] = paper_size(paper_of(&input.cake.design));
    for (chart, tier) in input.tapes.iter().zip(&input.cake.tiers) {
        let [above, below] = ROUND;
        // A tier with more to show than a page holds gets a higher one rather than another scale.
        let height = short.max(chart.size.y + above + below);
        let mut page = Page::new([long, height]);
        let frame = Frame { x: (long - chart.size.x) / 2.0, y: above, width: chart.size.x, height: chart.size.y };
        lay_chart(&mut page, chart, frame)?;
        flow.leaf(&format!("{}, unrolled", tier.name), page);
    }
    Ok(())
}

//! The plan as a page: day by day, what to do when, and what dries meanwhile.

use crate::kitchen::{Doing, Schedule, Step};
use crate::packs::kitchen_pack::KitchenInput;
use crate::packs::pdf::{Column, Flow, Row, Style, Table};
use crate::packs::words::{clock, day, moment};

/// Sets the plan; without a hand-over it says what is missing.
pub(super) fn set(flow: &mut Flow, input: &KitchenInput, plan: Option<&Schedule>) {
    flow.section("What to do when", 40.0);
    let Some(plan) = plan else {
        let told = "No plan: the design has no hand-over date. Set handover under [order], and the plan is made backwards from it.";
        flow.paragraph(told, Style::STRONG);
        return;
    };
    let [from, to] = plan.hours.map(clock);
    let whose = if input.cake.design.kitchen.working_hours.is_some() { "" } else { " (usual hours: none are set)" };
    let told = format!(
        "Planned backwards from the hand-over, {}, as late as drying allows, by one person from {from} to {to}{whose}. About {:.1} \
         hours of work. How long things take is common practice, not measured in your kitchen: change what you know better.",
        moment(plan.handover),
        plan.minutes as f64 / 60.0
    );
    flow.paragraph(&told, Style::REMARK);
    let columns = vec![
        Column::figures("From", 1.4),
        Column::figures("To", 2.6),
        Column::words("Do", 3.6),
        Column::words("For", 6.0),
    ];
    let mut rows = Vec::new();
    let mut today = None;
    for step in &plan.steps {
        let date = step.start.date();
        if today != Some(date) {
            rows.push(Row::Group(day(date)));
            today = Some(date);
        }
        rows.push(row(step));
    }
    let handed = plan.handover;
    if today != Some(handed.date()) {
        rows.push(Row::Group(day(handed.date())));
    }
    rows.push(Row::Cells(vec![
        clock(handed.time()).into(),
        "".into(),
        "hand-over".into(),
        input.facts.title.as_str().into(),
    ]));
    let area = flow.column();
    flow.table(&Table { columns, rows }, area);
}

fn row(step: &Step) -> Row {
    let same = step.start.date() == step.end.date();
    let end = if same { clock(step.end.time()) } else { crate::packs::words::short_moment(step.end) };
    let what = if step.doing == Doing::Dry { format!("({})", step.task) } else { step.task.clone() };
    let of = if step.of.is_empty() { "the whole cake" } else { &step.of };
    Row::Cells(vec![clock(step.start.time()).into(), end.into(), what.into(), of.into()])
}

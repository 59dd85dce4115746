//! The price as reckoned from the person's own rates; what is not set is said.

use crate::packs::kitchen_pack::KitchenInput;
use crate::packs::pdf::{Column, Flow, Row, Style, Table};
use crate::packs::words::{list, money};

/// Sets the reckoning.
pub(super) fn set(flow: &mut Flow, input: &KitchenInput) {
    let price = &input.facts.price;
    flow.section("Price", 30.0);
    let money = |amount: f64| money(amount, price.currency.as_deref());
    if !price.lines.is_empty() {
        let columns = vec![Column::words("", 3.0), Column::words("Reckoned", 5.0), Column::figures("Amount", 2.4)];
        let mut rows: Vec<Row> = price
            .lines
            .iter()
            .map(|line| {
                Row::Cells(vec![line.what.as_str().into(), line.how.as_str().into(), money(line.amount).into()])
            })
            .collect();
        rows.push(Row::Cells(vec!["cost".into(), "all of these".into(), money(price.cost).into()]));
        if let Some((gain, total)) = price.gain.as_ref().zip(price.total) {
            rows.push(Row::Cells(vec![gain.kind.into(), gain.how.as_str().into(), money(total - price.cost).into()]));
        }
        if let Some(total) = price.total {
            rows.push(Row::Cells(vec!["price".into(), "".into(), money(total).into()]));
        }
        let area = flow.column();
        flow.table(&Table { columns, rows }, area);
    }
    if !price.missing.is_empty() {
        let missing: Vec<String> = price.missing.iter().map(|key| (*key).to_owned()).collect();
        let told = format!("No price: {} not set under [kitchen] of the design. Nothing is guessed.", list(&missing));
        flow.paragraph(&told, Style::STRONG);
    } else if price.gain.is_none() {
        flow.paragraph("Neither markup nor margin is set: the price is the cost.", Style::REMARK);
    }
    let told =
        "A markup is a share of the cost, a margin a share of the price: 50 % markup leaves a margin of 33 1/3 %.";
    flow.paragraph(told, Style::REMARK);
}

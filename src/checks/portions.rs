//! `portions-short`: fewer slices than were ordered.

use crate::cake::Cake;
use crate::findings::{Code, Finding};
use crate::kitchen::portions;

pub(super) fn check(cake: &Cake) -> Vec<Finding> {
    let order = &cake.design.order;
    let Some(wanted) = order.portions else { return Vec::new() };
    let count: u32 = cake.tiers.iter().map(|tier| portions(tier, order.slice.into())).sum();
    if count >= wanted {
        return Vec::new();
    }
    let sentence = format!("it cuts into {count} portions, {wanted} were ordered");
    let mend = "a larger pan, one more tier, smaller slices, or a plain cake beside it";
    vec![Finding::new(Code::PortionsShort, "order", sentence, mend)]
}

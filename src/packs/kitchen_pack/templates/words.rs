//! The words on templates.

use crate::cake::pieces::Paint;
use crate::design::Design;
use crate::kitchen::Pattern;
use crate::measure::Unit;
use crate::packs::kitchen_pack::KitchenInput;
use crate::packs::words::{product, rolled};

/// Most pieces that are named on one template.
const MOST_NAMED: usize = 3;

/// `lighthouse · front`, `red tile, blue tile and 4 more · plate`.
pub(super) fn name(pattern: &Pattern) -> String {
    let named = pattern.of.iter().take(MOST_NAMED).map(String::as_str).collect::<Vec<_>>().join(", ");
    let more = pattern.of.len().saturating_sub(MOST_NAMED);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("{named}{more} · {}", pattern.template.what)
}

/// How many, how thick, in what, how large.
pub(super) fn details(pattern: &Pattern, input: &KitchenInput) -> String {
    let (template, unit) = (&pattern.template, input.cake.design.unit);
    let size = product(&template.size().to_array(), unit);
    let made = made_of(&template.paint, &input.cake.design);
    format!("cut {} · {} · {made} · {size} · {}", template.count, thick(pattern, unit), revision(input))
}

/// `1/8 in thick`.
pub(super) fn thick(pattern: &Pattern, unit: Unit) -> String {
    format!("{} thick", rolled(pattern.template.thickness.as_mm(), unit))
}

/// `gold, from yellow paste`; `colour #143a52`.
pub(super) fn made_of(paint: &Paint, design: &Design) -> String {
    match paint {
        Paint::Finish(finish) => {
            let paste = design.paste_of(finish).0;
            if paste == *finish { format!("{finish} paste") } else { format!("{finish}, from {paste} paste") }
        }
        Paint::Plain(colour, _) => format!("colour {colour}"),
    }
}

/// `revision 3fa9c1d0`.
pub(super) fn revision(input: &KitchenInput) -> String {
    format!("revision {}", input.facts.revision)
}

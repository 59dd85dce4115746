//! The kitchen pack: what the decorator works from, each file handed over as it is made.
//!
//! In: the measurements, the cake with its planned wraps, and the sheets they are printed on. Out: file names and bytes.
//! One folder or file here for each thing that is made; [`kitchen_pack`] is the list.

mod front;
mod make_list;
mod placing;
mod sheets;
mod templates;

use super::ics::{Calendar, ics};
use super::{Keep, PackError, PackFile, measurements};
use crate::cake::Cake;
use crate::kitchen::{Pattern, Schedule, schedule};
use crate::proof::chart::Chart;
use crate::proof::facts::Facts;
use crate::sheets::SheetPlan;
use crate::wraps::WrapPlan;

/// What a kitchen pack is made from.
#[derive(Clone, Copy, Debug)]
pub struct KitchenInput<'a> {
    /// The measurements.
    pub facts: &'a Facts,
    /// The resolved cake.
    pub cake: &'a Cake,
    /// Its planned wraps.
    pub plans: &'a [WrapPlan],
    /// What is printed on which sheet.
    pub sheets: &'a SheetPlan,
    /// What is cut from rolled paste, and how many patterns found no room in the list.
    pub patterns: (&'a [Pattern], usize),
    /// The side of each tier unrolled, from the board up.
    pub tapes: &'a [Chart],
}

/// The folders below a pack's own that its files lie in, and its own.
pub const PACK_FOLDERS: [&str; 3] = ["", "sheets", "templates"];

/// Whether a kitchen pack may hold a file of this name.
#[must_use]
pub fn is_of_pack(name: &str) -> bool {
    const FILES: [&str; 7] = [
        "sheets.pdf",
        "sheets-mirrored.pdf",
        "templates.pdf",
        "make-list.pdf",
        "make-list.csv",
        "placing.pdf",
        "plan.ics",
    ];
    FILES.contains(&name) || name.starts_with("sheets/sheet-") || name.starts_with("templates/")
}

/// The whole pack: `sheets.pdf`, `sheets-mirrored.pdf` and `sheets/*.png` where anything is printed; `templates.pdf` and
/// `templates/*.svg`; `make-list.pdf` and `make-list.csv`; `placing.pdf`; `plan.ics` where there is a hand-over; `measurements.json`.
/// `keep` is given each file as it is made, so that no more than one need be held; `tell` hears how many of how many steps are
/// done.
///
/// # Errors
/// Whatever stops one of the files; then there is no pack.
pub fn kitchen_pack(
    input: &KitchenInput,
    keep: &mut Keep<'_>,
    tell: &mut dyn FnMut(u64, u64),
) -> Result<(), PackError> {
    sheets::files(input, keep, tell)?;
    let plan = schedule(input.cake, input.sheets.sheets.len());
    let others = [templates::files(input)?, make_list::files(input, plan.as_ref())?, placing::files(input)?];
    for (name, bytes) in others.into_iter().flatten() {
        keep(name, bytes)?;
    }
    if let Some((name, bytes)) = plan.as_ref().map(|plan| calendar(input, plan)) {
        keep(name, bytes)?;
    }
    let (name, bytes) = measurements(input.facts)?;
    keep(name, bytes)
}

/// `plan.ics`, stamped with the day it was planned, else that of the hand-over.
fn calendar(input: &KitchenInput, plan: &Schedule) -> PackFile {
    let planned_on = input.cake.design.order.planned_on.unwrap_or(plan.handover.date());
    let calendar = Calendar { title: &input.facts.title, revision: &input.facts.revision, plan, planned_on };
    ("plan.ics".to_owned(), ics(&calendar))
}

#[cfg(test)]
mod tests;

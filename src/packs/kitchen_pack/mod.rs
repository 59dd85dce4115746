//! The kitchen pack: what the decorator works from, made in memory.
//!
//! In: the measurements, the cake with its planned wraps, and the sheets they are printed on. Out: file names and bytes.
//! One folder or file here for each thing that is made; [`kitchen_pack`] is the list.

mod sheets;

pub use sheets::sheet_files;

use super::{PackError, PackFile, measurements};
use crate::cake::Cake;
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
}

/// The whole pack: `sheets.pdf`, `sheets-mirrored.pdf` and `sheets/*.png` where anything is printed; `measurements.json`.
/// `tell` hears how many of how many steps are done.
///
/// # Errors
/// Whatever stops one of the files; then there is no pack.
pub fn kitchen_pack(input: &KitchenInput, tell: &mut dyn FnMut(u64, u64)) -> Result<Vec<PackFile>, PackError> {
    let mut files = sheets::files(input, tell)?;
    files.push(measurements(input.facts)?);
    Ok(files)
}

#[cfg(test)]
mod tests;

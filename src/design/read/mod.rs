//! Reads `cake.toml`: text → TOML → the tree, checked against the description → names and seats → the design.
//!
//! Everything that is wrong is told at once, each with its line and column; a design is only given when nothing is.

mod figures;
mod names;
mod place;
mod raw;
mod rules;
mod scalar;
mod seats;
mod walk;

use toml_edit::Document;

use super::fields::FORMAT;
use super::model::{Design, Piece, Target};
use super::problem::{Fault, Problems};
use super::tree::{Leaf, Record, Table};
use crate::measure::Unit;
use walk::Walk;

/// Bytes of the largest design file.
pub const LARGEST_FILE: u64 = 4 << 20;

/// Reads a design from its text; `file` only names it in problems.
///
/// # Errors
/// Lists everything that is wrong with it, each with place and mend.
pub fn read_design(text: &str, file: &str) -> Result<Design, Problems> {
    read(text, None).map_err(|(faults, more)| Problems::new(file, text, faults, more))
}

/// The same with bare numbers counted in a unit that may differ from the file's own; `None` where it can't be read.
pub(super) fn read_counted_in(text: &str, unit: Unit) -> Option<Design> {
    read(text, Some(unit)).ok()
}

fn read(text: &str, unit: Option<Unit>) -> Result<Design, (Vec<Fault>, usize)> {
    let alone = |fault| (vec![fault], 0);
    if text.len() as u64 > LARGEST_FILE {
        return Err(alone(too_large(text.len())));
    }
    let document = Document::parse(text).map_err(|error| alone(syntax(&error)))?;
    if let Some(fault) = newer_format(&document) {
        return Err(alone(fault));
    }
    let mut walk = Walk::new(unit.unwrap_or_else(|| named_unit(&document)));
    let tree = walk.design(document.as_table());
    names::check(&mut walk, &tree, &document);
    seats::check(&mut walk, &tree, &document);
    figures::check(&mut walk, &tree, &document);
    let (faults, more) = walk.into_faults();
    if !faults.is_empty() {
        return Err((faults, more));
    }
    Design::from_table(&tree).map(settled).ok_or_else(|| alone(disagreement(&tree)))
}

/// Tells seats on tiers from seats on pieces, now that all names are known.
pub(super) fn settled(mut design: Design) -> Design {
    let tiers: Vec<&str> = design.tiers.iter().map(|tier| tier.name.as_str()).collect();
    design.pieces.iter_mut().for_each(|piece| settle_seat(piece, &tiers));
    design
}

/// Tells whether a piece sits on one of these tiers or on another piece.
pub(super) fn settle_seat(piece: &mut Piece, tiers: &[&str]) {
    if let Target::Tier(name) = &piece.seat.on
        && !tiers.contains(&name.as_str())
    {
        piece.seat.on = Target::Piece(name.clone());
    }
}

/// The unit that the file names; inches while it names none, which is a problem of its own.
fn named_unit(document: &Document<&str>) -> Unit {
    let word = document.get("unit").and_then(|item| item.as_str()).unwrap_or_default();
    Unit::from_value(&super::tree::Value::Text(word.to_owned())).unwrap_or_default()
}

fn too_large(size: usize) -> Fault {
    Fault {
        span: 0..0,
        place: String::new(),
        found: format!("a file of {size} bytes"),
        expected: format!("at most {LARGEST_FILE} bytes"),
        mend: "check that this is a design file; a picture belongs beside it, not in it".to_owned(),
    }
}

fn syntax(error: &toml_edit::TomlError) -> Fault {
    Fault {
        span: error.span().unwrap_or(0..0),
        place: String::new(),
        found: format!("something that is not TOML ({})", error.message().replace('\n', ", ")),
        expected: "lines such as size = 7 or name = \"base\"".to_owned(),
        mend: "check this line for a missing quote, bracket or equals sign, or a key written twice".to_owned(),
    }
}

fn newer_format(document: &Document<&str>) -> Option<Fault> {
    let item = document.get("format")?;
    let found = item.as_integer().filter(|&format| format > FORMAT.cast_signed())?;
    Some(Fault {
        span: item.span().unwrap_or(0..0),
        place: "format".to_owned(),
        found: format!("format {found}, made by a newer version of this program"),
        expected: format!("format {FORMAT} or older"),
        mend: "update this program; nothing in the file was changed".to_owned(),
    })
}

/// The description let something through that the model can't hold: a fault of this program, never of the file.
fn disagreement(tree: &Table) -> Fault {
    let title = tree.text("title").unwrap_or_default();
    Fault {
        span: 0..0,
        place: String::new(),
        found: format!("the design “{title}”, which passes every check and yet can't be held"),
        expected: "a design".to_owned(),
        mend: "this is a fault of the program: please report it with the file".to_owned(),
    }
}

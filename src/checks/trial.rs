//! What every rule is tried on in its tests.

use std::sync::Arc;

use crate::art::{Art, Shelf};
use crate::cake::{Cake, resolve};
use crate::design::read_design;
use crate::findings::{Code, Finding};

/// A square plate of art, as wide as it is high.
const SQUARE: &str =
    r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><path fill="#c00" d="M5 5H95V95H5Z"/></svg>"##;

/// A cake from the tables of its design, in mm; the art `square.svg` lies beside it.
pub(super) fn cake(tables: &str) -> Cake {
    let text = format!("title = \"t\"\nunit = \"mm\"\n{tables}");
    let design = read_design(&text, "cake.toml").unwrap_or_else(|problems| panic!("{problems}"));
    let mut shelf = Shelf::default();
    shelf.insert("square.svg", Arc::new(Art::read(SQUARE.as_bytes(), "square.svg").unwrap()));
    resolve(&Arc::new(design), &Arc::new(shelf)).unwrap()
}

/// Those of one code.
pub(super) fn found(findings: &[Finding], code: Code) -> Vec<Finding> {
    findings.iter().filter(|finding| finding.code == code).cloned().collect()
}

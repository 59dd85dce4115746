//! Writes a design back into its file: what did not change keeps its text and its comments.
//!
//! ```text
//!   old text --read--> old tree --\
//!                                  > compare along the description; only what differs is replaced in the old text
//!   design ----------> new tree --/
//! ```

mod fresh;
mod merge;
mod order;
mod values;

use toml_edit::DocumentMut;

use super::model::Design;
use super::read::{read_counted_in, read_design};
use super::tree::Record;

/// The text of a design. `previous` is the file as it stands: its unchanged values and comments are kept.
///
/// An unchanged design gives the identical text. Reading the text gives the identical design, as long as the design is
/// one that a file can hold.
#[must_use]
pub fn write_design(design: &Design, previous: Option<&str>) -> String {
    let merged = previous.and_then(|text| merged(design, text));
    merged.unwrap_or_else(|| fresh::document(&design.to_table(), design.unit).to_string())
}

/// The previous text with what changed; `None` where it can't be read, or doesn't take the changes as they are meant.
fn merged(design: &Design, previous: &str) -> Option<String> {
    // Bare numbers of the old text are counted in the new unit: those that thereby mean something else are replaced.
    let (old, new) = (read_counted_in(previous, design.unit)?.to_table(), design.to_table());
    if old == new {
        return Some(previous.to_owned());
    }
    let mut document: DocumentMut = previous.parse().ok()?;
    merge::design(document.as_table_mut(), (&old, &new), design.unit);
    order::settle(document.as_table_mut());
    let text = document.to_string();
    (read_design(&text, "").ok()? == *design).then_some(text)
}

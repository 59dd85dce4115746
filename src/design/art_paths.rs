//! The art and fonts a design names, and problems with it, said at the line that names it.

use std::fmt::Display;
use std::ops::Range;

use super::Design;
use super::model::CourseKind;
use super::problem::{Fault, Problems};

impl Design {
    /// Every path of art or of a font that the design names, once each, in order.
    #[must_use]
    pub fn art_paths(&self) -> Vec<&str> {
        let wraps = self.tiers.iter().flat_map(|tier| &tier.courses).filter_map(|course| match &course.kind {
            CourseKind::Wrap(wrap) => Some(wrap.art.as_str()),
            _ => None,
        });
        let pieces = self.pieces.iter().flat_map(|piece| piece.form.art().into_iter().chain(piece.form.font()));
        let mut paths: Vec<&str> = wraps.chain(pieces).collect();
        paths.sort_unstable();
        paths.dedup();
        paths
    }
}

/// Problems with art that a design file names: each path with what is wrong with it.
#[must_use]
pub fn art_problems(file: &str, text: &str, wrong: &[(&str, &dyn Display)]) -> Problems {
    let faults = wrong.iter().map(|(path, reason)| Fault {
        span: named_at(text, path),
        place: "art".to_owned(),
        found: format!("“{path}”"),
        expected: "a PNG, JPEG or SVG file (for letters, a font) inside the design's folder".to_owned(),
        mend: reason.to_string(),
    });
    Problems::new(file, text, faults.collect(), 0)
}

/// Where a text names a path: the first quoted place, else its beginning.
fn named_at(text: &str, path: &str) -> Range<usize> {
    let quoted = ['"', '\''].map(|mark| format!("{mark}{path}{mark}"));
    let found = quoted.iter().find_map(|quoted| text.find(quoted).map(|start| start..start + quoted.len()));
    found.unwrap_or(0..0)
}

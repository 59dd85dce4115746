//! Paper sizes and margins.

use crate::design::model::Paper;

/// Free on every side of a page, mm. Office printers reach to 6 mm or less.
pub const MARGIN: f64 = 17.0;

/// Width and height of a page, mm: ANSI A (8.5 in × 11 in) or ISO 216 A4.
#[must_use]
pub const fn paper_size(paper: Paper) -> [f64; 2] {
    match paper {
        Paper::Letter => [8.5 * 25.4, 11.0 * 25.4],
        Paper::A4 => [210.0, 297.0],
    }
}

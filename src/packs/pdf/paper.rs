//! Paper sizes and margins.

use crate::design::Design;
use crate::design::model::Paper;
use crate::measure::Unit;

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

/// The paper that a design asks for, else what is usual where its unit is.
#[must_use]
pub fn paper_of(design: &Design) -> Paper {
    design.proof.paper.unwrap_or(if design.unit == Unit::Inch { Paper::Letter } else { Paper::A4 })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_paper_follows_the_unit_unless_said() {
        let mut design = Design { unit: Unit::Inch, ..Design::default() };
        assert_eq!(paper_of(&design), Paper::Letter);
        design.unit = Unit::Centimetre;
        assert_eq!(paper_of(&design), Paper::A4);
        design.proof.paper = Some(Paper::Letter);
        assert_eq!(paper_of(&design), Paper::Letter);
    }
}

//! What is printed: every strip of every wrap, and what pieces have printed.

use std::sync::LazyLock;

use glam::DVec2;

use crate::cake::pieces::{Ink, Makings, PiecePrint, print};
use crate::cake::{Cake, CakePiece, lines_out};
use crate::design::model::{CourseKind, Wrap};
use crate::measure::MM_PER_INCH;
use crate::measure::table::read_table;
use crate::wraps::WrapPlan;

/// One thing to print.
#[derive(Clone, Debug, PartialEq)]
pub struct Print {
    /// As written beside it: `base · waves · 2 of 3`, `lighthouse · front`.
    pub name: String,
    /// Name of the sheet it is printed on.
    pub sheet: String,
    /// Width and height of what is cut, upright, mm.
    pub size: DVec2,
    /// Whether it may lie turned by a quarter, where its sheet lets it.
    pub turn: bool,
    /// How far its colours run on beyond the cut, mm.
    pub bleed: f64,
    /// Pixels to the inch of its art at this size; `None` for drawings and plain colours.
    pub ppi: Option<f64>,
    /// What it is.
    pub of: PrintOf,
    /// Number of the sheet it lies on, from 1; `None` where it fits none.
    pub on: Option<usize>,
}

impl Print {
    /// Where it stands in the list of prints: strips by wrap and number, then pieces.
    pub(super) fn rank(&self) -> (bool, usize, usize) {
        match self.of {
            PrintOf::Strip { plan, strip, .. } => (false, plan, strip),
            PrintOf::Piece { piece, .. } => (true, piece, 0),
        }
    }
}

/// What a print is.
#[derive(Clone, Debug, PartialEq)]
pub enum PrintOf {
    /// A strip of a wrap.
    Strip {
        /// Which of the planned wraps.
        plan: usize,
        /// Which of its strips, from the left.
        strip: usize,
        /// Where it begins on the wrap's face, mm.
        start: f64,
        /// What its ends meet.
        meets: Meets,
    },
    /// A part of a piece.
    Piece {
        /// Which of the cake's pieces.
        piece: usize,
        /// What of it.
        print: PiecePrint,
    },
}

/// What the ends of a strip meet, by the number of the strip: `1 of 3`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Meets {
    /// Beyond its left end.
    pub left: Option<String>,
    /// Beyond its right end.
    pub right: Option<String>,
    /// How much of its right end runs under the next, mm.
    pub overlap: f64,
}

/// Everything printed: wraps from the board up, their strips from the left; then pieces in the design's order.
pub(super) fn prints(cake: &Cake, plans: &[WrapPlan]) -> Vec<Print> {
    let strips = plans.iter().enumerate().flat_map(|(number, plan)| strips(cake, number, plan));
    let pieces = cake.pieces.iter().enumerate().filter_map(|(number, placed)| of_piece(cake, number, placed));
    strips.chain(pieces).collect()
}

fn strips(cake: &Cake, number: usize, plan: &WrapPlan) -> Vec<Print> {
    let tier = cake.tiers.get(plan.tier);
    let course = tier.and_then(|tier| tier.courses.get(plan.course));
    let Some((tier, course)) = tier.zip(course) else { return Vec::new() };
    let CourseKind::Wrap(wrap) = &course.kind else { return Vec::new() };
    let out = lines_out(&course.kind).0;
    let sheet = wrap.sheet.clone().unwrap_or_else(|| cake.design.usual_sheet().to_owned());
    let bleed = cake.design.sheet(Some(&sheet)).bleed.as_mm();
    let count = plan.strips.len();
    let print = |(strip, planned): (usize, &crate::wraps::Strip)| Print {
        name: format!("{} · {} · {} of {count}", tier.name, course.name, strip + 1),
        sheet: sheet.clone(),
        size: DVec2::new(planned.width, planned.height),
        turn: wrap.turn,
        bleed,
        ppi: plan.ppi,
        of: PrintOf::Strip {
            plan: number,
            strip,
            start: tier.outline.run((course.span.0, planned.from), out),
            meets: meets(wrap, strip, count),
        },
        on: None,
    };
    let printable = plan.strips.iter().enumerate().filter(|(_, strip)| strip.width > 0.0 && strip.height > 0.0);
    printable.map(print).collect()
}

/// All round, the last strip meets the first again; a stretch has two free ends.
fn meets(wrap: &Wrap, strip: usize, count: usize) -> Meets {
    let closed = wrap.stretch.is_none();
    let name = |strip: usize| format!("{} of {count}", strip + 1);
    Meets {
        left: (closed || strip > 0).then(|| name((strip + count - 1) % count)),
        right: (closed || strip + 1 < count).then(|| name((strip + 1) % count)),
        overlap: wrap.overlap.as_mm(),
    }
}

fn of_piece(cake: &Cake, number: usize, placed: &CakePiece) -> Option<Print> {
    let piece = cake.designed(placed)?;
    let makings = Makings { shelf: &cake.shelf, design: &cake.design };
    // A piece whose art can't be used never comes so far: resolving it has failed.
    let print = print(&piece.form, makings).ok().flatten()?;
    let sheet = cake.design.sheet_of_pieces().to_owned();
    let usual = cake.design.sheet(Some(&sheet)).bleed.as_mm();
    let ppi = match &print.ink {
        Ink::Art(path, part) => cake.shelf.get(path).and_then(|art| art.pixels()).map(|(columns, rows)| {
            let across = f64::from(columns) * part.width / print.size.x;
            let down = f64::from(rows) * part.height / print.size.y;
            across.min(down) * MM_PER_INCH
        }),
        Ink::Plain(_) => None,
    };
    Some(Print {
        name: format!("{} · {}", piece.name, print.what),
        sheet,
        size: print.size,
        turn: true,
        bleed: if print.outline.is_some() { usual.max(cut_out_bleed()) } else { usual },
        ppi,
        of: PrintOf::Piece { piece: number, print },
        on: None,
    })
}

/// How far the colours of a cut-out run on at least, mm.
fn cut_out_bleed() -> f64 {
    static BLEED: LazyLock<f64> = LazyLock::new(|| figure("cut_out_bleed").unwrap_or_default());
    *BLEED
}

/// A figure of the bundled table; a test reads every row.
fn figure(name: &str) -> Option<f64> {
    let rows = read_table(include_str!("../../assets/tables/printing.csv")).ok()?;
    rows.iter().find(|row| row.text("name") == Ok(name))?.figure("figure").ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::model::Sheet;

    #[test]
    fn the_table_says_what_a_plain_sheet_has() {
        assert_eq!(figure("ppi"), Some(f64::from(Sheet::PPI)));
        assert_eq!(figure("gap"), Some(Sheet::GAP.as_mm()));
        assert_eq!(cut_out_bleed(), 2.0);
    }
}

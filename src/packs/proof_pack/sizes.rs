//! The measurements: every tier as a tape measure would read it, and what runs round its side.

use super::ProofInput;
use super::section::{Section, Tone};
use crate::packs::pdf::{Column, Row, Table};
use crate::packs::words::{length, product};

/// Both tables of sizes.
pub(super) fn sections(input: &ProofInput) -> Vec<Section> {
    let overall = &input.facts.overall;
    let mut finished = Section::new("Finished sizes");
    finished.text(Tone::Remark, "Of the cake as it stands: icing and covering included.");
    finished.table(tiers(input));
    let whole = product(&[overall.width, overall.depth, overall.height], input.design.unit);
    finished.text(Tone::Strong, format!("The whole, with its board: {whole} (width × depth × height)."));
    if input.facts.tiers.iter().all(|tier| tier.courses.is_empty()) {
        return vec![finished];
    }
    let mut side = Section::new("Round the side");
    side.text(Tone::Remark, "From the foot of each tier up; lengths are of the piece that goes round.");
    side.table(courses(input));
    vec![finished, side]
}

fn tiers(input: &ProofInput) -> Table {
    let unit = input.design.unit;
    let columns = vec![
        Column::words("Tier", 3.0),
        Column::words("Shape", 2.4),
        Column::figures("Across", 2.2),
        Column::figures("Deep", 2.2),
        Column::figures("High", 2.0),
        Column::figures("Around", 2.2),
    ];
    let row = |tier: &crate::proof::facts::TierFacts| {
        let size = &tier.finished;
        let figures = [size.across, size.depth, size.height, size.around].map(|mm| length(mm, unit).into());
        Row::Cells([tier.name.as_str().into(), tier.shape.as_str().into()].into_iter().chain(figures).collect())
    };
    Table { columns, rows: input.facts.tiers.iter().rev().map(row).collect() }
}

/// Courses in the order of the real cake: what is higher stands higher.
fn courses(input: &ProofInput) -> Table {
    let unit = input.design.unit;
    let columns = vec![
        Column::words("Course", 4.2),
        Column::words("Made as", 2.2),
        Column::figures("From", 2.0),
        Column::figures("To", 2.0),
        Column::figures("Length", 2.4),
    ];
    let mut rows = Vec::new();
    for tier in input.facts.tiers.iter().rev().filter(|tier| !tier.courses.is_empty()) {
        rows.push(Row::Group(tier.name.clone()));
        for course in tier.courses.iter().rev() {
            let bare = course.kind == "bare";
            let made = if bare { "covering" } else { course.kind.as_str() };
            let round = if bare { "–".to_owned() } else { length(course.length, unit) };
            let cells =
                [course.name.clone(), made.to_owned(), length(course.bottom, unit), length(course.top, unit), round];
            rows.push(Row::Cells(cells.into_iter().map(Into::into).collect()));
        }
    }
    Table { columns, rows }
}

//! Checks: what an experienced decorator would say of the design.
//!
//! In: the resolved cake and its planned wraps. Out: findings, the gravest first, and what to mind ([`cautions`]). One file a
//! rule; [`all`] is the list. From where on something is said stands in `assets/tables/thresholds.csv`.

mod board;
mod cautions;
mod clashes;
mod corner;
mod edge;
mod held;
mod letters;
mod overhang;
mod overlap;
mod picks;
mod portions;
mod schedule;
mod seams;
mod sunk;
mod supports;
mod transport;
#[cfg(test)]
mod trial;

pub use cautions::{Caution, cautions};
pub use clashes::{Clash, clashes};
pub use seams::on_seams;

use crate::cake::Cake;
use crate::findings::Finding;

/// Everything the checks say, with what resolving and planning found.
#[must_use]
pub fn all(cake: &Cake, planned: Vec<Finding>) -> Vec<Finding> {
    let rules: [fn(&Cake) -> Vec<Finding>; 12] = [
        board::check,
        transport::check,
        overhang::check,
        supports::check,
        overlap::check,
        edge::check,
        corner::check,
        held::check,
        sunk::check,
        portions::check,
        schedule::check,
        letters::check,
    ];
    let mut findings = cake.findings.clone();
    findings.extend(planned);
    findings.extend(rules.into_iter().chain(picks::RULES).flat_map(|rule| rule(cake)));
    findings.sort_by(|a, b| b.severity.cmp(&a.severity).then(a.code.cmp(&b.code)));
    findings
}

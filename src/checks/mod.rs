//! Checks: what an experienced decorator would say of the design.
//!
//! In: the resolved cake and its planned wraps. Out: findings, the gravest first, and what to mind ([`cautions`]). One file a
//! rule; [`all`] is the list. From where on something is said stands in `assets/tables/thresholds.csv`.

mod board;
mod cautions;
mod corner;
mod edge;
mod held;
mod overhang;
mod overlap;
mod picks;
mod portions;
mod supports;
mod transport;
#[cfg(test)]
mod trial;

pub use cautions::{Caution, cautions};

use crate::cake::Cake;
use crate::findings::Finding;

/// Everything the checks say, with what resolving and planning found.
#[must_use]
pub fn all(cake: &Cake, planned: Vec<Finding>) -> Vec<Finding> {
    let rules: [fn(&Cake) -> Vec<Finding>; 9] = [
        board::check,
        transport::check,
        overhang::check,
        supports::check,
        overlap::check,
        edge::check,
        corner::check,
        held::check,
        portions::check,
    ];
    let mut findings = cake.findings.clone();
    findings.extend(planned);
    findings.extend(rules.into_iter().chain(picks::RULES).flat_map(|rule| rule(cake)));
    findings.sort_by(|a, b| b.severity.cmp(&a.severity).then(a.code.cmp(&b.code)));
    findings
}

fn piece_place(name: &str) -> String {
    format!("piece '{name}'")
}

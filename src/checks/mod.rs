//! Checks: what an experienced decorator would say of the design.
//!
//! In: the resolved cake and its planned wraps. Out: findings, the gravest first. One file a rule; [`all`] is the list.

mod board;
mod edge;
mod held;
mod overhang;
mod portions;

use crate::cake::Cake;
use crate::findings::Finding;

/// Everything the checks say, with what resolving and planning found.
#[must_use]
pub fn all(cake: &Cake, planned: Vec<Finding>) -> Vec<Finding> {
    let rules = [board::check, overhang::check, edge::check, held::check, portions::check];
    let mut findings = cake.findings.clone();
    findings.extend(planned);
    findings.extend(rules.into_iter().flat_map(|rule| rule(cake)));
    findings.sort_by(|a, b| b.severity.cmp(&a.severity).then(a.code.cmp(&b.code)));
    findings
}

fn piece_place(name: &str) -> String {
    format!("piece '{name}'")
}

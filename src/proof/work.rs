//! From a design with its art to everything that is shown of it.

use std::sync::Arc;

use super::approval::Approval;
use super::facts::Facts;
use super::gather::{WorkedOut, gather};
use crate::art::Shelf;
use crate::cake::{Cake, CakeError, resolve};
use crate::checks;
use crate::design::{Design, revision};
use crate::findings::{Finding, Severity};
use crate::sheets::{self, SheetPlan};
use crate::wraps::{self, End, Onlookers, WrapPlan};

/// A cake with its planned wraps, where its bands and ropes meet themselves, its prints on their sheets, what the checks say,
/// and its facts.
#[derive(Clone, Debug)]
pub struct Work {
    /// The resolved cake.
    pub cake: Arc<Cake>,
    /// Its planned wraps.
    pub plans: Vec<WrapPlan>,
    /// Where the ends of its bands and ropes meet.
    pub ends: Vec<End>,
    /// Its prints on their sheets.
    pub sheets: SheetPlan,
    /// What the checks say, the gravest first.
    pub findings: Vec<Finding>,
    /// Every measurement.
    pub facts: Facts,
}

/// Works out everything about a design, which may have been approved. Pure, and slow where many see the cake: for a command, or
/// a thread of its own.
///
/// # Errors
/// A piece whose art can't be cut.
pub fn work(design: &Arc<Design>, shelf: &Arc<Shelf>, approval: Option<&Approval>) -> Result<Work, CakeError> {
    let revision = revision(design, &shelf.digests());
    Ok(work_out(Arc::new(resolve(design, shelf)?), (&revision.to_string(), &revision.in_full()), approval))
}

/// The same about a cake that is resolved already. Its revision, as it is printed and in full, is compared with the one that was
/// approved last.
#[must_use]
pub fn work_out(cake: Arc<Cake>, (printed, whole): (&str, &str), approval: Option<&Approval>) -> Work {
    let onlookers = Onlookers::new(&cake);
    let (plans, mut found) = wraps::plan_before(&cake, &onlookers);
    let ends = wraps::ends(&cake, &onlookers);
    found.extend(wraps::seams_in_sight(&cake, &onlookers, (&plans, &ends)));
    found.extend(checks::on_seams(&cake, &plans, &ends));
    drop(onlookers);
    let (sheets, laid) = sheets::lay_out(&cake, &plans);
    found.extend(laid);
    found.extend(approval.and_then(|approval| approval.moved_on(whole)));
    let findings = checks::all(&cake, found);
    let worked = WorkedOut { plans: &plans, ends: &ends, sheets: &sheets, findings: &findings };
    let mut facts = gather(&cake, worked, printed);
    facts.approval = approval.map(|approval| approval.facts(whole));
    Work { cake, plans, ends, sheets, findings, facts }
}

impl Work {
    /// Whether something can't be made as it is designed.
    #[must_use]
    pub fn is_stopped(&self) -> bool {
        self.findings.iter().any(|finding| finding.severity == Severity::Stop)
    }
}

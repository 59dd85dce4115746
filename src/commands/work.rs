//! From a loaded design to everything that is shown of it.

use super::CommandError;
use super::load::Loaded;
use super::{FINE, STOPPED};
use crate::cake::{Cake, resolve};
use crate::checks;
use crate::findings::{Finding, Severity};
use crate::proof::facts::Facts;
use crate::proof::gather::{WorkedOut, gather};
use crate::sheets::{self, SheetPlan};
use crate::wraps::{self, End, Onlookers, WrapPlan};

/// A cake with its planned wraps, where bands and ropes meet themselves, its prints on their sheets, what the checks say, and its facts.
#[derive(Debug)]
pub(super) struct Work {
    pub cake: Cake,
    pub plans: Vec<WrapPlan>,
    pub ends: Vec<End>,
    pub sheets: SheetPlan,
    pub findings: Vec<Finding>,
    pub facts: Facts,
}

/// Works out everything about a design.
pub(super) fn work(loaded: &Loaded) -> Result<Work, CommandError> {
    let cake = resolve(&loaded.design, &loaded.shelf)?;
    let onlookers = Onlookers::new(&cake);
    let (plans, mut found) = wraps::plan_before(&cake, &onlookers);
    let ends = wraps::ends(&cake, &onlookers);
    found.extend(wraps::seams_in_sight(&cake, &onlookers, (&plans, &ends)));
    let (sheets, laid) = sheets::lay_out(&cake, &plans);
    found.extend(laid);
    let approval = loaded.record.last();
    found.extend(approval.and_then(|approval| approval.moved_on(&loaded.whole_revision)));
    let findings = checks::all(&cake, found);
    let worked = WorkedOut { plans: &plans, ends: &ends, sheets: &sheets, findings: &findings };
    let mut facts = gather(&cake, worked, &loaded.revision);
    facts.approval = approval.map(|approval| approval.facts(&loaded.whole_revision));
    Ok(Work { cake, plans, ends, sheets, findings, facts })
}

impl Work {
    /// The exit code that the findings ask for.
    pub(super) fn code(&self) -> u8 {
        if self.findings.iter().any(|finding| finding.severity == Severity::Stop) { STOPPED } else { FINE }
    }
}

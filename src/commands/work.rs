//! From a loaded design to everything that is shown of it.

use super::CommandError;
use super::load::Loaded;
use super::{FINE, STOPPED};
#[cfg(feature = "view")]
use crate::cake::Cake;
use crate::cake::resolve;
use crate::checks;
use crate::findings::{Finding, Severity};
use crate::proof::facts::Facts;
use crate::proof::gather::gather;
use crate::wraps;
#[cfg(feature = "view")]
use crate::wraps::WrapPlan;

/// A cake with its planned wraps, what the checks say, and its facts.
#[derive(Debug)]
pub(super) struct Work {
    #[cfg(feature = "view")]
    pub cake: Cake,
    #[cfg(feature = "view")]
    pub plans: Vec<WrapPlan>,
    pub findings: Vec<Finding>,
    pub facts: Facts,
}

/// Works out everything about a design.
pub(super) fn work(loaded: &Loaded) -> Result<Work, CommandError> {
    let cake = resolve(&loaded.design, &loaded.shelf)?;
    let (plans, planned) = wraps::plan(&cake);
    let findings = checks::all(&cake, planned);
    let facts = gather(&cake, &plans, &findings, &loaded.revision);
    Ok(Work {
        #[cfg(feature = "view")]
        cake,
        #[cfg(feature = "view")]
        plans,
        findings,
        facts,
    })
}

impl Work {
    /// The exit code that the findings ask for.
    pub(super) fn code(&self) -> u8 {
        if self.findings.iter().any(|finding| finding.severity == Severity::Stop) { STOPPED } else { FINE }
    }
}

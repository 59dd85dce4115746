//! What a check says: a stable code, how grave it is, where, by how much, and what would fix it.
//!
//! Only the type, the list of codes and the figures from which on a finding is made live here; the rules live in the parts that know enough to apply them.

mod catalogue;
mod place;
mod thresholds;

pub use catalogue::{CODES, Code, page};
pub use place::Place;
pub use thresholds::Threshold;

use crate::measure::Length;

/// How grave a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Worth knowing.
    Note,
    /// Likely to go wrong.
    Warn,
    /// Cannot be made like this.
    Stop,
}

impl Severity {
    /// The word in listings: `note`, `warn` or `stop`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warn => "warn",
            Self::Stop => "stop",
        }
    }
}

/// One thing a check says about a usable design.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Stable; see `docs/findings.md`.
    pub code: Code,
    /// How grave it is.
    pub severity: Severity,
    /// Where.
    pub place: Place,
    /// What is wrong, in figures.
    pub sentence: String,
    /// By how much, where that is a length.
    pub by: Option<Length>,
    /// What would fix it.
    pub mend: String,
}

impl Finding {
    /// A finding with the severity its code has in the catalogue.
    #[must_use]
    pub fn new(code: Code, place: impl Into<Place>, sentence: impl Into<String>, mend: impl Into<String>) -> Self {
        Self {
            code,
            severity: code.severity(),
            place: place.into(),
            sentence: sentence.into(),
            by: None,
            mend: mend.into(),
        }
    }

    /// The same finding, with by how much.
    #[must_use]
    pub const fn by(mut self, by: Length) -> Self {
        self.by = Some(by);
        self
    }
}

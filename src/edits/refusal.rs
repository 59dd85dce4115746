//! Why an edit is refused.

use crate::design::Problems;

/// Why an edit is not carried out. Displays as one sentence; the design stays as it was.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Refusal {
    /// What was to be changed is not in the design.
    #[error("there is no {what} any more")]
    Missing {
        /// As a person would say it: `piece “bow”`.
        what: String,
    },
    /// What was to be changed is locked.
    #[error("{what} is locked")]
    Locked {
        /// As a person would say it.
        what: String,
    },
    /// A value that a design can't have.
    #[error("{place}: {found}; expected {expected}")]
    Unfit {
        /// Where in the design: `piece “bow”, ribbon`.
        place: String,
        /// What was asked for.
        found: String,
        /// What a design can have there.
        expected: String,
        /// What would mend it.
        mend: String,
    },
    /// It makes no sense on this cake.
    #[error("{sentence}")]
    Senseless {
        /// Why.
        sentence: String,
        /// What would mend it.
        mend: String,
    },
}

impl Refusal {
    /// What would mend it, in a sentence.
    #[must_use]
    pub fn mend(&self) -> &str {
        match self {
            Self::Missing { .. } => "choose something else; it was renamed or deleted",
            Self::Locked { .. } => "unlock it first",
            Self::Unfit { mend, .. } | Self::Senseless { mend, .. } => mend,
        }
    }

    /// Something that makes no sense on this cake.
    pub(super) fn senseless(sentence: impl Into<String>, mend: impl Into<String>) -> Self {
        Self::Senseless { sentence: sentence.into(), mend: mend.into() }
    }

    /// Something that is not there.
    pub(super) fn missing(kind: &str, name: &str) -> Self {
        Self::Missing { what: format!("{kind} “{name}”") }
    }

    /// Something that is locked.
    pub(super) fn locked(kind: &str, name: &str) -> Self {
        Self::Locked { what: format!("{kind} “{name}”") }
    }
}

impl From<Problems> for Refusal {
    fn from(problems: Problems) -> Self {
        let Some(first) = problems.list.into_iter().next() else {
            return Self::senseless("the design could not be kept so", "change something else");
        };
        Self::Unfit { place: first.place, found: first.found, expected: first.expected, mend: first.mend }
    }
}

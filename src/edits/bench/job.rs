//! The slow half: seams, sheets, checks and facts of one state of the design.

use std::sync::Arc;

use crate::art::Shelf;
use crate::cake::CakeError;
use crate::design::Design;
use crate::proof::approval::Approval;
use crate::proof::work::{Work, work};

/// Something to be worked out: a design with its art, and its last approval. Holds nothing of the bench, so it may run on any thread.
#[derive(Clone, Debug)]
pub struct Job {
    pub(super) design: Arc<Design>,
    pub(super) shelf: Arc<Shelf>,
    pub(super) approval: Option<Arc<Approval>>,
}

/// What came of a [`Job`].
#[derive(Clone, Debug)]
pub struct Done {
    pub(super) job: Job,
    pub(super) outcome: Result<Arc<Work>, CakeError>,
}

impl Job {
    /// Works it out. The same job always gives the same.
    #[must_use]
    pub fn run(self) -> Done {
        let outcome = work(&self.design, &self.shelf, self.approval.as_deref()).map(Arc::new);
        Done { job: self, outcome }
    }

    /// Whether it is about the very same design, art and approval.
    pub(super) fn is(&self, other: &Self) -> bool {
        let same_design = Arc::ptr_eq(&self.design, &other.design) && Arc::ptr_eq(&self.shelf, &other.shelf);
        same_design && self.approval == other.approval
    }
}

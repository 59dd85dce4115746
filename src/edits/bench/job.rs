//! The slow half: seams, sheets, checks and facts of one state of the design.

use std::sync::Arc;

use crate::art::Shelf;
use crate::cake::CakeError;
use crate::design::Design;
use crate::proof::work::{Work, work};

/// Something to be worked out: a design with its art. Holds nothing of the bench, so it may run on any thread.
#[derive(Clone, Debug)]
pub struct Job {
    pub(super) design: Arc<Design>,
    pub(super) shelf: Arc<Shelf>,
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
        let outcome = work(&self.design, &self.shelf).map(Arc::new);
        Done { job: self, outcome }
    }

    /// Whether it is about this very design and art.
    pub(super) fn is_about(&self, design: &Arc<Design>, shelf: &Arc<Shelf>) -> bool {
        Arc::ptr_eq(&self.design, design) && Arc::ptr_eq(&self.shelf, shelf)
    }
}

//! What every command but the first few starts from: a loaded design, worked out.

use super::CommandError;
use super::load::Loaded;
use super::{FINE, STOPPED};
use crate::cake::resolve;
pub(super) use crate::proof::work::Work;
use crate::proof::work::work_out;

/// Works out everything about a design.
pub(super) fn work(loaded: &Loaded) -> Result<Work, CommandError> {
    let cake = resolve(&loaded.design, &loaded.shelf)?;
    Ok(work_out(cake.into(), (&loaded.revision, &loaded.whole_revision), loaded.record.last()))
}

/// The exit code that the findings ask for.
pub(super) fn code(work: &Work) -> u8 {
    if work.is_stopped() { STOPPED } else { FINE }
}

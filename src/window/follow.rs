//! What is before the eye: the bodies of the cake on the bench, kept up with it by difference.

use std::sync::Arc;

use glam::DVec3;

use crate::cake::{CakeError, Keep, Owner, corners};
use crate::edits::bench::{Versions, Workbench};
use crate::edits::choose::Touch;
use crate::scene::Stage;
use crate::wraps::PrintKeep;

/// Most pixels round a printed side: what a picture that fills a large screen shows of it.
const COLUMNS: u32 = 4096;

/// The bodies that are shown and touched.
#[derive(Debug, Default)]
pub struct Followed {
    keep: Keep,
    prints: PrintKeep,
    seen: Option<Versions>,
    /// How often what is shown changed.
    pub number: u64,
    /// What can be touched.
    pub touch: Touch,
    /// What is shown.
    pub stage: Arc<Stage>,
    /// Corners of the boxes round everything, mm: what the eye must have in its picture.
    pub corners: Vec<DVec3>,
}

impl Followed {
    /// Catches up with the bench; whether anything changed.
    ///
    /// # Errors
    /// A piece whose art can't be cut.
    pub fn follow(&mut self, bench: &Workbench) -> Result<bool, CakeError> {
        let now = bench.versions();
        if self.seen.is_some_and(|seen| (seen.cake, seen.work) == (now.cake, now.work)) {
            return Ok(false);
        }
        self.seen = Some(now);
        let cake = bench.cake();
        let mut bodies = self.keep.bodies(cake)?;
        bodies.extend(self.prints.bodies(cake, bench.plans(), COLUMNS));
        self.touch.follow(&bodies);
        self.corners = corners(&bodies);
        self.number += 1;
        let floor = -cake.board.thickness.as_mm();
        self.stage = Arc::new(Stage { bodies, floor, backdrop: Stage::BACKDROP });
        Ok(true)
    }

    /// Every corner of what belongs to something, mm in the cake's frame.
    pub(super) fn corners_of(&self, belongs: impl Fn(Owner) -> bool) -> impl Iterator<Item = DVec3> {
        let bodies = self.stage.bodies.iter().filter(move |body| belongs(body.owner));
        bodies.flat_map(|body| body.mesh.positions.iter().map(|&at| body.pose.transform_point3(at)))
    }
}

//! The cake set up to be photographed: bodies, stage, camera.

use glam::DVec3;

use super::CommandError;
use super::bar::with_bar;
use super::work::Work;
use crate::art::Picture;
use crate::cake::{self, Body, Cake};
use crate::proof::view::Camera;
use crate::scene::still::take_many;
use crate::scene::{Quality, Stage};
use crate::wraps;

/// Share of a picture left free on every side.
pub(super) const MARGIN: f64 = 0.07;
/// The same where something is drawn beside the cake.
pub(super) const MARGIN_FOR_MARKS: f64 = 0.17;

/// Every body of a cake, its prints painted fine enough for a picture of this size.
pub(super) fn bodies(work: &Work, (width, height): (u32, u32)) -> Result<Vec<Body>, CommandError> {
    // Round a cake that fills a picture there are π times the picture's columns.
    let columns = (width.max(height) * 3).clamp(2048, 8192);
    let mut bodies = cake::bodies(&work.cake)?;
    bodies.extend(wraps::bodies(&work.cake, &work.plans, columns));
    Ok(bodies)
}

/// A cake on the table of the studio.
pub(super) fn stage(cake: &Cake, bodies: Vec<Body>) -> Stage {
    Stage { bodies, floor: -cake.board.thickness.as_mm(), backdrop: Stage::BACKDROP }
}

/// Takes pictures of a stage; on a terminal a bar on standard error shows how far it is.
pub(super) fn photograph(stage: &Stage, cameras: &[Camera], quality: Quality) -> Result<Vec<Picture>, CommandError> {
    let take = |tell: &mut dyn FnMut(u64, u64)| {
        take_many(stage, cameras, quality, &mut |progress| tell(progress.done, progress.of))
    };
    Ok(with_bar(take)?)
}

/// Every corner of every body in the cake's frame, mm.
pub(super) fn corners(bodies: &[Body]) -> Vec<DVec3> {
    bodies.iter().flat_map(|body| body.mesh.positions.iter().map(|&at| body.pose.transform_point3(at))).collect()
}

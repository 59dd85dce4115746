//! The cake set up to be photographed: bodies, stage, camera.

use glam::DVec3;

use super::CommandError;
use super::work::Work;
use crate::art::Colour;
use crate::cake::{self, Body, Cake};
use crate::scene::Stage;
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
    Stage { bodies, floor: -cake.board.thickness.as_mm(), backdrop: Colour::new(0xf4, 0xef, 0xe6) }
}

/// Every corner of every body in the cake's frame, mm.
pub(super) fn corners(bodies: &[Body]) -> Vec<DVec3> {
    bodies.iter().flat_map(|body| body.mesh.positions.iter().map(|&at| body.pose.transform_point3(at))).collect()
}

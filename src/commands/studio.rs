//! The cake set up to be photographed: bodies, stage, camera.

use std::ops::ControlFlow;

use glam::DVec3;

use super::CommandError;
use super::bar::with_bar;
use super::work::Work;
use crate::art::Picture;
use crate::cake::{self, Body, Cake};
use crate::proof::each::each;
use crate::proof::marks::{SeamLine, seam_lines, size_marks};
use crate::proof::overlay::{Ground, Mark, drawn};
use crate::proof::shot::Shot;
use crate::proof::sight::Sight;
use crate::proof::turntable::Turned;
use crate::proof::view::Camera;
use crate::scene::still::take_each;
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

/// What is told how many of how many steps are done, and says whether to go on.
pub(super) type Tell<'a> = &'a mut dyn FnMut(u64, u64) -> ControlFlow<()>;

/// Takes pictures of a stage; `tell` is told after every frame, and may call it off.
pub(super) fn photograph(
    stage: &Stage,
    cameras: &[(Camera, Quality)],
    tell: Tell,
) -> Result<Vec<Picture>, CommandError> {
    Ok(take_each(stage, cameras, &mut |progress| tell(progress.done, progress.of))?)
}

/// Does work that tells how far it is; on a terminal a bar on standard error shows it.
pub(super) fn with_progress<T>(work: impl FnOnce(Tell) -> T) -> T {
    with_bar(|show| {
        work(&mut |done, of| {
            show(done, of);
            ControlFlow::Continue(())
        })
    })
}

/// The pictures of a turntable with what may be drawn over each. Letters are larger than on a still: phones are small.
pub(super) fn turned(work: &Work, bodies: &[Body], shots: Vec<Shot>) -> Vec<Turned> {
    const LETTERS: f64 = 1.7;
    let clear = cake::corners(bodies);
    let seams = seam_lines(&work.cake, (&work.plans, &work.ends));
    let drawings = each(&shots, |shot| {
        let camera = shot.camera;
        let sight = Sight::new(bodies, &camera);
        let ground = Ground { cake: &clear, sight: &sight };
        let seam = |line: &SeamLine| Mark::seam(line.name.as_str(), &line.path, |place| !sight.sees(place));
        let seams: Vec<Mark> = seams.iter().map(seam).collect();
        let sizes = size_marks(&work.cake, &camera);
        (drawn(&camera, &ground, &seams, LETTERS), drawn(&camera, &ground, &sizes, LETTERS))
    });
    shots.into_iter().zip(drawings).map(|(shot, (seams, sizes))| Turned { shot, seams, sizes }).collect()
}

/// Every corner of every body in the cake's frame, mm.
pub(super) fn corners(bodies: &[Body]) -> Vec<DVec3> {
    bodies.iter().flat_map(|body| body.mesh.positions.iter().map(|&at| body.pose.transform_point3(at))).collect()
}

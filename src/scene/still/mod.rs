//! Takes pictures: drives the engine frame by frame until each picture is whole.

mod average;
mod backdrop;
mod darkroom;
mod grab;
mod soften;

use std::collections::BTreeMap;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, AtomicU64, AtomicUsize, Ordering};
use std::thread;
use std::time::Duration;

use bevy::app::App;
use bevy::asset::Handle;
use bevy::camera::RenderTarget;
use bevy::image::Image;
use bevy::light::DirectionalLightShadowMap;
use bevy::mesh::Mesh as EngineMesh;
use bevy::pbr::PreparedMaterial;
use bevy::render::RenderApp;
use bevy::render::erased_render_asset::ErasedRenderAssets;
use bevy::render::mesh::RenderMesh;
use bevy::render::render_asset::RenderAssets;
use bevy::render::render_resource::{CachedPipelineState, PipelineCache};
use bevy::render::texture::GpuImage;

use crate::art::Picture;
use crate::proof::view::Camera;

use super::engine::{Trouble, is_imitated, longest_side, start};
use super::error::StillError;
use super::quality::{Plan, Quality};
use super::set::{Cast, Set, new_target};
use super::srgb::Srgb;
use super::stage::Stage;
use super::tiles::{Tile, split};
use average::Sum;
use grab::Tray;
use soften::soften;

pub use backdrop::Backdrop;
pub use darkroom::{Darkroom, Photo};

/// No tile is wider or higher than this, px: what a small device and 1 GiB of memory take.
const MOST_TILE: u32 = 2048;

/// A picture of more pixels keeps its shadows as they are: these take 256 MiB.
const MOST_SOFTENED: usize = 1 << 24;

/// So many pictures are worth a second studio.
const WORTH_TWO: usize = 4;

/// How often whoever waits for the second studio is asked whether to go on.
const LOOK_AGAIN: Duration = Duration::from_millis(50);

/// Frames that may pass until everything is on the device.
const MOST_WARM_UP: u32 = 64;

/// Takes one picture of the stage.
///
/// # Errors
/// When the size can't be drawn, when there is no graphics driver, or when the device fails.
pub fn take(stage: &Stage, camera: &Camera, quality: Quality) -> Result<Picture, StillError> {
    let pictures = take_many(stage, std::slice::from_ref(camera), quality, &mut |_| ControlFlow::Continue(()))?;
    pictures.into_iter().next().ok_or_else(|| StillError::lost(&"no picture came back"))
}

/// How far the taking of pictures has come, in frames.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Frames drawn.
    pub done: u64,
    /// Frames there are.
    pub of: u64,
}

/// Takes a picture of the stage with each camera; the engine starts once. `watch` is told after every frame, and may call it
/// off.
///
/// # Errors
/// As [`take`], and when it was called off.
pub fn take_many(
    stage: &Stage,
    cameras: &[Camera],
    quality: Quality,
    watch: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Result<Vec<Picture>, StillError> {
    let cameras: Vec<(Camera, Quality)> = cameras.iter().map(|&camera| (camera, quality)).collect();
    take_each(stage, &cameras, watch)
}

/// The same with a quality for each picture.
///
/// # Errors
/// As [`take_many`].
pub fn take_each(
    stage: &Stage,
    cameras: &[(Camera, Quality)],
    watch: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Result<Vec<Picture>, StillError> {
    cameras.iter().try_for_each(|(camera, _)| can_be_drawn(camera))?;
    let Some((_, first)) = cameras.first() else { return Ok(Vec::new()) };
    let plan = first.plan();
    let studio = Studio::open(plan)?;
    let is_soft = is_imitated(studio.app.world());
    let orders =
        Orders { stage, cameras, next: AtomicUsize::new(0), done: AtomicU64::new(0), is_off: AtomicBool::new(false) };
    let of = cameras.iter().map(frames).sum();
    let mut step = || watch(Progress { done: orders.done.load(Ordering::Relaxed), of });
    // A processor that imitates a graphics card does one thing after the other: bodies, then light. A second studio fills its gaps.
    let is_shared = is_soft && cameras.len() >= WORTH_TWO;
    let taken = thread::scope(|scope| {
        let helper = is_shared.then(|| thread::Builder::new().spawn_scoped(scope, || orders.help(plan)).ok()).flatten();
        let own = orders.fill(studio, &mut step);
        orders.is_off.fetch_or(own.is_err(), Ordering::Relaxed);
        let theirs = helper.map(|helper| {
            while !helper.is_finished() && own.is_ok() {
                thread::sleep(LOOK_AGAIN);
                orders.is_off.fetch_or(step().is_break(), Ordering::Relaxed);
            }
            helper.join().unwrap_or_else(|_| Err(StillError::lost(&"the second studio broke down")))
        });
        Ok::<_, StillError>(own?.into_iter().chain(theirs.transpose()?.unwrap_or_default()).collect::<BTreeMap<_, _>>())
    })?;
    Ok(taken.into_values().collect())
}

/// Frames of a picture.
fn frames(&(camera, quality): &(Camera, Quality)) -> u64 {
    split(camera.size, MOST_TILE).len() as u64 * u64::from(quality.plan().frames)
}

/// Pictures to take, by number, whoever takes them.
struct Orders<'a> {
    stage: &'a Stage,
    cameras: &'a [(Camera, Quality)],
    next: AtomicUsize,
    /// Frames drawn.
    done: AtomicU64,
    is_off: AtomicBool,
}

impl Orders<'_> {
    /// Takes pictures in this studio until none is left: those taken, with their numbers.
    fn fill(
        &self,
        mut studio: Studio,
        step: &mut dyn FnMut() -> ControlFlow<()>,
    ) -> Result<Vec<(usize, Picture)>, StillError> {
        let mut step = || {
            self.done.fetch_add(1, Ordering::Relaxed);
            if self.is_off.load(Ordering::Relaxed) { ControlFlow::Break(()) } else { step() }
        };
        let mut taken = Vec::new();
        studio.follow(self.stage)?;
        loop {
            let number = self.next.fetch_add(1, Ordering::Relaxed);
            let Some((camera, quality)) = self.cameras.get(number) else { break };
            studio.plan(quality.plan(), self.stage)?;
            taken.push((number, studio.take(self.stage, camera, &mut step)?));
        }
        Ok(taken)
    }

    /// The same in a studio of its own, in another thread.
    fn help(&self, plan: Plan) -> Result<Vec<(usize, Picture)>, StillError> {
        // Where there is no room for a second one, the first takes all.
        let Ok(studio) = Studio::open(plan) else { return Ok(Vec::new()) };
        self.fill(studio, &mut || ControlFlow::Continue(()))
    }
}

fn can_be_drawn(camera: &Camera) -> Result<(), StillError> {
    let (width, height) = camera.size;
    let most = StillError::MOST_PIXELS;
    if (1..=most).contains(&width) && (1..=most).contains(&height) {
        return Ok(());
    }
    Err(StillError::Size { width, height })
}

/// The engine with a stage in it.
pub(super) struct Studio {
    app: App,
    set: Set,
}

impl Studio {
    /// Starts the engine with nothing on the stage.
    pub(super) fn open(plan: Plan) -> Result<Self, StillError> {
        let mut app = start()?;
        let most = longest_side(app.world().resource());
        let set = Set::build(app.world_mut(), plan, most);
        Ok(Self { app, set })
    }

    /// Puts the bodies of a stage before the camera, and waits until they are on the device.
    pub(super) fn follow(&mut self, stage: &Stage) -> Result<(), StillError> {
        let world = self.app.world_mut();
        self.set.follow(stage, world);
        self.warm_up()
    }

    /// Takes pictures of a stage by another plan from now on, if it is another one.
    fn plan(&mut self, plan: Plan, stage: &Stage) -> Result<(), StillError> {
        if plan == self.set.plan {
            return Ok(());
        }
        self.set.plan(self.app.world_mut(), plan);
        self.follow(stage)
    }

    /// Draws small pictures until every mesh, picture, finish and pipeline is on the device.
    fn warm_up(&mut self) -> Result<(), StillError> {
        self.app.world_mut().insert_resource(DirectionalLightShadowMap { size: 64 });
        self.until_ready()?;
        self.app.world_mut().insert_resource(DirectionalLightShadowMap { size: self.set.plan.shadow_map });
        Ok(())
    }

    fn until_ready(&mut self) -> Result<(), StillError> {
        let small = new_target(self.app.world_mut(), 16, 16);
        self.aim_at(small);
        for _ in 0..MOST_WARM_UP {
            self.draw()?;
            if ready(&self.app, &self.set.cast)? {
                // What became ready in this frame is drawn in the next.
                self.draw()?;
                return self.draw();
            }
        }
        Err(StillError::lost(&"the device never took all of the cake"))
    }

    /// One frame.
    fn draw(&mut self) -> Result<(), StillError> {
        self.app.update();
        match self.app.world_mut().resource_mut::<Trouble>().0.take() {
            Some(reason) => Err(StillError::Lost { reason }),
            None => Ok(()),
        }
    }

    fn aim_at(&mut self, target: Handle<Image>) {
        self.app.world_mut().entity_mut(self.set.eye).insert(RenderTarget::Image(target.into()));
    }

    /// Takes one picture of what is on the stage; `step` is told after every frame, and may call it off.
    pub(super) fn take(
        &mut self,
        stage: &Stage,
        camera: &Camera,
        step: &mut dyn FnMut() -> ControlFlow<()>,
    ) -> Result<Picture, StillError> {
        can_be_drawn(camera)?;
        let tiles = split(camera.size, MOST_TILE);
        self.set.set_table(self.app.world_mut(), camera);
        let behind = (Srgb::new(), Backdrop::new(stage.backdrop, camera.size));
        let mut picture = Picture::filled(camera.size.0, camera.size.1, [0, 0, 0, 255]);
        let Some(&Tile { width, height, .. }) = tiles.first() else { return Ok(picture) };
        let target = new_target(self.app.world_mut(), width, height);
        let tray = Tray::new(&self.app, width, height);
        self.aim_at(target.clone());
        let pixels = camera.size.0 as usize * camera.size.1 as usize;
        let softens = self.set.plan.softens && pixels <= MOST_SOFTENED;
        let mut whole = if softens { vec![[0.0; 4]; pixels] } else { Vec::new() };
        for tile in tiles {
            let mut sum = Sum::new(width, height);
            for frame in 0..self.set.plan.frames {
                self.set.frame(self.app.world_mut(), camera, (tile, frame));
                self.draw()?;
                tray.fetch(&self.app, &target, &mut sum)?;
                if step().is_break() {
                    return Err(StillError::CalledOff);
                }
            }
            if softens {
                lay(&mut whole, camera.size.0, (&sum.means(), tile));
            } else {
                paste(&mut picture, &sum.means(), tile, &behind);
            }
        }
        if softens {
            soften(&mut whole, camera.size.0 as usize);
            paste(&mut picture, &whole, Tile { x: 0, y: 0, width: camera.size.0, height: camera.size.1 }, &behind);
        }
        Ok(picture)
    }
}

/// Whether all of the cake is on the device; an error when a pipeline can't be built.
pub(super) fn ready(app: &App, cast: &Cast) -> Result<bool, StillError> {
    let world = app.sub_app(RenderApp).world();
    let pipelines = world.resource::<PipelineCache>();
    if let Some(error) = pipelines.pipelines().find_map(|pipeline| match &pipeline.state {
        CachedPipelineState::Err(error) => Some(error.to_string()),
        _ => None,
    }) {
        return Err(StillError::Lost { reason: error });
    }
    let meshes = world.resource::<RenderAssets<RenderMesh>>();
    let images = world.resource::<RenderAssets<GpuImage>>();
    let finishes = world.resource::<ErasedRenderAssets<PreparedMaterial>>();
    let drawn = |mesh: &Handle<EngineMesh>| meshes.get(mesh).is_some();
    Ok(pipelines.waiting_pipelines().next().is_none()
        && cast.meshes().all(drawn)
        && cast.images().all(|image| images.get(image).is_some())
        && cast.finishes().all(|finish| finishes.get(finish.id()).is_some()))
}

/// Lays the pixels of a tile among those of the whole picture, `across` wide; what reaches over its edges is left out.
fn lay(whole: &mut [[f32; 4]], across: u32, (means, tile): (&[[f32; 4]], Tile)) {
    let rows = whole.chunks_exact_mut(across.max(1) as usize).skip(tile.y as usize);
    for (row, means) in rows.zip(means.chunks_exact(tile.width.max(1) as usize)) {
        for (pixel, mean) in row.iter_mut().skip(tile.x as usize).zip(means) {
            *pixel = *mean;
        }
    }
}

/// Puts the pixels of a finished tile into the picture.
fn paste(picture: &mut Picture, means: &[[f32; 4]], tile: Tile, (srgb, backdrop): &(Srgb, Backdrop)) {
    let stride = picture.width as usize * 4;
    let lines = picture.rgba.chunks_exact_mut(stride).enumerate().skip(tile.y as usize);
    for ((row, line), means) in lines.zip(means.chunks_exact(tile.width.max(1) as usize)) {
        let y = row as u32;
        let pixels = line.as_chunks_mut::<4>().0.iter_mut().skip(tile.x as usize);
        for ((x, pixel), &mean) in (tile.x..).zip(pixels).zip(means) {
            *pixel = srgb.over(mean, backdrop.at(x, y), (x, y));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tiles::split;
    use super::lay;

    #[test]
    fn tiles_make_up_the_whole_picture() {
        let mut whole = vec![[0.0; 4]; 5 * 3];
        for tile in split((5, 3), 2) {
            let at = |x: u32, y: u32| [(tile.x + x) as f32, (tile.y + y) as f32, 0.0, 1.0];
            let means: Vec<[f32; 4]> = (0..tile.height).flat_map(|y| (0..tile.width).map(move |x| at(x, y))).collect();
            lay(&mut whole, 5, (&means, tile));
        }
        for (number, pixel) in (0..).zip(&whole) {
            assert_eq!(*pixel, [(number % 5) as f32, (number / 5) as f32, 0.0, 1.0]);
        }
    }
}

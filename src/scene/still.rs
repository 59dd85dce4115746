//! Takes pictures: drives the engine frame by frame until each picture is whole.

use std::ops::ControlFlow;

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
use bevy::render::renderer::RenderDevice;
use bevy::render::texture::GpuImage;

use crate::art::Picture;
use crate::proof::view::Camera;

use super::average::{Sum, over};
use super::backdrop::Backdrop;
use super::cast::Cast;
use super::engine::{Trouble, start};
use super::error::StillError;
use super::grab::Tray;
use super::quality::{Plan, Quality};
use super::set::{Set, new_target};
use super::stage::Stage;
use super::tiles::{Tile, split};

/// No tile is wider or higher than this, px: what a small device and 1 GiB of memory take.
const MOST_TILE: u32 = 2048;

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
    let frames = |&(camera, quality): &(Camera, Quality)| {
        split(camera.size, MOST_TILE).len() as u64 * u64::from(quality.plan().frames)
    };
    let mut progress = Progress { done: 0, of: cameras.iter().map(frames).sum() };
    let mut step = || {
        progress.done += 1;
        watch(progress)
    };
    let mut pictures = Vec::with_capacity(cameras.len());
    let mut kept: Option<Studio> = None;
    for (camera, quality) in cameras {
        let plan = quality.plan();
        let mut studio = match kept.take() {
            Some(mut studio) => {
                studio.plan(plan)?;
                studio
            }
            None => {
                let mut studio = Studio::open(plan)?;
                studio.follow(stage)?;
                studio
            }
        };
        pictures.push(studio.take(stage, camera, &mut step)?);
        kept = Some(studio);
    }
    Ok(pictures)
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
        let most =
            app.world().resource::<RenderDevice>().limits().max_texture_dimension_2d.min(StillError::MOST_PIXELS);
        let set = Set::build(app.world_mut(), plan, most);
        Ok(Self { app, set })
    }

    /// Puts the bodies of a stage before the camera, and waits until they are on the device.
    pub(super) fn follow(&mut self, stage: &Stage) -> Result<(), StillError> {
        let world = self.app.world_mut();
        self.set.follow(stage, world);
        self.warm_up()
    }

    /// Takes pictures by another plan from now on, if it is another one.
    fn plan(&mut self, plan: Plan) -> Result<(), StillError> {
        if plan == self.set.plan {
            return Ok(());
        }
        self.set.plan(self.app.world_mut(), plan);
        self.warm_up()
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
        let backdrop = Backdrop::new(stage.backdrop, camera.size);
        let mut picture = Picture::filled(camera.size.0, camera.size.1, [0, 0, 0, 255]);
        let Some(&Tile { width, height, .. }) = tiles.first() else { return Ok(picture) };
        let target = new_target(self.app.world_mut(), width, height);
        let tray = Tray::new(&self.app, width, height);
        self.aim_at(target.clone());
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
            paste(&mut picture, &sum, tile, &backdrop);
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

/// Puts a finished tile into the picture.
fn paste(picture: &mut Picture, sum: &Sum, tile: Tile, backdrop: &Backdrop) {
    let stride = picture.width as usize * 4;
    for (row, line) in
        picture.rgba.chunks_exact_mut(stride).enumerate().skip(tile.y as usize).take(tile.height as usize)
    {
        let y = row as u32;
        let pixels = line.as_chunks_mut::<4>().0.iter_mut().skip(tile.x as usize);
        for ((x, pixel), mean) in (tile.x..).zip(pixels).zip(sum.row(y - tile.y)) {
            *pixel = over(mean, backdrop.at(x, y), (x, y));
        }
    }
}

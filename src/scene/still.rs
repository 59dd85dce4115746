//! Takes pictures: drives the engine frame by frame until each picture is whole.

use bevy::app::App;
use bevy::asset::{Assets, Handle};
use bevy::camera::{Camera3d, ClearColorConfig, Hdr, Projection, RenderTarget};
use bevy::color::{Color, LinearRgba};
use bevy::core_pipeline::tonemapping::{DebandDither, Tonemapping};
use bevy::ecs::entity::Entity;
use bevy::image::Image;
use bevy::light::cluster::ClusterConfig;
use bevy::light::{
    CascadeShadowConfig, DirectionalLight, DirectionalLightShadowMap, GlobalAmbientLight, ShadowFilteringMethod,
};
use bevy::math::{Quat, Vec3, Vec4};
use bevy::mesh::Mesh as EngineMesh;
use bevy::pbr::PreparedMaterial;
use bevy::render::RenderApp;
use bevy::render::erased_render_asset::ErasedRenderAssets;
use bevy::render::mesh::RenderMesh;
use bevy::render::render_asset::RenderAssets;
use bevy::render::render_resource::{CachedPipelineState, PipelineCache, TextureFormat, TextureUsages};
use bevy::render::renderer::RenderDevice;
use bevy::render::texture::GpuImage;
use bevy::render::view::Msaa;
use bevy::transform::components::Transform;
use glam::DVec2;

use crate::art::Picture;
use crate::proof::view::Camera;
use crate::shapes::box_corners;

use super::average::{Sum, over};
use super::backdrop::Backdrop;
use super::cast::{Cast, lay_table};
use super::engine::{Trouble, start};
use super::error::StillError;
use super::grab::Tray;
use super::lens::{Lens, SCENE_PER_MM, place, stand};
use super::materials::Table;
use super::quality::{Plan, Quality};
use super::shadows::Subject;
use super::stage::Stage;
use super::studio::{BOUNCE, lamps, on_the_table, spread};
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
    let pictures = take_many(stage, std::slice::from_ref(camera), quality, &mut |_| {})?;
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

/// Takes a picture of the stage with each camera; the engine starts once. `watch` is told after every frame.
///
/// # Errors
/// As [`take`].
pub fn take_many(
    stage: &Stage,
    cameras: &[Camera],
    quality: Quality,
    watch: &mut dyn FnMut(Progress),
) -> Result<Vec<Picture>, StillError> {
    let cameras: Vec<(Camera, Quality)> = cameras.iter().map(|&camera| (camera, quality)).collect();
    take_each(stage, &cameras, watch)
}

/// The same with a quality for each picture. The engine starts once for all qualities that differ in their frames only, such as
/// [`Quality::Good`] and [`Quality::Turning`].
///
/// # Errors
/// As [`take`].
pub fn take_each(
    stage: &Stage,
    cameras: &[(Camera, Quality)],
    watch: &mut dyn FnMut(Progress),
) -> Result<Vec<Picture>, StillError> {
    let most = StillError::MOST_PIXELS;
    for &(Camera { size: (width, height), .. }, _) in cameras {
        if !(1..=most).contains(&width) || !(1..=most).contains(&height) {
            return Err(StillError::Size { width, height });
        }
    }
    let frames = |&(camera, quality): &(Camera, Quality)| {
        split(camera.size, MOST_TILE).len() as u64 * u64::from(quality.plan().frames)
    };
    let mut progress = Progress { done: 0, of: cameras.iter().map(frames).sum() };
    let mut step = || {
        progress.done += 1;
        watch(progress);
    };
    let mut pictures = Vec::with_capacity(cameras.len());
    let mut kept: Option<Studio> = None;
    for (camera, quality) in cameras {
        let plan = quality.plan();
        let mut studio = match kept.take().filter(|studio| studio.plan.serves(plan)) {
            Some(studio) => Studio { plan, ..studio },
            None => Studio::set_up(stage, plan)?,
        };
        pictures.push(studio.take(stage, camera, &mut step)?);
        kept = Some(studio);
    }
    Ok(pictures)
}

/// The engine with the stage in it.
struct Studio {
    app: App,
    plan: Plan,
    eye: Entity,
    lamps: Vec<Entity>,
    table: (Handle<Table>, Entity),
}

impl Studio {
    fn set_up(stage: &Stage, plan: Plan) -> Result<Self, StillError> {
        let mut app = start()?;
        let most =
            app.world().resource::<RenderDevice>().limits().max_texture_dimension_2d.min(StillError::MOST_PIXELS);
        let world = app.world_mut();
        let cast = Cast::of(stage, world, most);
        let (low, high) = stage.bounds();
        world.insert_resource(Subject(box_corners(low, high).map(place).to_vec()));
        world.insert_resource(GlobalAmbientLight {
            color: Color::WHITE,
            brightness: BOUNCE as f32,
            ..Default::default()
        });
        world.insert_resource(DirectionalLightShadowMap { size: 64 });
        let table = lay_table(world);
        let lamps = lamps(&plan, 0, 0.0).iter().map(|_| world.spawn((light(), whole_reach())).id()).collect();
        let eye = world.spawn(eye(&plan)).id();
        let mut studio = Self { app, plan, eye, lamps, table };
        studio.warm_up(&cast)?;
        studio.app.world_mut().insert_resource(DirectionalLightShadowMap { size: plan.shadow_map });
        Ok(studio)
    }

    /// Draws small pictures until every mesh, picture, finish and pipeline is on the device.
    fn warm_up(&mut self, cast: &Cast) -> Result<(), StillError> {
        let small = new_target(&mut self.app, 16, 16);
        self.aim_at(small);
        for _ in 0..MOST_WARM_UP {
            self.draw()?;
            if ready(&self.app, cast)? {
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
        self.app.world_mut().entity_mut(self.eye).insert(RenderTarget::Image(target.into()));
    }

    fn take(&mut self, stage: &Stage, camera: &Camera, step: &mut dyn FnMut()) -> Result<Picture, StillError> {
        let tiles = split(camera.size, MOST_TILE);
        self.set_table(stage, camera);
        self.app.world_mut().entity_mut(self.eye).insert(stand(camera));
        let backdrop = Backdrop::new(stage.backdrop, camera.size);
        let mut picture = Picture::filled(camera.size.0, camera.size.1, [0, 0, 0, 255]);
        let Some(&Tile { width, height, .. }) = tiles.first() else { return Ok(picture) };
        let target = new_target(&mut self.app, width, height);
        let tray = Tray::new(&self.app, width, height);
        self.aim_at(target.clone());
        for tile in tiles {
            let mut sum = Sum::new(width, height);
            for frame in 0..self.plan.frames {
                self.set_frame(camera, tile, frame);
                self.draw()?;
                tray.fetch(&self.app, &target, &mut sum)?;
                step();
            }
            paste(&mut picture, &sum, tile, &backdrop);
        }
        Ok(picture)
    }

    /// Turns the lamps and nudges the lens for one frame of the average.
    fn set_frame(&mut self, camera: &Camera, tile: Tile, frame: u32) {
        let lens = Lens::new(camera, tile, nudge(&self.plan, frame));
        let lamps = lamps(&self.plan, frame, camera.direction.azimuth.as_radians());
        let world = self.app.world_mut();
        world.entity_mut(self.eye).insert(Projection::custom(lens));
        for (&entity, lamp) in self.lamps.iter().zip(lamps) {
            // The engine's lights shine along their -Z.
            let turn = Quat::from_rotation_arc(Vec3::Z, lamp.towards.as_vec3());
            if let Some(mut light) = world.get_mut::<DirectionalLight>(entity) {
                light.illuminance = lamp.power as f32;
            }
            if let Some(mut transform) = world.get_mut::<Transform>(entity) {
                transform.rotation = turn;
            }
        }
    }

    /// Lays the table at its height, so wide that its shadow has faded before the picture's corners.
    fn set_table(&mut self, stage: &Stage, camera: &Camera) {
        let (low, high) = stage.bounds();
        let radius = low.abs().max(high.abs()).with_y(0.0).length().max(10.0);
        let end = nearest_corner(camera, stage.floor).mul_add(0.98, 0.0).clamp(1.05 * radius, 4.0 * radius);
        let begin = radius.max(0.4 * end).min(0.9 * end);
        let scene = |mm: f64| (mm * SCENE_PER_MM) as f32;
        let values = Vec4::new(scene(begin), scene(end), on_the_table(&self.plan) as f32, 0.0);
        let world = self.app.world_mut();
        let _ = world.resource_mut::<Assets<Table>>().insert(&self.table.0, Table { values });
        let spread = Vec3::new(scene(end), 1.0, scene(end));
        world.entity_mut(self.table.1).insert(Transform::from_xyz(0.0, scene(stage.floor), 0.0).with_scale(spread));
    }
}

/// A lamp that is turned later.
fn light() -> DirectionalLight {
    DirectionalLight { shadow_maps_enabled: true, ..DirectionalLight::default() }
}

/// One shadow map for whatever distance.
fn whole_reach() -> CascadeShadowConfig {
    CascadeShadowConfig { bounds: vec![1.0e4], overlap_proportion: 0.0, minimum_distance: 0.0 }
}

/// The camera: linear light, no curve laid over it, nothing behind the bodies.
fn eye(plan: &Plan) -> impl bevy::ecs::bundle::Bundle {
    let camera = bevy::camera::Camera {
        clear_color: ClearColorConfig::Custom(Color::LinearRgba(LinearRgba::NONE)),
        ..Default::default()
    };
    let samples = if plan.samples > 1 { Msaa::Sample4 } else { Msaa::Off };
    // A single frame needs its shadows blurred; over several the lamps do that, and the cheap filter is half the time.
    let shadows = if plan.frames > 1 { ShadowFilteringMethod::Hardware2x2 } else { ShadowFilteringMethod::Gaussian };
    let plain = (Tonemapping::None, DebandDither::Disabled, ClusterConfig::Single, shadows);
    (Camera3d::default(), camera, Hdr, samples, plain)
}

/// A target of half floats.
fn new_target(app: &mut App, width: u32, height: u32) -> Handle<Image> {
    let mut image = Image::new_target_texture(width, height, TextureFormat::Rgba16Float, None);
    image.texture_descriptor.usage |= TextureUsages::COPY_SRC;
    app.world_mut().resource_mut::<Assets<Image>>().add(image)
}

/// Whether all of the cake is on the device; an error when a pipeline can't be built.
fn ready(app: &App, cast: &Cast) -> Result<bool, StillError> {
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

/// Where within a pixel a frame looks, px from its middle: a tent, two pixels wide (edges neither stepped nor blurred).
fn nudge(plan: &Plan, frame: u32) -> DVec2 {
    if plan.frames == 1 {
        return DVec2::ZERO;
    }
    let tent = |even: f64| {
        if even < 0.5 { (2.0 * even).sqrt() - 1.0 } else { 1.0 - (2.0 - 2.0 * even).sqrt() }
    };
    let (across, down) = spread(frame + 1);
    // With several samples a frame the frame itself is a pixel wide already.
    let width = if plan.samples > 1 { 0.5 } else { 0.8 };
    DVec2::new(tent(across), tent(down)) * width
}

/// How near to the middle a corner of the picture looks onto the table, mm; infinite when all look over it.
fn nearest_corner(camera: &Camera, floor: f64) -> f64 {
    let (right, up) = camera.direction.axes();
    let tangent = (camera.field.as_radians() / 2.0).tan();
    let corners = [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)].into_iter();
    let hits = corners.filter_map(|(x, y)| {
        let ray = right * x * tangent * camera.aspect() + up * y * tangent - camera.direction.towards_eye();
        let steps = (floor - camera.eye.y) / ray.y;
        (steps > 0.0).then(|| (camera.eye + ray * steps).with_y(0.0).length())
    });
    hits.fold(f64::INFINITY, f64::min)
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

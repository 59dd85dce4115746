//! The set of the studio: lamps, table and eye on the engine's stage, and the bodies before them.

mod cast;
mod coarse;
mod lens;
mod materials;
mod mesh;
mod shadows;
mod studio;
mod texture;

use bevy::asset::{Assets, Handle};
use bevy::camera::visibility::RenderLayers;
use bevy::camera::{Camera3d, ClearColorConfig, Hdr, Projection};
use bevy::color::{Color, LinearRgba};
use bevy::core_pipeline::prepass::DepthPrepass;
use bevy::core_pipeline::tonemapping::{DebandDither, Tonemapping};
use bevy::ecs::entity::Entity;
use bevy::ecs::world::World;
use bevy::image::{Image, ImageSampler};
use bevy::light::cluster::ClusterConfig;
use bevy::light::{
    CascadeShadowConfig, DirectionalLight, DirectionalLightShadowMap, GlobalAmbientLight, ShadowFilteringMethod,
};
use bevy::math::{Quat, Vec3, Vec4};
use bevy::render::render_resource::{TextureFormat, TextureUsages};
use bevy::render::view::Msaa;
use bevy::transform::components::Transform;
use glam::DVec2;

use crate::proof::view::Camera;
use crate::shapes::box_corners;

use super::quality::Plan;
use super::stage::Stage;
use super::tiles::Tile;
use cast::{SHADOWS_ONLY, lay_table};
use lens::{Lens, SCENE_PER_MM, place, stand};
use shadows::Subject;
use studio::{BOUNCE, lamps, on_the_table, spread};

pub(super) use cast::Cast;
pub(super) use coarse::Grain;
pub(super) use materials::{Finish, Table, add_shaders};
pub(super) use shadows::add as add_shadows;

/// Lamps, table, eye and bodies.
pub(super) struct Set {
    pub(super) plan: Plan,
    pub(super) eye: Entity,
    pub(super) cast: Cast,
    lamps: Vec<Entity>,
    table: (Handle<Table>, Entity),
    /// How far the bodies reach from the middle of the table, mm.
    radius: f64,
    floor: f64,
}

impl Set {
    /// An empty set; no picture gets a side longer than `most` px.
    pub(super) fn build(world: &mut World, plan: Plan, most: u32) -> Self {
        world.insert_resource(GlobalAmbientLight {
            color: Color::WHITE,
            brightness: BOUNCE as f32,
            ..Default::default()
        });
        world.insert_resource(DirectionalLightShadowMap { size: plan.shadow_map });
        let table = lay_table(world);
        let lamps = hung(world, &plan);
        let eye = world.spawn((Camera3d::default(), camera())).id();
        set_eye(world, eye, &plan);
        Self { plan, eye, cast: Cast::new(most), lamps, table, radius: 10.0, floor: 0.0 }
    }

    /// Takes pictures by another plan from now on; the bodies stay as they are until the next [`Set::follow`].
    pub(super) fn plan(&mut self, world: &mut World, plan: Plan) {
        for lamp in self.lamps.drain(..) {
            world.despawn(lamp);
        }
        self.lamps = hung(world, &plan);
        self.plan = plan;
        set_eye(world, self.eye, &plan);
        world.insert_resource(DirectionalLightShadowMap { size: plan.shadow_map });
    }

    /// Puts the bodies of a stage on the set; those that are there already stay.
    pub(super) fn follow(&mut self, stage: &Stage, world: &mut World) {
        self.cast.follow(&stage.bodies, self.plan.grains, world);
        let (low, high) = stage.bounds();
        world.insert_resource(Subject(box_corners(low, high).map(place).to_vec()));
        self.radius = low.abs().max(high.abs()).with_y(0.0).length().max(10.0);
        self.floor = stage.floor;
    }

    /// Sets eye, lamps and table for one tile of one frame of a picture.
    pub(super) fn frame(&self, world: &mut World, camera: &Camera, (tile, frame): (Tile, u32)) {
        let lens = Lens::new(camera, tile, nudge(&self.plan, frame));
        world.entity_mut(self.eye).insert((stand(camera), Projection::custom(lens)));
        let lamps = lamps(&self.plan, frame, camera.direction.azimuth.as_radians());
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
    pub(super) fn set_table(&self, world: &mut World, camera: &Camera) {
        let (radius, floor) = (self.radius, self.floor);
        let end = nearest_corner(camera, floor).mul_add(0.98, 0.0).clamp(1.05 * radius, 4.0 * radius);
        let begin = radius.max(0.4 * end).min(0.9 * end);
        let scene = |mm: f64| (mm * SCENE_PER_MM) as f32;
        let values = Vec4::new(scene(begin), scene(end), on_the_table(&self.plan) as f32, 0.0);
        let _ = world.resource_mut::<Assets<Table>>().insert(&self.table.0, Table { values });
        let spread = Vec3::new(scene(end), 1.0, scene(end));
        world.entity_mut(self.table.1).insert(Transform::from_xyz(0.0, scene(floor), 0.0).with_scale(spread));
    }
}

/// The lamps of a plan.
fn hung(world: &mut World, plan: &Plan) -> Vec<Entity> {
    let layers = RenderLayers::default().with(SHADOWS_ONLY);
    lamps(plan, 0, 0.0).iter().map(|_| world.spawn((light(), whole_reach(), layers.clone())).id()).collect()
}

/// A lamp that is turned later.
fn light() -> DirectionalLight {
    DirectionalLight { shadow_maps_enabled: true, ..DirectionalLight::default() }
}

/// One shadow map for whatever distance.
fn whole_reach() -> CascadeShadowConfig {
    CascadeShadowConfig { bounds: vec![1.0e4], overlap_proportion: 0.0, minimum_distance: 0.0 }
}

/// A camera with nothing behind the bodies.
pub(super) fn camera() -> bevy::camera::Camera {
    bevy::camera::Camera {
        clear_color: ClearColorConfig::Custom(Color::LinearRgba(LinearRgba::NONE)),
        ..Default::default()
    }
}

/// The eye for a plan: linear light, no curve laid over it.
fn set_eye(world: &mut World, eye: Entity, plan: &Plan) {
    let samples = if plan.samples > 1 { Msaa::Sample4 } else { Msaa::Off };
    // Of the engine's filters only the name is used, see studio.wgsl: the first blurs a single frame.
    let shadows = if plan.blurs { ShadowFilteringMethod::Gaussian } else { ShadowFilteringMethod::Hardware2x2 };
    let mut eye = world.entity_mut(eye);
    eye.insert((Hdr, samples, Tonemapping::None, DebandDither::Disabled, ClusterConfig::Single, shadows));
    if plan.depth_first {
        eye.insert(DepthPrepass);
    } else {
        eye.remove::<DepthPrepass>();
    }
}

/// A target of half floats.
pub(super) fn new_target(world: &mut World, width: u32, height: u32) -> Handle<Image> {
    let mut image = Image::new_target_texture(width, height, TextureFormat::Rgba16Float, None);
    image.texture_descriptor.usage |= TextureUsages::COPY_SRC;
    // A coarse picture that is shown larger is blurred rather than broken into squares.
    image.sampler = ImageSampler::linear();
    world.resource_mut::<Assets<Image>>().add(image)
}

/// Where within a pixel a frame looks, px from its middle: a tent, two pixels wide (edges neither stepped nor blurred).
fn nudge(plan: &Plan, frame: u32) -> DVec2 {
    match (plan.frames, frame) {
        (1, _) => return DVec2::ZERO,
        // Too few for a spread that is even in every direction.
        (2, 0) => return DVec2::splat(-0.25),
        (2, _) => return DVec2::splat(0.25),
        _ => {}
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

//! Fits each lamp's shadow map to the cake alone.
//!
//! The engine would fit it to what the camera sees; then each tile of a large picture would have other shadows, and most of
//! a map would be spent on the table. Only the cake throws shadows, so only the cake needs to be in the map.

use bevy::app::{App, PostUpdate};
use bevy::camera::Camera;
use bevy::ecs::entity::Entity;
use bevy::ecs::query::With;
use bevy::ecs::resource::Resource;
use bevy::ecs::schedule::IntoScheduleConfigs;
use bevy::ecs::system::{Query, Res};
use bevy::light::cascade::Cascade;
use bevy::light::{Cascades, DirectionalLightShadowMap, SimulationLightSystems};
use bevy::math::{Mat4, Vec3, Vec4};
use bevy::transform::components::GlobalTransform;

/// The corners of what throws shadows, in scene units.
#[derive(Resource, Default)]
pub(super) struct Subject(pub Vec<Vec3>);

/// Hooks the fitting in behind the engine's own.
pub(in crate::scene) fn add(app: &mut App) {
    let fitting = fit
        .after(SimulationLightSystems::UpdateDirectionalLightCascades)
        .before(SimulationLightSystems::UpdateLightFrusta);
    app.init_resource::<Subject>().add_systems(PostUpdate, fitting);
}

#[expect(clippy::needless_pass_by_value, reason = "the engine hands resources to its systems by value")]
fn fit(
    subject: Res<Subject>,
    map: Res<DirectionalLightShadowMap>,
    views: Query<Entity, With<Camera>>,
    mut lamps: Query<(&GlobalTransform, &mut Cascades)>,
) {
    for (stand, mut cascades) in &mut lamps {
        let cascade = cascade(&subject.0, map.size, Mat4::from_quat(stand.rotation()));
        for view in &views {
            cascades.cascades.insert(view, vec![cascade.clone()]);
        }
    }
}

/// The map of a lamp that is turned by `world_from_lamp` (the lamp shines along -Z): a box round the subject, reverse depth.
fn cascade(subject: &[Vec3], map_size: usize, world_from_lamp: Mat4) -> Cascade {
    let lamp_from_world = world_from_lamp.transpose();
    let seen = subject.iter().map(|&corner| lamp_from_world.transform_point3(corner));
    let (low, high) = seen.fold((Vec3::MAX, Vec3::MIN), |(low, high), at| (low.min(at), high.max(at)));
    let size = (high - low).max(Vec3::splat(0.01));
    // The filter reads 2.5 pixels beyond a place.
    let margin = 1.0 + 8.0 / map_size as f32;
    let middle = ((low + high) / 2.0).with_z(high.z);
    // What lies behind the cake as seen from the lamp is in shadow too, however far.
    let depth = size.z + 10.0 * size.max_element();
    let (width, height) = (size.x * margin, size.y * margin);
    let clip_from_cascade = Mat4::from_cols(
        Vec4::new(2.0 / width, 0.0, 0.0, 0.0),
        Vec4::new(0.0, 2.0 / height, 0.0, 0.0),
        Vec4::new(0.0, 0.0, 1.0 / depth, 0.0),
        Vec4::new(0.0, 0.0, 1.0, 1.0),
    );
    let cascade_from_world = Mat4::from_translation(-middle) * lamp_from_world;
    Cascade {
        world_from_cascade: world_from_lamp * Mat4::from_translation(middle),
        clip_from_cascade,
        clip_from_world: clip_from_cascade * cascade_from_world,
        texel_size: width.max(height) / map_size as f32,
    }
}

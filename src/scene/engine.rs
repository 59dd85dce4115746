//! The engine, without a window or in one: a driver is found first, so that a machine without one gets a sentence and not a crash.

use bevy::DefaultPlugins;
use bevy::app::{App, PluginGroup, PluginGroupBuilder};
use bevy::asset::AssetPlugin;
use bevy::ecs::resource::Resource;
use bevy::ecs::world::World;
use bevy::log::LogPlugin;
use bevy::pbr::{MaterialPlugin, PbrPlugin};
use bevy::render::RenderPlugin;
use bevy::render::error_handler::{RenderError, RenderErrorHandler, RenderErrorPolicy};
use bevy::render::pipelined_rendering::PipelinedRenderingPlugin;
use bevy::render::renderer::{
    RenderAdapter, RenderAdapterInfo, RenderDevice, RenderInstance, RenderQueue, WgpuWrapper,
};
use bevy::render::settings::RenderCreation;
use bevy::tasks::block_on;
use bevy::window::{ExitCondition, Window, WindowPlugin};
use bevy::winit::WinitPlugin;
use std::sync::Arc;

use super::error::StillError;
use super::set::{Finish, Table, add_shaders, add_shadows};

/// What went wrong while drawing, if anything did.
#[derive(Resource, Default)]
pub(super) struct Trouble(pub Option<String>);

/// Starts the engine without a window, on the best device there is.
pub(super) fn start() -> Result<App, StillError> {
    let none =
        WindowPlugin { primary_window: None, exit_condition: ExitCondition::DontExit, ..WindowPlugin::default() };
    let plugins = plugins(block_on(find_device())?, none).disable::<WinitPlugin>();
    let mut app = with_studio(plugins);
    app.finish();
    app.cleanup();
    Ok(app)
}

/// The engine in a window, on the best device there is; it starts when the app runs.
///
/// # Errors
/// When there is no graphics driver.
pub fn in_window(window: Window) -> Result<App, StillError> {
    // Whether the window may close is for whoever is asked about what is not saved.
    let window = WindowPlugin {
        primary_window: Some(window),
        exit_condition: ExitCondition::DontExit,
        close_when_requested: false,
        ..WindowPlugin::default()
    };
    Ok(with_studio(plugins(block_on(find_device())?, window)))
}

fn plugins(device: RenderCreation, window: WindowPlugin) -> PluginGroupBuilder {
    let render =
        RenderPlugin { render_creation: device, synchronous_pipeline_compilation: true, ..RenderPlugin::default() };
    // No file is ever asked for; this folder doesn't exist, and nothing is looked for in it.
    let files = AssetPlugin { file_path: "no-files".to_owned(), ..AssetPlugin::default() };
    let surfaces =
        PbrPlugin { prepass_enabled: true, add_default_deferred_lighting_plugin: false, ..PbrPlugin::default() };
    let plugins = DefaultPlugins.set(render).set(window).set(files).set(surfaces);
    plugins.disable::<LogPlugin>().disable::<PipelinedRenderingPlugin>()
}

fn with_studio(plugins: PluginGroupBuilder) -> App {
    let mut app = App::new();
    app.add_plugins(plugins)
        .add_plugins((MaterialPlugin::<Finish>::default(), MaterialPlugin::<Table>::default()))
        .init_resource::<Trouble>()
        .insert_resource(RenderErrorHandler(note_trouble));
    add_shadows(&mut app);
    add_shaders(&mut app.world_mut().resource_mut());
    app
}

/// Keeps the engine's complaint for the error that is returned.
fn note_trouble(error: &RenderError, world: &mut World, _: &mut World) -> RenderErrorPolicy {
    world.insert_resource(Trouble(Some(format!("{:?} {}", error.ty, error.description).trim_end().to_owned())));
    RenderErrorPolicy::StopRendering
}

/// Opens the best adapter: a graphics card before a processor that imitates one.
async fn find_device() -> Result<RenderCreation, StillError> {
    // Drawing without a window needs one of these; the OpenGL back end can't do it.
    let backends = wgpu::Backends::PRIMARY;
    let instance = wgpu::Instance::new(wgpu::InstanceDescriptor {
        backends,
        flags: wgpu::InstanceFlags::empty(),
        ..wgpu::InstanceDescriptor::new_without_display_handle()
    });
    let adapters = instance.enumerate_adapters(backends).await;
    let Some(adapter) = adapters.into_iter().min_by_key(|adapter| rank(adapter.get_info().device_type)) else {
        return Err(StillError::NoDriver);
    };
    let info = adapter.get_info();
    let wanted = wgpu::DeviceDescriptor {
        // Little beyond the core: with more, Bevy sorts meshes on the device, in shaders that Mesa's software
        // rasteriser compiles for longer than it draws. Without control of depth clipping, Bevy runs a shader for every
        // pixel of every shadow map: half of a picture's time there.
        required_features: adapter.features()
            & (wgpu::Features::TEXTURE_ADAPTER_SPECIFIC_FORMAT_FEATURES | wgpu::Features::DEPTH_CLIP_CONTROL),
        required_limits: adapter.limits(),
        ..wgpu::DeviceDescriptor::default()
    };
    let (device, queue) = adapter
        .request_device(&wanted)
        .await
        .map_err(|error| StillError::NoDevice { name: info.name.clone(), reason: error.to_string() })?;
    Ok(RenderCreation::manual(
        RenderDevice::from(device),
        RenderQueue(Arc::new(WgpuWrapper::new(queue))),
        RenderAdapterInfo(WgpuWrapper::new(info)),
        RenderAdapter(Arc::new(WgpuWrapper::new(adapter))),
        RenderInstance(Arc::new(WgpuWrapper::new(instance))),
    ))
}

/// Why the engine stopped drawing, once it did: its device is gone.
#[must_use]
pub fn trouble(world: &World) -> Option<&str> {
    world.get_resource::<Trouble>()?.0.as_deref()
}

/// Whether a processor imitates the graphics card: then everything drawn costs what else it could do.
pub(super) fn is_imitated(world: &World) -> bool {
    world.get_resource::<RenderAdapterInfo>().is_some_and(|info| info.device_type == wgpu::DeviceType::Cpu)
}

/// The longest side of a picture on this device, px.
#[must_use]
pub fn longest_side(device: &RenderDevice) -> u32 {
    device.limits().max_texture_dimension_2d.min(StillError::MOST_PIXELS)
}

/// Smaller is better.
fn rank(device: wgpu::DeviceType) -> u8 {
    match device {
        wgpu::DeviceType::DiscreteGpu => 0,
        wgpu::DeviceType::IntegratedGpu => 1,
        wgpu::DeviceType::VirtualGpu => 2,
        wgpu::DeviceType::Other => 3,
        wgpu::DeviceType::Cpu => 4,
    }
}

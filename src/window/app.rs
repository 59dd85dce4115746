//! The engine with the window's systems.

use std::time::{Duration, Instant};

use bevy::app::{AppExit, PostUpdate, Update};
use bevy::camera::{Camera2d, ClearColor};
use bevy::color::Color;
use bevy::ecs::message::{MessageReader, MessageWriter};
use bevy::ecs::query::With;
use bevy::ecs::schedule::IntoScheduleConfigs;
use bevy::ecs::system::{Local, NonSend, NonSendMut, Query, Res, ResMut};
use bevy::ecs::world::World;
use bevy::render::renderer::RenderDevice;
use bevy::window::{
    PresentMode, PrimaryWindow, RequestRedraw, Window, WindowCloseRequested, WindowFocused, WindowResizeConstraints,
};
use bevy::winit::{EventLoopProxyWrapper, UpdateMode, WinitSettings, WinitUserEvent};
use bevy_egui::{
    EguiContext, EguiGlobalSettings, EguiInput, EguiPlugin, EguiPostUpdateSet, EguiPrimaryContextPass,
    EguiRenderOutput, EguiUserTextures, PrimaryEguiContext,
};
use egui::{Event, Modifiers};

use super::chords::chords;
use super::frame::frame;
use super::pictures::Pictures;
use super::room::Room;
use super::saver::Order;
use super::wake::Waker;
use crate::art::Colour;
use crate::panels::words;
use crate::scene::{Live, LiveSystems, Stage, StillError, add_live, in_window, longest_side, trouble};

pub use super::room::Setting;

/// The size that a window opens with, and the least it may have, points.
const SIZE: (u32, u32) = (1280, 800);
const LEAST: (f32, f32) = (1024.0, 640.0);

/// Why the window can't be opened.
#[derive(Debug, thiserror::Error)]
pub enum WindowError {
    /// Nothing on this machine can draw.
    #[error(transparent)]
    Engine(#[from] StillError),
    /// There is no screen.
    #[error(
        "there is no screen to open a window on (neither DISPLAY nor WAYLAND_DISPLAY is set); run this on a desktop"
    )]
    NoScreen,
    /// The design can't be opened.
    #[error("{0}")]
    Design(String),
    /// The engine ended with a fault.
    #[error("the window ended with a fault; the design is saved up to its last second")]
    Fault,
}

/// Opens the window, and comes back when it is closed.
///
/// # Errors
/// When there is no screen or no graphics driver, or the design can't be opened.
pub fn open(setting: Setting) -> Result<(), WindowError> {
    if cfg!(all(unix, not(target_os = "macos"))) && !has_screen() {
        return Err(WindowError::NoScreen);
    }
    let window = Window {
        title: words::PROGRAM.to_owned(),
        name: Some("tierproof".to_owned()),
        resolution: SIZE.into(),
        resize_constraints: WindowResizeConstraints {
            min_width: LEAST.0,
            min_height: LEAST.1,
            ..WindowResizeConstraints::default()
        },
        present_mode: PresentMode::AutoVsync,
        ..Window::default()
    };
    let mut app = in_window(window)?;
    app.add_plugins(EguiPlugin::default());
    let rest = UpdateMode::Reactive {
        wait: Duration::MAX,
        react_to_device_events: false,
        react_to_user_events: true,
        react_to_window_events: true,
    };
    app.insert_resource(WinitSettings { focused_mode: rest, unfocused_mode: rest });
    // Behind everything, so that the cake never stands in the dark while its picture is coming.
    let Colour { red, green, blue } = Stage::BACKDROP;
    app.insert_resource(ClearColor(Color::srgb_u8(red, green, blue)));
    app.world_mut().resource_mut::<EguiGlobalSettings>().auto_create_primary_context = false;
    // From here on the engine has its device.
    app.finish();
    app.cleanup();
    app.world_mut().spawn((Camera2d, PrimaryEguiContext));
    add_live(&mut app);
    app.configure_sets(PostUpdate, LiveSystems.after(EguiPostUpdateSet::EndPass));
    let proxy = (**app.world().resource::<EventLoopProxyWrapper>()).clone();
    let waker = Waker::new(move || {
        // A loop that has ended needs no waking.
        let _ = proxy.send_event(WinitUserEvent::WakeUp);
    });
    let room = Room::enter(setting, waker).map_err(WindowError::Design)?;
    app.insert_non_send(room);
    let between = settle.after(EguiPostUpdateSet::ProcessOutput).before(EguiPostUpdateSet::PostProcessOutput);
    app.add_systems(PostUpdate, between);
    app.add_systems(EguiPrimaryContextPass, draw)
        .add_systems(Update, (close, focus, name, fail, (chords, hush, clock, measure).chain()));
    match app.run() {
        AppExit::Success => Ok(()),
        AppExit::Error(_) => Err(WindowError::Fault),
    }
}

fn has_screen() -> bool {
    ["DISPLAY", "WAYLAND_DISPLAY"].iter().any(|name| std::env::var_os(name).is_some_and(|value| !value.is_empty()))
}

/// Lays out and draws what is to be seen.
fn draw(
    mut contexts: Query<&mut EguiContext, With<PrimaryEguiContext>>,
    mut room: NonSendMut<Room>,
    (mut live, mut textures): (ResMut<Live>, ResMut<EguiUserTextures>),
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let Ok(mut context) = contexts.single_mut() else { return };
    let mut album = std::mem::take(&mut room.album);
    let mut pictures = Pictures { album: &mut album, live: &mut live, textures: &mut textures };
    let is_more = frame(context.get_mut(), &mut room, &mut pictures);
    // Whatever moved is looked at once more, to see that it came to rest.
    if is_more || album.is_moving() || live.is_moving() {
        redraw.write(RequestRedraw);
    }
    room.album = album;
}

/// Ends when the graphics device is gone: what is open is saved first.
fn fail(world: &mut World) {
    let Some(reason) = trouble(world).map(str::to_owned) else { return };
    if let Some(mut room) = world.get_non_send_mut::<Room>()
        && room.fault.is_none()
    {
        room.leave();
        room.fault = Some(reason);
        world.write_message(AppExit::error());
    }
}

/// Takes out what is no news: the panels' library is told in each frame which keys are held, and would draw another frame for it.
fn hush(mut inputs: Query<&mut EguiInput>, mut held: Local<Modifiers>) {
    for mut input in &mut inputs {
        input.events.retain(|event| match event {
            Event::ModifiersChanged(now) => std::mem::replace(&mut *held, *now) != *now,
            _ => true,
        });
    }
}

/// Tells the panels how large a picture may be: as large as the device takes, for the cake of a large screen is one.
#[expect(clippy::needless_pass_by_value, reason = "the engine hands resources to its systems by value")]
fn measure(mut inputs: Query<&mut EguiInput>, device: Res<RenderDevice>) {
    let most = longest_side(&device) as usize;
    inputs.iter_mut().for_each(|mut input| input.max_texture_side = Some(most));
}

/// Tells the panels what time it is. The engine's own clock is that of the last frame drawn: after a rest, a button that goes down
/// would seem to have done so long ago, and would be no click when it comes up.
fn clock(mut inputs: Query<&mut EguiInput>, mut began: Local<Option<Instant>>) {
    let now = began.get_or_insert_with(Instant::now).elapsed().as_secs_f64();
    inputs.iter_mut().for_each(|mut input| input.time = Some(now));
}

/// Letters and pictures that are new are on the device in the next frame only: there has to be one.
fn settle(outputs: Query<&EguiRenderOutput>, mut redraw: MessageWriter<RequestRedraw>) {
    if outputs.iter().any(|output| !output.textures_delta.is_empty()) {
        redraw.write(RequestRedraw);
    }
}

/// Closes the window once everything is saved, or the person knows that it can't be.
fn close(mut asked: MessageReader<WindowCloseRequested>, mut room: NonSendMut<Room>, mut exit: MessageWriter<AppExit>) {
    if asked.read().count() > 0 && room.may_close() {
        exit.write(AppExit::Success);
    }
}

/// When the window is looked at again, another may have changed the design, its art or its approvals meanwhile.
fn focus(mut changes: MessageReader<WindowFocused>, mut room: NonSendMut<Room>) {
    if changes.read().any(|change| change.focused)
        && let Some(open) = &mut room.open
    {
        open.ask_saver(Order::Look);
        open.read_art_again();
        if let Err(words) = open.read_approvals() {
            room.say(words, "nothing was changed");
        }
    }
}

/// Says in the window's title what is open.
#[expect(clippy::needless_pass_by_value, reason = "the engine hands resources to its systems by value")]
fn name(mut windows: Query<&mut Window, With<PrimaryWindow>>, room: NonSend<Room>) {
    let title = room.title();
    if let Ok(mut window) = windows.single_mut()
        && window.title != title
    {
        window.title = title;
    }
}

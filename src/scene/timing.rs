//! How long a frame of the moving picture takes, measured on this machine without a window.

use std::time::{Duration, Instant};

use bevy::app::App;
use bevy::camera::RenderTarget;
use bevy::render::RenderApp;
use bevy::render::render_resource::PollType;
use bevy::render::renderer::{RenderAdapterInfo, RenderDevice};

use crate::proof::view::{Camera, Direction};

use super::engine::{is_imitated, start};
use super::error::StillError;
use super::quality::Plan;
use super::set::{Set, new_target};
use super::stage::Stage;
use super::still::ready;
use super::tiles::Tile;

/// Frames before the clock runs: until all is on the device, and its own clocks are up.
const WARM_UP: u32 = 40;

/// What was measured.
#[derive(Clone, Debug)]
pub struct FrameTimes {
    /// What the graphics driver calls the device, and how it is driven.
    pub device: String,
    /// Each frame, from its first line of code until the device has drawn it, the shortest first.
    pub frames: Vec<Duration>,
}

impl FrameTimes {
    /// The frame time that so many of a hundred frames keep within.
    #[must_use]
    pub fn within(&self, percent: usize) -> Duration {
        let last = self.frames.len().saturating_sub(1);
        self.frames.get((last * percent.min(100)).div_ceil(100)).copied().unwrap_or_default()
    }
}

/// Walks round a stage by `count` frames of `size` px; `each` gives the stage of each frame, the same again for one that only
/// the eye moves in.
///
/// # Errors
/// When there is no graphics driver, or the device fails.
pub fn frame_times(
    each: &mut dyn FnMut(u32) -> std::sync::Arc<Stage>,
    size: (u32, u32),
    count: u32,
) -> Result<FrameTimes, StillError> {
    let mut app = start()?;
    let plan = if is_imitated(app.world()) { Plan::MOVING_SOFTLY } else { Plan::MOVING };
    let mut set = Set::build(app.world_mut(), plan, StillError::MOST_PIXELS);
    let mut stage = each(0);
    set.follow(&stage, app.world_mut());
    let target = new_target(app.world_mut(), size.0, size.1);
    app.world_mut().entity_mut(set.eye).insert(RenderTarget::Image(target.into()));
    let (low, high) = stage.bounds();
    let corners = [low, high];
    let mut frames = Vec::new();
    for number in 0..WARM_UP + count {
        let begin = Instant::now();
        let next = each(number);
        if !std::sync::Arc::ptr_eq(&next, &stage) {
            set.follow(&next, app.world_mut());
            stage = next;
        }
        let camera = Camera::framing(Direction::new(f64::from(number), 16.0), &corners, size, 0.0);
        set.set_table(app.world_mut(), &camera);
        set.frame(app.world_mut(), &camera, (Tile { x: 0, y: 0, width: size.0, height: size.1 }, 0));
        app.update();
        wait(&app)?;
        if number >= WARM_UP {
            frames.push(begin.elapsed());
        } else if number + 1 == WARM_UP && !ready(&app, &set.cast)? {
            return Err(StillError::lost(&"the device never took all of the cake"));
        }
    }
    frames.sort();
    Ok(FrameTimes { device: device(&app), frames })
}

/// Waits until the device has drawn what it was given.
fn wait(app: &App) -> Result<(), StillError> {
    let device = app.sub_app(RenderApp).world().resource::<RenderDevice>();
    device.poll(PollType::wait_indefinitely()).map(drop).map_err(|error| StillError::lost(&error))
}

fn device(app: &App) -> String {
    let info = app.world().get_resource::<RenderAdapterInfo>();
    info.map_or_else(String::new, |info| format!("{} ({:?}, {})", info.name, info.backend, info.driver_info))
}

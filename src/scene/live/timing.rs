//! How long a frame of the moving picture takes, measured on this machine without a window.

use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::{Duration, Instant};

use bevy::app::App;
use bevy::camera::RenderTarget;
use bevy::render::RenderApp;
use bevy::render::render_resource::PollType;
use bevy::render::renderer::{RenderAdapterInfo, RenderDevice, RenderQueue};

use crate::proof::view::{Camera, Direction};

use super::pace::Pace;
use crate::scene::engine::{is_imitated, start};
use crate::scene::error::StillError;
use crate::scene::quality::Plan;
use crate::scene::set::{Set, new_target};
use crate::scene::stage::Stage;
use crate::scene::still::ready;
use crate::scene::tiles::Tile;

/// Frames before the clock runs: until all is on the device, and its own clocks are up.
const WARM_UP: u32 = 40;

/// What was measured.
#[derive(Clone, Debug)]
pub struct FrameTimes {
    /// What the graphics driver calls the device, and how it is driven.
    pub device: String,
    /// From the beginning of each frame to that of the next, the shortest first. As in a window, a frame is prepared while the device
    /// draws the one before, and never two ahead.
    pub frames: Vec<Duration>,
    /// How large the pictures were at the end, px: as fine as kept up.
    pub size: (u32, u32),
}

impl FrameTimes {
    /// The frame time that so many of a hundred frames keep within.
    #[must_use]
    pub fn within(&self, percent: usize) -> Duration {
        let last = self.frames.len().saturating_sub(1);
        self.frames.get((last * percent.min(100)).div_ceil(100)).copied().unwrap_or_default()
    }
}

/// Walks round a stage by `count` frames of `size` px at their finest, at the pace of the window; `each` gives the stage of each frame, the same again for one that only
/// the eye moves in.
///
/// # Errors
/// When there is no graphics driver, or the device fails.
pub fn frame_times(
    each: &mut dyn FnMut(u32) -> Arc<Stage>,
    size: (u32, u32),
    count: u32,
) -> Result<FrameTimes, StillError> {
    let mut app = start()?;
    let is_soft = is_imitated(app.world());
    let mut pace = if is_soft { Pace::SOFT } else { Pace::CARD_ALONE };
    let mut stage = each(0);
    let mut set = Set::build(app.world_mut(), Plan::moving(is_soft, stage.bodies.len()), StillError::MOST_PIXELS);
    set.follow(&stage, app.world_mut());
    let (low, high) = stage.bounds();
    let (mut frames, mut drawn) = (Vec::new(), (0, 0));
    let mut begin = Instant::now();
    let done = Arc::new(AtomicU32::new(0));
    for number in 0..WARM_UP + count {
        let next = each(number);
        if !Arc::ptr_eq(&next, &stage) {
            set.follow(&next, app.world_mut());
            stage = next;
        }
        let now = pace.size(size);
        if std::mem::replace(&mut drawn, now) != now {
            let target = new_target(app.world_mut(), now.0, now.1);
            app.world_mut().entity_mut(set.eye).insert(RenderTarget::Image(target.into()));
        }
        let camera = Camera::framing(Direction::new(f64::from(number), 16.0), &[low, high], now, 0.0);
        set.set_table(app.world_mut(), &camera);
        set.frame(app.world_mut(), &camera, (Tile { x: 0, y: 0, width: now.0, height: now.1 }, 0));
        app.update();
        wait(&app, &done, number)?;
        if number + 1 == WARM_UP && !ready(&app, &set.cast)? {
            return Err(StillError::lost(&"the device never took all of the cake"));
        }
        let took = std::mem::replace(&mut begin, Instant::now()).elapsed();
        pace.note(took);
        if number >= WARM_UP {
            frames.push(took);
        }
    }
    frames.sort();
    Ok(FrameTimes { device: device(&app), frames, size: drawn })
}

/// Waits until the device has drawn all frames before this one, which it was just given.
fn wait(app: &App, done: &Arc<AtomicU32>, number: u32) -> Result<(), StillError> {
    let world = app.sub_app(RenderApp).world();
    let counter = Arc::clone(done);
    world.resource::<RenderQueue>().on_submitted_work_done(move || {
        counter.fetch_add(1, Ordering::Relaxed);
    });
    while done.load(Ordering::Relaxed) < number {
        world.resource::<RenderDevice>().poll(PollType::Poll).map_err(|error| StillError::lost(&error))?;
        std::thread::yield_now();
    }
    Ok(())
}

fn device(app: &App) -> String {
    let info = app.world().get_resource::<RenderAdapterInfo>();
    info.map_or_else(String::new, |info| format!("{} ({:?}, {})", info.name, info.backend, info.driver_info))
}

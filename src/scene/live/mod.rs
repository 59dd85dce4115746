//! The picture in a window: while something moves, each frame is drawn at once, at a lower cost than a still; at rest nothing
//! is drawn.

mod pace;
mod rig;
mod timing;

use std::sync::Arc;
use std::time::Instant;

use bevy::app::{App, PostUpdate};
use bevy::asset::{AssetEventSystems, Handle};
use bevy::camera::visibility::VisibilitySystems;
use bevy::camera::{Camera as EngineCamera, CameraUpdateSystems, RenderTarget};
use bevy::ecs::change_detection::Mut;
use bevy::ecs::message::Messages;
use bevy::ecs::resource::Resource;
use bevy::ecs::schedule::{IntoScheduleConfigs, SystemSet};
use bevy::ecs::world::World;
use bevy::image::Image;
use bevy::transform::TransformSystems;
use bevy::window::RequestRedraw;

use crate::proof::view::Camera;

use super::engine::{is_imitated, longest_side};
use super::quality::Plan;
use super::set::{Set, camera, new_target};
use super::stage::Stage;
use super::tiles::Tile;
use pace::Pace;

pub use rig::Rig;
pub use timing::{FrameTimes, frame_times};

/// Frames until bodies that are new on the device are seen.
const FRAMES_OF_NEW: u32 = 3;

/// Frames after the eye moved: the first wakes the camera.
const FRAMES_OF_MOVE: u32 = 2;

/// When the moving picture is drawn within a frame: after whatever moves it.
#[derive(SystemSet, Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct LiveSystems;

/// The moving picture.
#[derive(Resource)]
pub struct Live {
    set: Set,
    stage: Option<Arc<Stage>>,
    camera: Option<Camera>,
    target: (Handle<Image>, (u32, u32)),
    /// Frames that are still to be drawn.
    due: u32,
    is_soft: bool,
    pace: Pace,
    /// When the frame before was drawn, if it was the one just before.
    last: Option<Instant>,
}

/// Sets the studio up in an engine that has a device, for [`Live`] to draw in.
pub fn add(app: &mut App) {
    let world = app.world_mut();
    let is_soft = is_imitated(world);
    let most = longest_side(world.resource());
    let set = Set::build(world, Plan::moving(is_soft, 0), most);
    let target = new_target(world, 16, 16);
    let camera = EngineCamera { is_active: false, order: -1, ..camera() };
    world.entity_mut(set.eye).insert((camera, RenderTarget::Image(target.clone().into())));
    let pace = if is_soft { Pace::SOFT } else { Pace::CARD };
    let live = Live { set, stage: None, camera: None, target: (target, (16, 16)), due: 0, is_soft, pace, last: None };
    app.insert_resource(live).add_systems(PostUpdate, draw.in_set(LiveSystems)).configure_sets(
        PostUpdate,
        LiveSystems
            .before(TransformSystems::Propagate)
            .before(CameraUpdateSystems)
            .before(VisibilitySystems::CalculateBounds)
            .before(AssetEventSystems),
    );
}

fn draw(world: &mut World) {
    world.resource_scope(|world, mut live: Mut<Live>| live.draw(world));
}

impl Live {
    /// Shows these bodies from now on.
    pub fn show(&mut self, stage: Arc<Stage>) {
        self.stage = Some(stage);
    }

    /// Looks from here from now on; the camera's size is that of the picture at its finest.
    pub fn look(&mut self, camera: Camera) {
        if self.camera != Some(camera) {
            self.camera = Some(camera);
            self.due = self.due.max(FRAMES_OF_MOVE);
        }
    }

    /// Where the picture is drawn: light in linear half floats over nothing, premultiplied; coarser than asked for where it
    /// must be to keep up.
    #[must_use]
    pub const fn picture(&self) -> &Handle<Image> {
        &self.target.0
    }

    /// Whether a processor imitates the graphics card, so that the moving picture is a coarse one.
    #[must_use]
    pub const fn is_soft(&self) -> bool {
        self.is_soft
    }

    /// Whether frames are still to be drawn.
    #[must_use]
    pub const fn is_moving(&self) -> bool {
        self.due > 0 || self.stage.is_some()
    }

    fn draw(&mut self, world: &mut World) {
        if let Some(stage) = self.stage.take() {
            let plan = Plan::moving(self.is_soft, stage.bodies.len());
            if plan != self.set.plan {
                self.set.plan(world, plan);
            }
            self.set.follow(&stage, world);
            self.due = FRAMES_OF_NEW;
        }
        let camera = self.camera.filter(|_| self.due > 0);
        if let Some(mut eye) = world.get_mut::<EngineCamera>(self.set.eye)
            && eye.is_active != camera.is_some()
        {
            eye.is_active = camera.is_some();
        }
        let Some(camera) = camera else {
            self.last = None;
            return;
        };
        self.due -= 1;
        let now = Instant::now();
        if let Some(last) = self.last.replace(now) {
            self.pace.note(now.duration_since(last));
        }
        let size = self.pace.size(camera.size);
        if self.target.1 != size {
            self.target = (new_target(world, size.0, size.1), size);
            let target = RenderTarget::Image(self.target.0.clone().into());
            world.entity_mut(self.set.eye).insert(target);
        }
        let camera = Camera { size, ..camera };
        self.set.set_table(world, &camera);
        self.set.frame(world, &camera, (Tile { x: 0, y: 0, width: size.0, height: size.1 }, 0));
        if self.due == 0 {
            // What comes next may be long in coming: that says nothing of the pace.
            self.last = None;
        } else if let Some(mut redraw) = world.get_resource_mut::<Messages<RequestRedraw>>() {
            redraw.write(RequestRedraw);
        }
    }
}

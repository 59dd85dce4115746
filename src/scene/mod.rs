//! The picture: bodies of the cake in a photographer's studio, as pixels.
//!
//! In: a [`Stage`] (bodies in mm, the table's height, the backdrop) and a [`Camera`](crate::proof::view::Camera). Out: an
//! opaque [`Picture`](crate::art::Picture). In this order:
//!
//! 1. `engine` finds a graphics driver and starts Bevy without a window, a log or files.
//! 2. `cast` puts every body on the stage; equal meshes and equal surfaces are shared (`mesh`, `materials`, `texture`).
//! 3. `studio` says where the light comes from: a few lamps a frame, other ones in each frame of an average.
//! 4. `lens` is the project's camera as a projection; `tiles` cuts a large picture into parts the device can hold.
//! 5. `average` adds the frames in linear light, lays them over `backdrop` and rounds to eight bits.
//! 6. `set` puts lamps, table and eye round the bodies for each frame; `still` drives all of it, in two studios where the processor draws.
//!
//! In a window (`engine::in_window`) the same studio is seen live: [`Live`] draws one frame at a time of what moves, at a lower cost,
//! [`Rig`] is how the eye walks round, and a [`Darkroom`] takes the still of what came to rest, in a thread of its own.
//!
//! ```text
//!                 backdrop
//!      key (soft, front left, above)        the studio stands still: the cake is turned
//!         \      _cake_                     for each view, as a photographer would do it,
//!          `    |      |    ´ fill          so every side is lit alike and a colour reads
//!       - - - - - - - - - - - - table       the same in every view
//!                camera
//! ```

mod average;
mod backdrop;
mod cast;
mod coarse;
mod darkroom;
mod engine;
mod error;
mod grab;
mod lens;
mod live;
mod materials;
mod mesh;
mod pace;
mod quality;
mod rig;
mod set;
mod shadows;
mod soften;
mod stage;
pub mod still;
mod studio;
mod texture;
mod tiles;
mod timing;

pub use backdrop::Backdrop;
pub use darkroom::{Darkroom, Photo};
pub use engine::{in_window, longest_side, trouble};
pub use error::StillError;
pub use live::{Live, LiveSystems, add as add_live};
pub use quality::Quality;
pub use rig::Rig;
pub use stage::Stage;
pub use timing::{FrameTimes, frame_times};

//! The picture: bodies of the cake in a photographer's studio, as pixels.
//!
//! In: a [`Stage`] (bodies in mm, the table's height, the backdrop) and a [`Camera`](crate::proof::view::Camera). Out: an
//! opaque [`Picture`](crate::art::Picture). In this order:
//!
//! 1. `engine` finds a graphics driver and starts Bevy without a window, a log or files.
//! 2. `set` puts lamps, table, eye and bodies on its stage. Equal meshes and equal surfaces are shared (`cast`, `mesh`, `materials`,
//!    `texture`); shadows and small pictures are drawn of fewer triangles (`coarse`).
//! 3. `studio` says where the light comes from: a few lamps a frame, other ones in each frame of an average; `shadows` fits their maps.
//! 4. `lens` is the project's camera as a projection; `tiles` cuts a large picture into parts the device can hold.
//! 5. `still` drives it frame by frame, in two studios where the processor draws: `average` adds frames in linear light, `soften` takes
//!    the lamps' edges off the table, and all is laid over `backdrop` and rounded to eight bits (`srgb`).
//!
//! In a window (`engine::in_window`) the same set is seen `live`: [`Live`] draws one frame at a time of what moves, at a lower cost,
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

mod engine;
mod error;
mod live;
mod quality;
mod set;
mod srgb;
mod stage;
pub mod still;
mod tiles;

pub use engine::{in_window, longest_side, trouble};
pub use error::StillError;
pub use live::{FrameTimes, Live, LiveSystems, Rig, add as add_live, frame_times};
pub use quality::Quality;
pub use stage::Stage;
pub use still::{Backdrop, Darkroom, Photo};

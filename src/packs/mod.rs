//! What leaves the house: facts, bodies and shots in, the bytes of finished files out.
//!
//! Nothing here touches the disk, the clock or a window; writing is done by `commands` through `files`.

mod error;
mod glb;

pub use error::PackError;
pub use glb::write_glb;

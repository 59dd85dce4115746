//! What leaves the house: facts, bodies and shots in, the bytes of finished files out.
//!
//! Nothing here touches the disk, the clock or a window; writing is done by `commands` through `files`.

mod error;
mod glb;
pub mod pdf;
mod proof_pack;

pub use error::PackError;
pub use glb::write_glb;
pub use proof_pack::{PackFile, ProofInput, proof_pack, proof_pdf};

//! What leaves the house: facts, bodies and shots in, the bytes of finished files out.
//!
//! Nothing here touches the disk, the clock or a window; writing is done by `commands` through `files`.

mod bundle;
mod error;
mod glb;
mod ics;
mod kitchen_pack;
pub mod pdf;
mod proof_pack;
mod svg;
mod words;

pub use bundle::{Bundle, BundleError, LARGEST_BUNDLE, bundle};
pub use error::PackError;
pub use glb::write_glb;
pub use kitchen_pack::{KitchenInput, PACK_FOLDERS, is_of_pack, kitchen_pack};
pub use proof_pack::{PROOF_FILES, ProofInput, proof_pack, proof_pdf};
pub use svg::{svg, svg_marks};

/// A finished file: its name in the pack's folder, its bytes.
pub type PackFile = (String, Vec<u8>);

/// What becomes of each file of a pack as soon as it is made: told its name and its bytes.
pub type Keep<'a> = dyn FnMut(String, Vec<u8>) -> Result<(), PackError> + 'a;

use crate::proof::facts::Facts;

/// What `measure --json` prints, as a file of a pack.
fn measurements(facts: &Facts) -> Result<PackFile, PackError> {
    let mut json = serde_json::to_vec_pretty(facts)
        .map_err(|error| PackError::Writer { file: "measurements.json", reason: error.to_string() })?;
    json.push(b'\n');
    Ok(("measurements.json".to_owned(), json))
}

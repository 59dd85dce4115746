//! Tierproof: plan, show and prepare a decorated celebration cake, true to size.

pub mod art;
pub mod cake;
pub mod design;
pub mod files;
pub mod findings;
pub mod measure;
pub mod packs;
pub mod proof;
#[cfg(feature = "view")]
pub mod scene;
pub mod shapes;

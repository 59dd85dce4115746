//! The design document.

pub mod model;

pub use model::{Design, Look};

//! The resolved cake.

mod body;
pub mod pieces;

pub use body::{Body, Surface};

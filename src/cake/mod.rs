//! The resolved cake.

mod body;

pub use body::{Body, Surface};

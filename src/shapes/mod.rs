//! Geometry: outlines of tiers and the solids made from them.

pub mod build;
mod mesh;

pub use mesh::Mesh;

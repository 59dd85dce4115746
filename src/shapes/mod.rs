//! Geometry: outlines of tiers and the solids made from them.

mod mesh;

pub use mesh::Mesh;

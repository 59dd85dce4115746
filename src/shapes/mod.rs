//! Geometry: outlines of tiers and the solids made from them.
//!
//! `forms` builds the outline of each shape; everything else works on the outline alone. `offset` moves it out, `stations`
//! walks round it, `drape` says how something lies on it, `wall` carries a cross-section along it, `block` closes it to a solid; `build`
//! makes free solids; `solid` says how deep things run into one another.
//!
//! ```text
//!   forms -> Outline -> offset (icing, paste) -> stations -> wall / block -> Mesh
//! ```

mod block;
pub mod build;
mod cross;
mod drape;
pub mod forms;
#[cfg(test)]
mod laws;
mod meet;
mod mesh;
mod offset;
mod outline;
mod ruler;
pub mod solid;
mod stations;
mod wall;

pub use block::block;
pub use drape::stand_off;
pub use mesh::{Mesh, box_corners};
pub use outline::{Outline, Side, Spot, bearing};
pub use ruler::Ruler;
pub use stations::Station;
pub use wall::{Rib, Section, carry, close_ends, strip_section};

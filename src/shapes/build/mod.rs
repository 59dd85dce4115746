//! Builders of closed bodies: balls, ropes, bars, cut-outs, ribbons.
//!
//! In: outlines, paths, profiles, in mm. Out: a [`crate::shapes::Mesh`] that keeps the [`laws`]. Three ways lead there: a skin
//! over rings ([`loft`], and with it [`lathe`], [`sphere`], [`tube`]), a thick cut-out ([`prism`]), a thick [`sheet`] over
//! a grid. A soft body is built flat and then laid round a side by [`bend`].

mod bend;
mod cap;
mod lathe;
pub mod laws;
mod loft;
mod prism;
mod sheet;
mod shell;
mod slabs;
mod slice;
mod tube;

pub use bend::bend;
pub use cap::{fill, twice_area};
pub use lathe::{bar, dome, lathe, lathe_in, sphere};
pub use loft::{loft, loft_round};
pub use prism::{Cutout, prism, tidy};
pub use sheet::{gathered_sheet, sheet};
pub use tube::{tube, tube_round};

//! *Measured it?*: what a reading of the tape changes, before it is taken over, and what must be made again.

pub use crate::proof::difference::{Changes, Planned, Remade, SizeChange, changes};

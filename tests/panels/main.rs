//! The panels under a harness that reads them as those do who hear the window: by the names of what is shown.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test that meets what it did not expect must stop"
)]

mod cards;
mod eye;
mod hands;
mod pages;
mod sizes;
mod stage;

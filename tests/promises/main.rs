//! What the program promises, checked through its public face.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test that meets what it did not expect must stop"
)]

mod approving;
mod bad_art;
mod bad_input;
mod carrying;
mod cli;
mod dice;
mod documents;
mod exposures;
mod gestures;
mod handling;
mod house;
mod kitchen;
mod old_versions;
mod outside_data;
mod pictures;
mod published;
mod round_trip;
mod saving;
mod seams;
mod seats;
mod tape;

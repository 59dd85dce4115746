//! What the program promises, checked through its public face.

mod bad_input;
mod dice;
mod documents;
mod house;
mod published;
mod round_trip;

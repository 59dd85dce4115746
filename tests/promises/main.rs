//! What the program promises, checked through its public face.

mod bad_input;
mod dice;
mod round_trip;

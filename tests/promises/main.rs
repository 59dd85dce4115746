//! What the program promises, checked through its public face.

mod bad_input;
mod round_trip;

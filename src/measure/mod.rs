//! Lengths, angles, masses and the spaces they are measured in.
//!
//! In: what a person types (`5 3/8 in`, `12 cm`, `¾"`), and the tables of figures in `assets/tables/`. Out: [`Length`],
//! [`Angle`] and [`Mass`], which everything above uses, and their texts. Nothing here knows what a cake is.

mod angle;
mod length;
mod mass;
mod places;
mod scan;
pub mod spaces;
pub mod table;
mod text;

pub use angle::Angle;
pub use length::{Length, MM_PER_INCH, Unit};
pub use mass::{GRAMS_PER_OUNCE, Mass, show_load, show_mass};
pub use places::{tape_reading, tape_words};
pub use spaces::{PlanPoint, TapePoint};
pub use text::{
    LONGEST, LengthError, SHORTEST, length_examples, length_of_number, plain_number, read_length, show_length,
    write_length,
};

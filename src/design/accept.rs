//! Holds a design that was changed in memory to the rules of a design that is read from a file.

use super::model::Design;
use super::problem::Problems;
use super::read::read_design;
use super::write::write_design;

/// The design as a file gives it back; lengths finer than a file holds become zero.
///
/// The reader itself judges it, so that no rule is written twice: names are unique, seats are there, every figure is
/// within its bounds. The file that the problems point into is the design as it would be written.
///
/// # Errors
/// Everything that a reader of the file would find wrong with it.
pub fn accept(design: &Design) -> Result<Design, Problems> {
    read_design(&write_design(design, None), "")
}

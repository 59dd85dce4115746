//! A plaque: flat art or a shape, lying on a top or bent to a side.

use super::ReferenceSide;
use crate::measure::Length;

/// A flat shape.
#[derive(Clone, Debug, PartialEq)]
pub struct Plaque {
    /// Width and height (depth when lying) of a rectangle; with art, one of the two may be free.
    pub size: ReferenceSide,
    /// Path of the art whose outline it takes.
    pub art: Option<String>,
    /// Radius of a rectangle's corners.
    pub corner: Length,
    /// Inset cells.
    pub cells: Option<Cells>,
    /// Dried flat before it goes on; else it bends to a side.
    pub stiff: bool,
    /// Of the plate.
    pub thickness: Length,
    /// Name of the finish.
    pub finish: String,
}

/// Cells set into a plaque, in rows and columns.
#[derive(Clone, Debug, PartialEq)]
pub struct Cells {
    /// From back to front.
    pub rows: u32,
    /// From left to right.
    pub columns: u32,
    /// Between cells, and from the outer cells to the edge.
    pub gap: Length,
    /// How deep a cell lies below the face.
    pub inset: Length,
    /// Names of the finishes, dealt row by row, over and over.
    pub finishes: Vec<String>,
}

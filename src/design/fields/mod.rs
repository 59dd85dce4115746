//! The document, described once as data.
//!
//! One file a table (and one a kind of piece) holds its keys, their bounds, defaults and meanings, and beside them how
//! they become the model. The reader, the hints for mistyped keys, the writer, the JSON Schema and the guide all walk
//! through these lists; a key exists when it stands here, and nowhere else.

mod board;
mod cake;
mod course;
mod finish;
mod kind;
mod order;
mod piece;
mod pieces;
mod planning;
mod tier;
mod transport;
mod viewing;
mod words;
mod wrap;

pub(crate) use cake::{CAKE, FORMAT};
pub(crate) use kind::{Bound, Fallback, Field, Form, Kind, Names, Need, Rule, Shape, Variant};

//! Printing sheets: everything that a cake has printed, laid on as few sheets as are found.
//!
//! In: the resolved cake and its planned wraps. Out: a [`SheetPlan`] and what is wrong with it; and every print painted, at
//! the resolution of its sheet. In this order: `prints` lists what is printed, `nest` finds places (knowing rectangles
//! only), `lay` gives every kind of sheet its own nesting, `room` finds room for names and a rule, `judge` says what is wrong,
//! `paint` makes the pixels.
//!
//! ```text
//!   +--------------------------+   the sheet; lengths from its upper left, y down
//!   |  +--------------------+  |   what the printer reaches
//!   |  | art 1   | gap | t  |  |
//!   |  |---------|     | u  |  |   a turned print: its upper edge is at the right
//!   |  | name 1  |     | r  |  |
//!   |  | rule    |     | ned|  |
//!   |  +--------------------+  |
//!   +--------------------------+
//! ```

mod judge;
mod lay;
pub mod nest;
mod paint;
mod plan;
mod prints;
mod room;

pub use lay::{EFFORT, lay_out};
pub use paint::{Painted, paint};
pub use plan::{LABEL, LEGEND, Label, Legend, Placed, PrintedSheet, SheetPlan};
pub use prints::{Meets, Print, PrintOf};

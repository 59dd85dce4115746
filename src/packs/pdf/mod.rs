//! A small page kit: what the packs' printed pages are built from.
//!
//! In: words, tables, pictures and lines, in millimetres from the page's top left. Out: the bytes of a PDF with real text
//! (searchable, selectable, its fonts subset), bookmarks, a title and a language, tagged for who hears it. No clock: the same
//! pages give the same bytes.
//!
//! ```text
//!   Flow (cursor, breaks pages) ──> Booklet { Page { marks } } ──> write ──> bytes
//!     section · paragraph · list · table · block        └ drawn freely: text · line · area · picture
//! ```
//!
//! Pages are kept as plain values until the end, because a footer says `page 2 of 3`; only [`write`] knows krilla.

mod chart;
mod draw;
mod flow;
mod page;
mod paper;
mod table;
mod tags;
mod typeset;
mod write;

pub use flow::Flow;

pub use crate::proof::ink::{ACCENT, INK, MUTED, RULE, TONE};
pub use chart::lay_chart;
pub use draw::{chart, draw};
pub use page::{Booklet, Bookmark, Facing, Frame, Mark, Page, Pen, Print, Trace};
pub use paper::{MARGIN, paper_of, paper_size};
pub use table::{Align, Cell, Column, Row, Table};
pub use tags::{Heads, Part, Place, Role};
pub use typeset::{Style, Words, break_lines, mm_of_points};
pub use write::{Press, write};

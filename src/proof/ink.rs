//! The few colours of everything we draw: warm paper, ink, one accent. Each is told from the others in grey too.

use crate::art::Colour;

/// The ground of a drawing, and behind words that stand on a picture.
pub const PAPER: Colour = Colour::new(0xff, 0xfd, 0xf9);
/// Text and drawing.
pub const INK: Colour = Colour::new(0x2a, 0x25, 0x20);
/// Captions, labels, footers.
pub const MUTED: Colour = Colour::new(0x73, 0x69, 0x5e);
/// Hairlines.
pub const RULE: Colour = Colour::new(0xcf, 0xc4, 0xb4);
/// Behind every other row of a table, and behind blocks that stand out.
pub const TONE: Colour = Colour::new(0xf6, 0xf1, 0xe8);
/// Headings' marks, dimension lines, what to look at first.
pub const ACCENT: Colour = Colour::new(0xa0, 0x43, 0x2c);

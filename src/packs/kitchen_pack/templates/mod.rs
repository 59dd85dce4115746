//! Templates to trace and to cut by: `templates.pdf` on plain paper, `templates/*.svg` for cutting machines, all true to size.
//!
//! `card` makes a pattern ready for a page with its words; `strip` lays out what is longer than a page as a ruled strip;
//! `pages` nests the cards; `tiles` spreads what is larger than a page over several; `covering` draws how far each covering
//! is rolled out; `drawing` writes the SVGs.
//!
//! ```text
//!   +-----------------------------+
//!   |  .--.    +--------------+   |    cards, nested; each with its words below it
//!   | (    )   |              |   |
//!   |  `--'    +--------------+   |
//!   |  ball    sign · face        |
//!   |  |--- 100 mm ---|           |    a rule on every page, to lay a ruler against
//!   +-----------------------------+
//! ```

mod card;
mod covering;
mod drawing;
mod pages;
mod strip;
mod tiles;
mod words;

use self::card::Card;
use self::pages::{Pages, fits};
use super::sheets::Hand;
use super::{KitchenInput, PackError, PackFile};
use crate::cake::pieces::Mirrored;
use crate::kitchen::{Pattern, Way};
use crate::packs::pdf::write;

/// All files; none where nothing is cut and nothing is covered.
pub(super) fn files(input: &KitchenInput) -> Result<Vec<PackFile>, PackError> {
    let mut pages = Pages::new(input);
    lay(&mut pages, input);
    let Some(booklet) = pages.finish(input) else { return Ok(Vec::new()) };
    let mut files = vec![("templates.pdf".to_owned(), write(&booklet)?)];
    files.extend(drawing::files(input));
    Ok(files)
}

/// Lays every pattern and every covering on pages.
fn lay(pages: &mut Pages, input: &KitchenInput) {
    let room = pages.room();
    let all = input.patterns.0.iter().flat_map(|pattern| cards(pattern, input, room));
    let (nested, spread): (Vec<Card>, Vec<Card>) = all.partition(|card| fits(card, room));
    pages.nest(&nested);
    for card in &spread {
        pages.spread(card);
    }
    covering::set(pages, input);
}

/// A pattern's card; with a second one as in a mirror where that helps.
fn cards(pattern: &Pattern, input: &KitchenInput, room: glam::DVec2) -> Vec<Card> {
    let plain = Card::of(pattern, input, Hand::Right);
    let too_long = pattern.way == Way::Strip && !fits(&plain, room);
    let plain = if too_long { strip::ruled(pattern, input, room).unwrap_or(plain) } else { plain };
    let mirrored = (pattern.template.mirrored == Mirrored::Wanted).then(|| Card::of(pattern, input, Hand::Mirrored));
    std::iter::once(plain).chain(mirrored).collect()
}

#[cfg(test)]
mod tests;

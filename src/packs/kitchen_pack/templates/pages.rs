//! The pages of templates: cards nested on them, a rule at the foot of each.

use glam::DVec2;

use super::card::{Card, Stroke};
use super::tiles;
use crate::art::Colour;
use crate::packs::kitchen_pack::KitchenInput;
use crate::packs::kitchen_pack::sheets::{Hand, Lie, set_legend, sheet_title};
use crate::packs::pdf::{
    Booklet, Bookmark, Facing, MUTED, Page, Style, Trace, Words, break_lines, paper_of, paper_size,
};
use crate::sheets::LEGEND;
use crate::sheets::nest::{Item, Space, nest};

/// Free on every side of a page: office printers reach to 6 mm or less.
pub(super) const EDGE: f64 = 10.0;
/// Between two cards.
const GAP: f64 = 5.0;
/// Between the cards and the rule.
const OVER_RULE: f64 = 3.0;
/// Places looked at while nesting; a few hundredths of a second.
const EFFORT: u64 = 100_000;
/// Most pages; what comes after is named on the last one.
const MOST_PAGES: usize = 150;

/// The pages so far.
pub(super) struct Pages {
    size: [f64; 2],
    pages: Vec<Page>,
    bookmarks: Vec<Bookmark>,
    left_out: Vec<String>,
}

/// Whether a card goes on a page, turned if need be.
pub(super) fn fits(card: &Card, room: DVec2) -> bool {
    let size = card.size();
    size.cmple(room).all() || DVec2::new(size.y, size.x).cmple(room).all()
}

impl Pages {
    pub fn new(input: &KitchenInput) -> Self {
        let size = paper_size(paper_of(&input.cake.design));
        Self { size, pages: Vec::new(), bookmarks: Vec::new(), left_out: Vec::new() }
    }

    /// Width and height that cards may take.
    pub fn room(&self) -> DVec2 {
        DVec2::from(self.size) - 2.0 * EDGE - DVec2::Y * (LEGEND.y + OVER_RULE)
    }

    /// Adds an empty page, if there may be one more.
    pub fn add(&mut self, title: &str) -> Option<&mut Page> {
        if self.pages.len() >= MOST_PAGES {
            self.left_out.push(title.to_owned());
            return None;
        }
        self.bookmarks.push(Bookmark { title: title.to_owned(), page: self.pages.len(), y: 0.0 });
        self.pages.push(Page::new(self.size));
        self.pages.last_mut()
    }

    /// Lays cards that each fit on a page on as few pages as are found.
    pub fn nest(&mut self, cards: &[Card]) {
        let whole = |mm: f64| (mm * 1_000.0).ceil() as i64;
        let items: Vec<Item> = cards
            .iter()
            .map(|card| {
                let size = card.size();
                Item { width: whole(size.x).max(1), height: whole(size.y).max(1), may_turn: true }
            })
            .collect();
        let space = Space { size: self.room().to_array().map(whole), gap: whole(GAP), reserved: None };
        let nesting = nest(&items, &space, EFFORT);
        for number in 0..nesting.sheets {
            let here = nesting.places.iter().zip(cards).filter_map(|(place, card)| Some((place.as_ref()?, card)));
            let here: Vec<_> = here.filter(|(place, _)| place.sheet == number).collect();
            let title = here.first().map_or_else(String::new, |(_, card)| card.name.clone());
            let Some(page) = self.add(&title) else { continue };
            for (place, card) in here {
                let at = DVec2::new(place.at.x as f64, place.at.y as f64) / 1_000.0 + EDGE;
                draw(page, card, (at, place.turned));
            }
        }
    }

    /// Spreads a card that is larger than a page over several.
    pub fn spread(&mut self, card: &Card) {
        let room = self.room();
        for tile in tiles::tiles(card, room) {
            let Some(page) = self.add(&tile.title) else { continue };
            tile.draw(page, card, DVec2::splat(EDGE));
        }
    }

    /// All pages, each with its rule and its words; `None` where there are none.
    pub fn finish(mut self, input: &KitchenInput) -> Option<Booklet> {
        let count = self.pages.len();
        for (page, number) in self.pages.iter_mut().zip(1..) {
            foot(page, input, (number, count));
        }
        let patterns = input.patterns.1;
        let beyond = (patterns > 0).then(|| format!("{patterns} further patterns"));
        let left_out: Vec<String> = self.left_out.into_iter().chain(beyond).collect();
        if let Some(page) = self.pages.last_mut().filter(|_| !left_out.is_empty()) {
            let told = format!("Not drawn, for want of pages: {}", left_out.join(", "));
            let at = DVec2::new(EDGE + LEGEND.x + 4.0, self.size[1] - EDGE - LEGEND.y);
            let lines = break_lines(&told, Style::BESIDE, self.size[0] - at.x - EDGE);
            for (line, number) in lines.into_iter().zip(0..5) {
                page.text(at + DVec2::Y * (2.4 * f64::from(number) + 2.4), line, MUTED);
            }
        }
        (count > 0).then(|| Booklet {
            title: format!("{} · templates", input.facts.title),
            revision: input.facts.revision.clone(),
            pages: self.pages,
            bookmarks: self.bookmarks,
        })
    }
}

fn foot(page: &mut Page, input: &KitchenInput, (number, count): (usize, usize)) {
    let at = DVec2::new(EDGE, page.size[1] - EDGE - LEGEND.y);
    let lie = Lie { at, size: LEGEND, facing: Facing::Up, hand: Hand::Right };
    let words = [
        sheet_title(input),
        format!("templates, page {number} of {count} · print at 100 % (actual size), then measure:"),
    ];
    set_legend(page, &lie, &words);
}

/// Draws a card with its upper left corner, as it lies, at a place.
fn draw(page: &mut Page, card: &Card, (at, turned): (DVec2, bool)) {
    let size = card.size();
    let lie = if turned {
        Lie { at, size: DVec2::new(size.y, size.x), facing: Facing::Right, hand: Hand::Right }
    } else {
        Lie { at, size, facing: Facing::Up, hand: Hand::Right }
    };
    for Stroke { points, closed, pen } in &card.strokes {
        let points = points.iter().map(|&own| lie.on_page(own)).collect();
        page.trace(Trace { points, closed: *closed }, pen.clone());
    }
    let mut set = |own: DVec2, words: &Words, colour: Colour| {
        page.text_facing(lie.on_page(own), (words.clone(), colour), lie.facing);
    };
    for (at, words, colour) in &card.on_it {
        set(*at, words, *colour);
    }
    for (down, words, colour) in &card.below {
        set(DVec2::new(0.0, card.figure.y + down), words, *colour);
    }
}

//! The cursor that fills pages from top to bottom.
//!
//! ```text
//!   +-----------------------------------------+
//!   | heading   | what belongs to it          |   a hairline over every section;
//!   |           | in one column               |   the heading at its left
//!   +-----------+-----------------------------+
//!     title · revision              page n of m
//! ```

use glam::DVec2;

use super::page::{Booklet, Bookmark, Frame, Page, Pen};
use super::paper::{MARGIN, paper_size};
use super::tags::Role;
use super::typeset::{Style, break_lines};
use super::write::write;
use crate::design::model::Paper;
use crate::packs::PackError;
use crate::proof::ink::{ACCENT, RULE};

/// Width of the column of headings, mm.
const HEADINGS: f64 = 36.0;
/// Least height that a section needs on the page it starts on, mm.
const LEAST_SECTION: f64 = 24.0;

/// Fills pages from top to bottom, breaking where one is full.
#[derive(Debug)]
pub struct Flow {
    booklet: Booklet,
    page: Page,
    y: f64,
    /// Of paragraphs, entries and tables.
    number: u32,
}

impl Flow {
    /// An empty first page.
    #[must_use]
    pub fn new(title: &str, revision: &str, paper: Paper) -> Self {
        let booklet = Booklet {
            title: title.to_owned(),
            revision: revision.to_owned(),
            pages: Vec::new(),
            bookmarks: Vec::new(),
        };
        Self { booklet, page: Page::new(paper_size(paper)), y: MARGIN, number: 0 }
    }

    /// The whole area between the margins, from the cursor down, mm.
    #[must_use]
    pub fn rest(&self) -> Frame {
        let [width, height] = self.page.size;
        Frame { x: MARGIN, y: self.y, width: width - 2.0 * MARGIN, height: height - MARGIN - self.y }
    }

    /// The column beside the headings, from the cursor down, mm.
    #[must_use]
    pub fn column(&self) -> Frame {
        let rest = self.rest();
        Frame { x: rest.x + HEADINGS, width: rest.width - HEADINGS, ..rest }
    }

    /// A number for something that is told of in parts.
    pub fn number(&mut self) -> u32 {
        self.number += 1;
        self.number
    }

    /// The page being filled, to draw on freely.
    pub fn page(&mut self) -> &mut Page {
        &mut self.page
    }

    /// Moves the cursor down.
    pub fn space(&mut self, height: f64) {
        self.y += height;
    }

    /// Turns to a new page.
    pub fn turn(&mut self) {
        let fresh = Page::new(self.page.size);
        self.booklet.pages.push(std::mem::replace(&mut self.page, fresh));
        self.y = MARGIN;
    }

    /// Adds a page of its own after what is set so far, of any size, and goes on after it.
    pub fn leaf(&mut self, title: &str, page: Page) {
        if self.y > MARGIN {
            self.turn();
        }
        self.bookmark(title);
        self.booklet.pages.push(page);
    }

    /// Turns to a new page where less than `height` mm is left; says whether it did. Never leaves a page empty.
    pub fn need(&mut self, height: f64) -> bool {
        let turns = self.rest().height < height && self.y > MARGIN;
        if turns {
            self.turn();
        }
        turns
    }

    /// Adds the place of the cursor to the reader's list of contents.
    pub fn bookmark(&mut self, title: &str) {
        let (page, y) = (self.booklet.pages.len(), self.y);
        self.booklet.bookmarks.push(Bookmark { title: title.to_owned(), page, y });
    }

    /// Begins a section that needs at least `height` mm to begin on this page.
    pub fn section(&mut self, heading: &str, height: f64) {
        self.space(3.0);
        self.need(height.max(LEAST_SECTION));
        self.bookmark(heading);
        let Frame { x, y, width, .. } = self.rest();
        self.page.line(DVec2::new(x, y), DVec2::new(x + width, y), Pen::solid(0.25, RULE));
        self.page.line(DVec2::new(x, y), DVec2::new(x + 9.0, y), Pen::solid(0.7, ACCENT));
        self.space(2.6);
        let mut at = DVec2::new(x, self.y + Style::HEADING.rise());
        let from = self.page.marks.len();
        for line in break_lines(heading, Style::HEADING, HEADINGS - 4.0) {
            self.page.text(at, line, Style::HEADING.colour);
            at.y += Style::HEADING.step();
        }
        self.page.tell(from, Role::Heading(2, heading.to_owned()));
    }

    /// Sets a paragraph in the column.
    pub fn paragraph(&mut self, text: &str, style: Style) {
        let number = self.number();
        self.set(text, (style, 0.0), &Role::Paragraph(number));
        self.space(1.4);
    }

    /// Sets one entry of a list in the column, with a mark before it.
    pub fn entry(&mut self, text: &str) {
        let style = Style::BODY;
        self.need(style.step());
        let mark = Frame { x: self.column().x, y: self.y + style.rise() - 1.35, width: 1.1, height: 1.1 };
        self.page.block(mark, ACCENT);
        let number = self.number();
        self.set(text, (style, 3.4), &Role::Entry(number));
        self.space(0.7);
    }

    fn set(&mut self, text: &str, (style, indent): (Style, f64), role: &Role) {
        for line in break_lines(text, style, self.column().width - indent) {
            self.need(style.step());
            let at = DVec2::new(self.column().x + indent, self.y + style.rise());
            let from = self.page.marks.len();
            self.page.text(at, line, style.colour);
            self.page.tell(from, role.clone());
            self.space(style.step());
        }
    }

    /// The finished file, with a footer on every page.
    ///
    /// # Errors
    /// [`PackError::Writer`] with the PDF writer's own words.
    pub fn finish(mut self) -> Result<Vec<u8>, PackError> {
        // After a page of its own nothing may follow.
        if self.y > MARGIN || self.booklet.pages.is_empty() {
            self.turn();
        }
        let count = self.booklet.pages.len();
        let left = format!("{} · revision {}", self.booklet.title, self.booklet.revision);
        for (page, number) in self.booklet.pages.iter_mut().zip(1..) {
            footer(page, &left, &format!("page {number} of {count}"));
        }
        write(&self.booklet)
    }
}

/// From a page's foot to the baseline of its footer, mm.
const FOOTER: f64 = 10.5;

fn footer(page: &mut Page, left: &str, right: &str) {
    let [width, height] = page.size;
    let [left, right] = [left, right].map(|text| Style::LABEL.line(text));
    let baseline = height - FOOTER;
    let at = DVec2::new(width - MARGIN - right.width, baseline);
    let from = page.marks.len();
    page.text(DVec2::new(MARGIN, baseline), left, Style::LABEL.colour);
    page.text(at, right, Style::LABEL.colour);
    page.tell(from, Role::Furniture);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::packs::pdf::{Column, Mark, Row, Table};

    /// Six sections, each a table of twenty rows and a list of ten long entries.
    fn long() -> Booklet {
        let mut flow = Flow::new("Harbour birthday", "3fa9c1d0", Paper::A4);
        for section in 1..=6 {
            flow.section(&format!("Section {section} of many"), 30.0);
            let row = |number: i32| Row::Cells(vec![format!("piece {number}").into(), "1 1/2 in".into()]);
            let columns = vec![Column::words("What", 3.0), Column::figures("Size", 1.0)];
            let area = flow.column();
            flow.table(&Table { columns, rows: (0..20).map(row).collect() }, area);
            for _ in 0..10 {
                flow.entry(
                    "Sticks and pins stay in the cake until it is cut; take them out first, and count them. "
                        .repeat(3)
                        .trim(),
                );
            }
        }
        flow.turn();
        flow.booklet
    }

    fn words(page: &Page) -> impl Iterator<Item = (DVec2, &str, f64)> {
        page.marks.iter().filter_map(|mark| match mark {
            Mark::Text(at, words, _) => Some((*at, words.text.as_str(), words.width)),
            _ => None,
        })
    }

    #[test]
    fn nothing_stands_beyond_the_margins() {
        let [width, height] = paper_size(Paper::A4);
        let booklet = long();
        assert!(booklet.pages.len() > 3);
        for (at, text, wide) in booklet.pages.iter().flat_map(words) {
            assert!(at.x >= MARGIN && at.x + wide <= width - MARGIN + 1e-9, "{text} {at}");
            assert!(at.y >= MARGIN && at.y <= height - MARGIN, "{text} {at}");
        }
    }

    #[test]
    fn a_table_that_goes_on_repeats_its_head() {
        for page in long().pages {
            let texts: Vec<&str> = words(&page).map(|(_, text, _)| text).collect();
            let first = |start: &str| texts.iter().position(|text| text.starts_with(start));
            if let Some(row) = first("piece") {
                assert!(first("What").is_some_and(|head| head < row), "{texts:?}");
            }
        }
    }

    #[test]
    fn every_section_is_bookmarked_on_its_page() {
        let booklet = long();
        assert_eq!(booklet.bookmarks.len(), 6);
        for bookmark in &booklet.bookmarks {
            let start = bookmark.title.split(" of ").next().unwrap_or_default();
            assert!(
                words(&booklet.pages[bookmark.page]).any(|(at, text, _)| text.starts_with(start) && at.y > bookmark.y)
            );
        }
    }
}

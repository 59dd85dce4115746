//! What each mark on a page is to somebody who hears the page instead of seeing it: a tagged PDF (ISO 32000-1, 14.8).
//!
//! Whoever draws tells what it was ([`Page::tell`]); what nobody tells of is a paragraph if it is text, and mere ornament if not.

use std::num::{NonZeroU16, NonZeroU32};
use std::ops::Range;

use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, ListNumbering, SpanTag, TableHeaderScope, Tag, TagGroup, TagKind,
    TagTree,
};

use super::page::{Mark, Page};
use crate::packs::PackError;

/// What something is to a reader. Equal ones that follow each other are one: the lines of a paragraph, over two pages too.
#[derive(Clone, Debug, PartialEq)]
pub enum Role {
    /// A heading, 1 for that of the whole.
    Heading(u16, String),
    /// A paragraph, by its number.
    Paragraph(u32),
    /// An entry of a list, by its number.
    Entry(u32),
    /// A picture or a drawing, in words.
    Figure(String),
    /// A cell of a table.
    Cell(Place),
    /// Of the page, not of what it says: footers, heads that are repeated.
    Furniture,
}

/// Where in a table a cell stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// The table's number.
    pub table: u32,
    /// The row, from 0.
    pub row: u32,
    /// The column, from 0.
    pub column: u32,
    /// What it heads, if it does.
    pub heads: Heads,
}

impl Place {
    /// The same row's cell in another column: only the first heads the row.
    #[must_use]
    pub const fn in_column(self, column: u32) -> Self {
        let heads = match self.heads {
            Heads::Row if column > 0 => Heads::Nothing,
            heads => heads,
        };
        Self { column, heads, ..self }
    }
}

/// What a cell heads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Heads {
    /// Nothing.
    Nothing,
    /// Its column.
    Column,
    /// Its row.
    Row,
    /// The rows that follow; it is as wide as so many columns.
    Rows(u32),
}

/// Marks on a page that are one thing.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    marks: Range<usize>,
    role: Role,
}

impl Page {
    /// Tells what was drawn from mark number `from` on.
    pub fn tell(&mut self, from: usize, role: Role) {
        let marks = from..self.marks.len();
        match self.parts.last_mut() {
            Some(last) if last.role == role && last.marks.end == from => last.marks.end = marks.end,
            _ if marks.is_empty() => {}
            _ => self.parts.push(Part { marks, role }),
        }
    }

    /// The page's marks in stretches of one role.
    fn stretches(&self) -> Vec<(&[Mark], Option<&Role>)> {
        let mut stretches = Vec::new();
        let mut at = 0;
        for part in &self.parts {
            let untold = self.marks.get(at..part.marks.start).unwrap_or_default();
            stretches.extend(untold.chunk_by(|_, _| false).map(|mark| (mark, None)));
            stretches.push((self.marks.get(part.marks.clone()).unwrap_or_default(), Some(&part.role)));
            at = at.max(part.marks.end);
        }
        let untold = self.marks.get(at..).unwrap_or_default();
        stretches.extend(untold.chunk_by(|_, _| false).map(|mark| (mark, None)));
        stretches
    }
}

/// All that was drawn so far, as it is read.
#[derive(Default)]
pub(super) struct Reading {
    told: Vec<(Role, Vec<Identifier>)>,
    untold: u32,
}

impl Reading {
    /// Draws a page's marks, each under its tag.
    pub fn draw(
        &mut self,
        surface: &mut Surface,
        page: &Page,
        draw: &mut dyn FnMut(&mut Surface, &Mark) -> Result<(), PackError>,
    ) -> Result<(), PackError> {
        for (marks, role) in page.stretches() {
            let role = role.cloned().unwrap_or_else(|| self.guess(marks));
            let tag = match &role {
                Role::Furniture => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)),
                Role::Figure(_) => ContentTag::Other,
                _ => ContentTag::Span(SpanTag::empty()),
            };
            let name = surface.start_tagged(tag);
            for mark in marks {
                draw(surface, mark)?;
            }
            surface.end_tagged();
            match self.told.last_mut() {
                _ if role == Role::Furniture => {}
                Some((last, names)) if *last == role => names.push(name),
                _ => self.told.push((role, vec![name])),
            }
        }
        Ok(())
    }

    /// What something is that nobody told of.
    fn guess(&mut self, marks: &[Mark]) -> Role {
        let is_text = marks.iter().any(|mark| matches!(mark, Mark::Text(..) | Mark::Sideways(..)));
        if !is_text {
            return Role::Furniture;
        }
        self.untold += 1;
        // The other numbers count up from 0.
        Role::Paragraph(u32::MAX - self.untold)
    }

    /// Everything in the order in which it is read.
    pub fn tree(self) -> TagTree {
        let mut tree = TagTree::new();
        let mut list: Option<TagGroup> = None;
        let mut table: Option<(u32, Vec<(u32, TagGroup)>)> = None;
        for (role, names) in self.told {
            let children = || names.iter().copied().map(Into::into).collect();
            if !matches!(role, Role::Entry(_)) {
                list.take().into_iter().for_each(|list| tree.push(list));
            }
            if !matches!(&role, Role::Cell(place) if table.as_ref().is_some_and(|(known, _)| *known == place.table)) {
                table.take().into_iter().for_each(|(_, rows)| tree.push(whole(rows)));
            }
            match role {
                Role::Heading(level, title) => {
                    let level = NonZeroU16::new(level).unwrap_or(NonZeroU16::MIN);
                    tree.push(TagGroup::with_children(Tag::Hn(level, Some(title)), children()));
                }
                Role::Paragraph(_) => tree.push(TagGroup::with_children(Tag::P, children())),
                Role::Figure(words) => tree.push(TagGroup::with_children(Tag::Figure(Some(words)), children())),
                Role::Entry(_) => {
                    let body = TagGroup::with_children(Tag::LBody, children());
                    let entry = TagGroup::with_children(Tag::LI, vec![body.into()]);
                    list.get_or_insert_with(|| TagGroup::new(Tag::L(ListNumbering::None))).push(entry);
                }
                Role::Cell(place) => {
                    let (_, rows) = table.get_or_insert_with(|| (place.table, Vec::new()));
                    if rows.last().is_none_or(|(row, _)| *row != place.row) {
                        rows.push((place.row, TagGroup::new(Tag::TR)));
                    }
                    if let Some((_, row)) = rows.last_mut() {
                        row.push(TagGroup::with_children(cell(place.heads), children()));
                    }
                }
                Role::Furniture => {}
            }
        }
        list.into_iter().for_each(|list| tree.push(list));
        table.into_iter().for_each(|(_, rows)| tree.push(whole(rows)));
        tree
    }
}

fn whole(rows: Vec<(u32, TagGroup)>) -> TagGroup {
    TagGroup::with_children(Tag::Table, rows.into_iter().map(|(_, row)| row.into()).collect())
}

fn cell(heads: Heads) -> TagKind {
    match heads {
        Heads::Nothing => Tag::TD.into(),
        Heads::Column => Tag::TH(TableHeaderScope::Column).into(),
        Heads::Row => Tag::TH(TableHeaderScope::Row).into(),
        Heads::Rows(wide) => Tag::TH(TableHeaderScope::Row).with_col_span(NonZeroU32::new(wide)).into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::packs::pdf::{Pen, Style};
    use crate::proof::ink::INK;
    use glam::DVec2;

    #[test]
    fn lines_of_one_paragraph_are_one_and_what_nobody_told_of_stands_alone() {
        let mut page = Page::new([100.0, 100.0]);
        let words = |page: &mut Page| page.text(DVec2::splat(20.0), Style::BODY.line("words"), INK);
        page.line(DVec2::ZERO, DVec2::ONE, Pen::solid(0.2, INK));
        for _ in 0..2 {
            let from = page.marks.len();
            words(&mut page);
            page.tell(from, Role::Paragraph(1));
        }
        words(&mut page);
        page.tell(page.marks.len(), Role::Paragraph(2));
        let stretches: Vec<(usize, Option<&Role>)> =
            page.stretches().into_iter().map(|(marks, role)| (marks.len(), role)).collect();
        assert_eq!(stretches, [(1, None), (2, Some(&Role::Paragraph(1))), (1, None)]);
        let mut reading = Reading::default();
        assert_eq!(reading.guess(&page.marks[..1]), Role::Furniture);
        let guessed = [reading.guess(&page.marks[1..2]), reading.guess(&page.marks[1..2])];
        assert!(guessed[0] != guessed[1] && matches!(guessed[0], Role::Paragraph(_)));
    }
}

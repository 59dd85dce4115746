//! A section of the proof as plain values: what it says, whatever it is set on.
//!
//! `proof.pdf` sets it on a page ([`Section::set`]), `proof.html` writes it as markup; so both say the same.

use crate::packs::pdf::{ACCENT, Flow, Style, Table};

/// A heading with what belongs to it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Section {
    pub heading: String,
    pub blocks: Vec<Block>,
}

/// One thing in a section.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Block {
    /// A paragraph.
    Text(String, Tone),
    /// An entry of a list.
    Entry(String),
    /// A table.
    Table(Table),
}

/// How a paragraph is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Tone {
    Plain,
    /// It matters.
    Strong,
    /// Something is not as it was asked for.
    Alert,
    /// By the way.
    Remark,
}

impl Section {
    pub(super) fn new(heading: &str) -> Self {
        Self { heading: heading.to_owned(), blocks: Vec::new() }
    }

    pub(super) fn text(&mut self, tone: Tone, text: impl Into<String>) {
        self.blocks.push(Block::Text(text.into(), tone));
    }

    pub(super) fn entry(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Entry(text.into()));
    }

    pub(super) fn table(&mut self, table: Table) {
        self.blocks.push(Block::Table(table));
    }

    /// Sets the section on a page.
    pub(super) fn set(&self, flow: &mut Flow) {
        let has_table = self.blocks.iter().any(|block| matches!(block, Block::Table(_)));
        // A table begins on the page of its heading, with a row or two.
        flow.section(&self.heading, if has_table { 40.0 } else { 24.0 });
        let mut entries = false;
        for block in &self.blocks {
            let is_entry = matches!(block, Block::Entry(_));
            if entries && !is_entry {
                flow.space(0.6);
            }
            entries = is_entry;
            match block {
                Block::Text(text, tone) => flow.paragraph(text, tone.style()),
                Block::Entry(text) => flow.entry(text),
                Block::Table(table) => {
                    let area = flow.column();
                    flow.table(table, area);
                }
            }
        }
    }
}

impl Tone {
    const fn style(self) -> Style {
        match self {
            Self::Plain => Style::BODY,
            Self::Strong => Style::STRONG,
            Self::Alert => Style::STRONG.coloured(ACCENT),
            Self::Remark => Style::REMARK,
        }
    }
}

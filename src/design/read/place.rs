//! Finds the place in the file of something in the tree.

use std::ops::Range;

use toml_edit::Document;

use super::raw::Raw;

/// One step from a table or list to what is in it.
#[derive(Clone, Copy, Debug)]
pub(super) enum Step<'a> {
    /// To the value of a key.
    Key(&'a str),
    /// To an element of a list, counted from 0.
    Number(usize),
}

/// Where the value stands that these steps lead to; the last place that was found when they lead nowhere.
pub(super) fn place_of(document: &Document<&str>, steps: &[Step<'_>]) -> Range<usize> {
    let mut span = 0..0;
    let mut raw = Some(Raw::Table(document.as_table()));
    for step in steps {
        raw = raw.and_then(|raw| match step {
            Step::Key(key) => raw.table()?.get(key).and_then(Raw::of),
            Step::Number(number) => raw.elements()?.get(*number).copied(),
        });
        span = raw.and_then(Raw::span).unwrap_or(span);
    }
    span
}

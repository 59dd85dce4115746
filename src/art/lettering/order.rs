//! In which order text stands on a line, and in which fonts.

use std::ops::Range;

use unicode_bidi::BidiInfo;

use super::font::Glyphs;

/// A stretch of text of one font and one direction.
pub(super) struct Stretch<F> {
    pub font: F,
    /// Bytes of the text.
    pub range: Range<usize>,
    pub leftward: bool,
}

/// Stretches as they stand from left to right: the Unicode Bidirectional Algorithm (UAX #9), the direction of the whole
/// line that of its first letter.
pub(super) fn stretches<F: Glyphs>(text: &str, fonts: &[F]) -> Vec<Stretch<F>> {
    let order = BidiInfo::new(text, None);
    let mut stretches = Vec::new();
    for paragraph in &order.paragraphs {
        let (levels, runs) = order.visual_runs(paragraph, paragraph.range.clone());
        for run in runs {
            let leftward = levels.get(run.start).is_some_and(unicode_bidi::Level::is_rtl);
            let mut of_run = by_font(text, run, fonts);
            if leftward {
                of_run.reverse();
            }
            stretches.extend(of_run.into_iter().map(|(font, range)| Stretch { font, range, leftward }));
        }
    }
    stretches
}

/// Stretches of one font: the first that has the character, or the first of all. Marks stay with what precedes them, and
/// so do spaces where they can.
fn by_font<F: Glyphs>(text: &str, within: Range<usize>, fonts: &[F]) -> Vec<(F, Range<usize>)> {
    let mut runs: Vec<(F, Range<usize>)> = Vec::new();
    for (at, character) in text.get(within.clone()).unwrap_or_default().char_indices() {
        let start = within.start + at;
        let end = start + character.len_utf8();
        let last = runs.last_mut();
        let stays = |font: &F| joins_what_precedes(character) || (character == ' ' && font.has(' '));
        let font = match &last {
            Some((font, _)) if stays(font) => Some(*font),
            _ => fonts.iter().find(|font| font.has(character)).or(fonts.first()).copied(),
        };
        let Some(font) = font else { continue };
        match last {
            Some((current, range)) if *current == font => range.end = end,
            _ => runs.push((font, start..end)),
        }
    }
    runs
}

/// Combining marks, joiners and variation selectors (Unicode blocks 0300, 0591, 064B, 200C-D, 20D0, FE00, FE20).
fn joins_what_precedes(character: char) -> bool {
    matches!(character, '\u{300}'..='\u{36f}' | '\u{591}'..='\u{5c7}' | '\u{64b}'..='\u{65f}' | '\u{200c}'..='\u{200d}'
        | '\u{20d0}'..='\u{20ff}' | '\u{fe00}'..='\u{fe0f}' | '\u{fe20}'..='\u{fe2f}')
}

/// Whether nothing is to be seen of a character: spaces, joiners, marks of direction, selectors.
pub(super) fn shows_nothing(character: char) -> bool {
    character.is_whitespace()
        || character.is_control()
        || matches!(character, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
            | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{e0000}'..='\u{e0fff}')
}

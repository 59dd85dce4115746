//! Text in a width: styles and line breaks.

use crate::art::{Colour, Line, Typeface, shape};

use crate::proof::ink::{ACCENT, INK, MUTED};

/// Millimetres of so many typographic points (1/72 in).
#[must_use]
pub const fn mm_of_points(points: f64) -> f64 {
    points * 25.4 / 72.0
}

/// How a text looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Style {
    /// Which cut.
    pub face: Typeface,
    /// Size, points.
    pub points: f64,
    /// Distance of baselines, as a multiple of the size.
    pub leading: f64,
    /// Colour.
    pub colour: Colour,
}

impl Style {
    /// The cake's name on the first page.
    pub const TITLE: Self = Self::new(Typeface::Strong, 23.0, 1.15, INK);
    /// A section's heading.
    pub const HEADING: Self = Self::new(Typeface::Strong, 10.5, 1.3, INK);
    /// Plain text.
    pub const BODY: Self = Self::new(Typeface::Text, 9.2, 1.42, INK);
    /// Plain text that matters.
    pub const STRONG: Self = Self::new(Typeface::Strong, 9.2, 1.42, INK);
    /// Remarks.
    pub const REMARK: Self = Self::new(Typeface::Slanted, 8.6, 1.4, MUTED);
    /// Labels, captions, table heads, footers.
    pub const LABEL: Self = Self::new(Typeface::Text, 7.4, 1.35, MUTED);
    /// Words beside a print, on a sheet.
    pub const BESIDE: Self = Self::new(Typeface::Text, 6.2, 1.3, INK);
    /// What kind of page this is.
    pub const KICKER: Self = Self::new(Typeface::Strong, 8.2, 1.3, ACCENT);

    const fn new(face: Typeface, points: f64, leading: f64, colour: Colour) -> Self {
        Self { face, points, leading, colour }
    }

    /// The same style in another colour.
    #[must_use]
    pub const fn coloured(mut self, colour: Colour) -> Self {
        self.colour = colour;
        self
    }

    /// From one baseline to the next, mm.
    #[must_use]
    pub const fn step(self) -> f64 {
        mm_of_points(self.points * self.leading)
    }

    /// From the top of a line to its baseline, mm: half the extra leading, then Inter's ascender (0.97 of the size).
    #[must_use]
    pub const fn rise(self) -> f64 {
        mm_of_points(self.points * (0.97 + (self.leading - 1.21) / 2.0))
    }

    /// One line of text in this style; sizes in mm.
    #[must_use]
    pub fn line(self, text: &str) -> Words {
        let line = shape(text, self.face, mm_of_points(self.points));
        Words { text: text.to_owned(), width: line.width, line }
    }

    /// Width of a text on one line, mm.
    #[must_use]
    pub fn width(self, text: &str) -> f64 {
        self.line(text).width
    }
}

/// A line of text as set, with the words that a reader finds when searching.
#[derive(Clone, Debug, PartialEq)]
pub struct Words {
    /// What it says.
    pub text: String,
    /// Its glyphs, mm.
    pub line: Line,
    /// Its width, mm.
    pub width: f64,
}

/// Breaks a text into lines no wider than `width` mm: at line ends and spaces, and inside a word only where it is wider
/// than a line by itself.
#[must_use]
pub fn break_lines(text: &str, style: Style, width: f64) -> Vec<Words> {
    text.lines().flat_map(|paragraph| break_paragraph(paragraph, style, width)).map(|line| style.line(&line)).collect()
}

fn break_paragraph(paragraph: &str, style: Style, width: f64) -> Vec<String> {
    let space = style.width(" ");
    let mut lines = vec![String::new()];
    let mut filled = 0.0;
    for word in paragraph.split_whitespace().flat_map(|word| break_word(word, style, width)) {
        let wide = style.width(&word);
        match lines.last_mut() {
            Some(line) if line.is_empty() => line.push_str(&word),
            Some(line) if filled + space + wide <= width => {
                line.push(' ');
                line.push_str(&word);
                filled += space;
            }
            _ => {
                lines.push(word);
                filled = 0.0;
            }
        }
        filled += wide;
    }
    lines
}

/// The word itself, or stretches of it that each fit.
fn break_word(word: &str, style: Style, width: f64) -> Vec<String> {
    if style.width(word) <= width {
        return vec![word.to_owned()];
    }
    let mut parts = vec![String::new()];
    let mut filled = 0.0;
    for character in word.chars() {
        let wide = style.width(character.encode_utf8(&mut [0; 4]));
        if filled + wide > width && filled > 0.0 {
            parts.push(String::new());
            filled = 0.0;
        }
        if let Some(part) = parts.last_mut() {
            part.push(character);
        }
        filled += wide;
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_wider_than_asked_and_no_word_is_lost() {
        let text = "Sticks and pins stay in the cake until it is cut.\nTake them out first; count them.";
        for width in [12.0, 30.0, 55.0, 400.0] {
            let lines = break_lines(text, Style::BODY, width);
            assert!(lines.iter().all(|line| line.width <= width), "{width}");
            let words: Vec<_> = lines.iter().flat_map(|line| line.text.split(' ')).collect();
            assert_eq!(words, text.split_whitespace().collect::<Vec<_>>(), "{width}");
        }
    }

    #[test]
    fn a_word_wider_than_a_line_is_broken() {
        let lines = break_lines("Wwwwwwwwwwwwwwwwwwwwwwwwwwww", Style::BODY, 20.0);
        assert!(lines.len() > 1 && lines.iter().all(|line| line.width <= 20.0));
    }
}

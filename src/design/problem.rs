//! What is wrong with a design file: every problem with its place, what was found, what was expected, what mends it.

use std::fmt;
use std::ops::Range;

/// Problems that are shown one by one; what lies beyond is only counted.
const MOST_SHOWN: usize = 50;

/// Characters of a source line that are shown.
const MOST_CHARACTERS: usize = 100;

/// One problem, before its place is counted out in lines.
#[derive(Clone, Debug)]
pub(crate) struct Fault {
    /// Bytes of the file.
    pub span: Range<usize>,
    /// Where in the design: `tier “base”, height`.
    pub place: String,
    /// What stands there.
    pub found: String,
    /// What should stand there.
    pub expected: String,
    /// What would mend it.
    pub mend: String,
}

/// One problem of a design file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The file, as it was named.
    pub file: String,
    /// Counted from 1.
    pub line: usize,
    /// Counted from 1, in characters.
    pub column: usize,
    /// Where in the design: `tier “base”, height`; empty for the file as a whole.
    pub place: String,
    /// What stands there.
    pub found: String,
    /// What should stand there.
    pub expected: String,
    /// What would mend it.
    pub mend: String,
    source: String,
    marks: String,
}

/// Everything that is wrong with a design file, in the order of the file. Never empty.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problems {
    /// The first ones.
    pub list: Vec<Problem>,
    /// How many more there are.
    pub more: usize,
}

impl Problems {
    /// Counts out lines and columns. `more` faults were passed over before.
    pub(crate) fn new(file: &str, text: &str, mut faults: Vec<Fault>, more: usize) -> Self {
        faults.sort_by_key(|fault| fault.span.start);
        let more = more + faults.len().saturating_sub(MOST_SHOWN);
        let list = faults.into_iter().take(MOST_SHOWN).map(|fault| Problem::new(file, text, fault)).collect();
        Self { list, more }
    }
}

impl Problem {
    fn new(file: &str, text: &str, fault: Fault) -> Self {
        let start = boundary(text, fault.span.start);
        let before = text.get(..start).unwrap_or("");
        let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
        let line_text = text.get(line_start..).unwrap_or("").lines().next().unwrap_or("");
        let column = text.get(line_start..start).unwrap_or("").chars().count();
        let end = boundary(text, fault.span.end.max(start)).min(line_start + line_text.len());
        let width = text.get(start..end).map_or(1, |marked| marked.chars().count().max(1));
        let (source, marks) = excerpt(line_text, column, width);
        Self {
            file: file.to_owned(),
            line: before.matches('\n').count() + 1,
            column: column + 1,
            place: fault.place,
            found: fault.found,
            expected: fault.expected,
            mend: fault.mend,
            source,
            marks,
        }
    }
}

/// The nearest place at or before `place` where a character begins.
fn boundary(text: &str, place: usize) -> usize {
    (0..=place.min(text.len())).rev().find(|&place| text.is_char_boundary(place)).unwrap_or(0)
}

/// The part of a line round a column, and a line of marks that belongs under it.
fn excerpt(line: &str, column: usize, width: usize) -> (String, String) {
    let first = column.saturating_sub(MOST_CHARACTERS / 2);
    let shown = line.chars().skip(first).take(MOST_CHARACTERS).map(|c| if c.is_control() { ' ' } else { c });
    let width = width.min(MOST_CHARACTERS - (column - first));
    (shown.collect(), " ".repeat(column - first) + &"^".repeat(width))
}

impl fmt::Display for Problem {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}:{}:{}: ", self.file, self.line, self.column)?;
        if !self.place.is_empty() {
            write!(out, "{}: ", self.place)?;
        }
        writeln!(out, "found {}; expected {}", self.found, self.expected)?;
        if !self.source.trim().is_empty() {
            let number = self.line.to_string();
            writeln!(out, "  {number} | {}", self.source)?;
            writeln!(out, "  {} | {}", " ".repeat(number.len()), self.marks)?;
        }
        write!(out, "  mend: {}", self.mend)
    }
}

impl fmt::Display for Problems {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (problem, number) in self.list.iter().zip(0..) {
            if number > 0 {
                writeln!(out)?;
            }
            write!(out, "{problem}")?;
        }
        if self.more > 0 {
            write!(out, "\nand {} more", self.more)?;
        }
        Ok(())
    }
}

impl std::error::Error for Problem {}

impl std::error::Error for Problems {}

#[cfg(test)]
mod tests {
    use super::{Fault, Problems};

    fn problems(text: &str, span: std::ops::Range<usize>) -> Problems {
        let (found, expected, mend) = ("“x”".to_owned(), "a length".to_owned(), "write 5 in".to_owned());
        let fault = Fault { span, place: "tier “base”, height".to_owned(), found, expected, mend };
        Problems::new("cake.toml", text, vec![fault], 0)
    }

    #[test]
    fn lines_and_columns_count_from_one_in_characters() {
        let text = "title = \"ä\"\n# é\nhöhe = \"x\" # ä\n";
        let at = text.find("\"x\"").expect("there");
        let shown = problems(text, at..at + 3).to_string();
        let lines: Vec<_> = shown.lines().collect();
        assert_eq!(lines[0], "cake.toml:3:8: tier “base”, height: found “x”; expected a length");
        assert_eq!(lines[1], "  3 | höhe = \"x\" # ä");
        assert_eq!(lines[2], "    |        ^^^");
        assert_eq!(lines[3], "  mend: write 5 in");
    }

    #[test]
    fn places_outside_the_text_and_inside_characters_are_survived() {
        for (text, span) in [("", 0..0), ("ä", 1..2), ("a\n", 9..99), ("a\nb", std::ops::Range { start: 2, end: 1 })] {
            let problems = problems(text, span);
            assert!(problems.list[0].line >= 1 && problems.list[0].column >= 1);
        }
        let long = "x".repeat(100_000);
        assert!(problems(&long, 50_000..60_000).to_string().len() < 600);
    }
}

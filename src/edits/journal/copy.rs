//! The recovery copy: what was not saved yet, beside the design.
//!
//! A few lines of comment and the design as it would be saved. The last line tells whether the copy is whole.

use crate::files::digest;

/// What stands in a recovery copy.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct RecoveryCopy {
    /// Digest of the design file that it grew from; `None` when there was none.
    pub grew_from: Option<String>,
    /// How many changes it has that the design file has not.
    pub changes: u32,
    /// The last of them, in words.
    pub last: String,
    /// The design as it would be saved.
    pub text: String,
}

const TITLE: &str = "# Recovery copy of a design: what was not saved yet. It goes away by itself.";
const FROM: &str = "# grew from: ";
const CHANGES: &str = "# changes: ";
const LAST: &str = "# last: ";
const WHOLE: &str = "# whole: ";
const NOTHING: &str = "nothing";

impl RecoveryCopy {
    pub(super) fn write(&self) -> String {
        let from = self.grew_from.as_deref().unwrap_or(NOTHING);
        let last: String = self.last.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        let lines = format!("{TITLE}\n{FROM}{from}\n{CHANGES}{}\n{LAST}{last}\n{}", self.changes, self.text);
        format!("{lines}\n{WHOLE}{}\n", digest(lines.as_bytes()))
    }

    /// `None` when it is none, or only a part of one.
    pub(super) fn read(bytes: &[u8]) -> Option<Self> {
        let (lines, whole) = std::str::from_utf8(bytes).ok()?.rsplit_once(&format!("\n{WHOLE}"))?;
        if whole.trim_end() != digest(lines.as_bytes()) {
            return None;
        }
        let rest = lines.strip_prefix(TITLE)?.strip_prefix('\n')?;
        let (from, rest) = rest.strip_prefix(FROM)?.split_once('\n')?;
        let (changes, rest) = rest.strip_prefix(CHANGES)?.split_once('\n')?;
        let (last, text) = rest.strip_prefix(LAST)?.split_once('\n')?;
        Some(Self {
            grew_from: (from != NOTHING).then(|| from.to_owned()),
            changes: changes.parse().ok()?,
            last: last.to_owned(),
            text: text.to_owned(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::RecoveryCopy;

    #[test]
    fn a_copy_is_read_back_whole_or_not_at_all() {
        let copy = RecoveryCopy {
            grew_from: Some("ab".to_owned()),
            changes: 3,
            last: "rename “a\nb”".to_owned(),
            text: "unit = 'in'\n# whole: of it\n".to_owned(),
        };
        let written = copy.write();
        let read = RecoveryCopy::read(written.as_bytes()).expect("whole");
        assert_eq!(read, RecoveryCopy { last: "rename “a b”".to_owned(), ..copy.clone() });
        for end in 0..written.len() {
            assert_eq!(RecoveryCopy::read(&written.as_bytes()[..end]).filter(|read| read.text != copy.text), None);
        }
        assert_eq!(RecoveryCopy::read(b"unit = 'in'"), None);
        let nothing = RecoveryCopy { grew_from: None, ..copy };
        assert_eq!(RecoveryCopy::read(nothing.write().as_bytes()).expect("whole").grew_from, None);
    }
}

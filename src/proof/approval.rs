//! The record of what was approved: by whom, when, and which revision; the last entry stands.
//!
//! ```json
//! { "format": 1, "approvals": [{ "by": "M. Example", "on": "2026-11-28", "revision": "64 hexadecimal digits" }] }
//! ```
//!
//! It lies beside the design as [`RECORD`]; a copy of each approved design with its art lies in [`KEPT`], in a folder named by
//! its revision, so that what changed since can be told.

use std::path::Path;

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::files::{FileError, read_bounded};
use crate::findings::{Code, Finding};

/// Name of the record's file, in the design's folder.
pub const RECORD: &str = "approval.json";
/// Name of the folder of approved designs, in the design's folder.
pub const KEPT: &str = "approved";
/// A record larger than this is not one, bytes.
pub const LARGEST_RECORD: u64 = 1 << 20;

/// Characters in the longest name.
const LONGEST_NAME: usize = 200;
/// More approvals of one cake are not kept.
const MOST: usize = 1000;
/// Hexadecimal digits of a whole revision, and of one as it is printed.
const DIGITS: usize = 64;
const PRINTED: usize = 8;

/// One approval.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Approval {
    /// Who approved, as the decorator wrote it down.
    pub by: String,
    /// When.
    pub on: Date,
    /// The whole revision.
    pub revision: String,
}

/// Who approved the design, and whether that still holds.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ApprovalFacts {
    /// Who approved.
    pub by: String,
    /// When: `2026-11-28`.
    pub on: String,
    /// The revision that was approved, as it is printed.
    pub revision: String,
    /// That is the design as it is now.
    pub stands: bool,
}

impl ApprovalFacts {
    /// In a sentence, for whatever is made of the design.
    #[must_use]
    pub fn sentence(&self) -> String {
        let on = self.on.parse().map_or_else(|_| self.on.clone(), long_date);
        if self.stands {
            format!("Approved by {} on {on}.", self.by)
        } else {
            format!("Changed since {} approved revision {} on {on}.", self.by, self.revision)
        }
    }
}

/// All approvals of a design, the earliest first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Record(Vec<Approval>);

/// Why an approval can't be read or written down.
#[derive(Debug, thiserror::Error)]
pub enum ApprovalError {
    /// The record's file is damaged.
    #[error("{file}{place}: {reason}; take it from a backup, or move it away to begin a new record")]
    Damaged {
        /// The file.
        file: String,
        /// `:3:12`, or nothing where no place is known.
        place: String,
        /// What is wrong.
        reason: String,
    },
    /// The record can't be read.
    #[error(transparent)]
    File(#[from] FileError),
    /// A name that is none.
    #[error("the name of who approves {0}")]
    Name(&'static str),
    /// The record is full.
    #[error("this design was approved {MOST} times; move {RECORD} away to begin a new record")]
    Full,
}

/// The file as it is written.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    format: u32,
    approvals: Vec<WrittenApproval>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenApproval {
    by: String,
    on: String,
    revision: String,
}

impl Approval {
    /// An approval of a whole revision.
    ///
    /// # Errors
    /// A name that is blank, too long, or holds control characters.
    pub fn new(by: &str, on: Date, revision: &str) -> Result<Self, ApprovalError> {
        let by = by.trim();
        let wrong = if by.is_empty() {
            Some("is blank; write it after --by")
        } else if by.chars().count() > LONGEST_NAME {
            Some("is longer than 200 characters; write a shorter one")
        } else if by.chars().any(char::is_control) {
            Some("holds a control character; write it in one line of plain text")
        } else {
            None
        };
        wrong.map_or_else(
            || Ok(Self { by: by.to_owned(), on, revision: revision.to_owned() }),
            |wrong| Err(ApprovalError::Name(wrong)),
        )
    }

    /// The revision as it is printed.
    #[must_use]
    pub fn printed(&self) -> &str {
        self.revision.get(..PRINTED).unwrap_or(&self.revision)
    }

    /// The folder that holds the approved design, below the design's own.
    #[must_use]
    pub fn folder(&self) -> String {
        format!("{KEPT}/{}", self.printed())
    }

    /// What is said of it beside a design of this whole revision.
    #[must_use]
    pub fn facts(&self, revision: &str) -> ApprovalFacts {
        let stands = self.revision == revision;
        ApprovalFacts { by: self.by.clone(), on: self.on.to_string(), revision: self.printed().to_owned(), stands }
    }

    /// What `check` says when the design is another one by now.
    #[must_use]
    pub fn moved_on(&self, revision: &str) -> Option<Finding> {
        let words = format!(
            "{} approved revision {} on {}; the design has changed since",
            self.by,
            self.printed(),
            long_date(self.on)
        );
        let mend = "look at what changed with `tierproof diff`, and have the new proof approved";
        (self.revision != revision).then(|| Finding::new(Code::MovedOn, "approval", words, mend))
    }
}

/// `28 November 2026`.
#[must_use]
pub fn long_date(date: Date) -> String {
    date.strftime("%-d %B %Y").to_string()
}

impl Record {
    /// The record in a design's folder; an empty one where there is none.
    ///
    /// # Errors
    /// A file that can't be read, or is damaged.
    pub fn beside(folder: &Path) -> Result<Self, ApprovalError> {
        let path = folder.join(RECORD);
        match read_bounded(&path, LARGEST_RECORD) {
            Err(FileError::Missing { .. }) => Ok(Self::default()),
            read => Self::read(&String::from_utf8_lossy(&read?), &path.display().to_string()),
        }
    }

    /// Reads a record; `file` is what messages call it.
    ///
    /// # Errors
    /// Anything that is not such a record, with its line and column.
    pub fn read(text: &str, file: &str) -> Result<Self, ApprovalError> {
        let damaged = |place: String, reason: String| ApprovalError::Damaged { file: file.to_owned(), place, reason };
        let written: Written = serde_json::from_str(text).map_err(|error| {
            let said = error.to_string();
            let reason = said.split(" at line ").next().unwrap_or_default().to_owned();
            damaged(format!(":{}:{}", error.line(), error.column()), reason)
        })?;
        if written.format != 1 {
            return Err(damaged(String::new(), format!("format {} is not known, 1 is", written.format)));
        }
        if written.approvals.len() > MOST {
            return Err(damaged(String::new(), format!("more than {MOST} approvals")));
        }
        let read = |(number, one): (usize, WrittenApproval)| {
            approval(&one).map_err(|reason| damaged(String::new(), format!("approval {}: {reason}", number + 1)))
        };
        written.approvals.into_iter().enumerate().map(read).collect::<Result<_, _>>().map(Self)
    }

    /// The text of the record's file.
    #[must_use]
    pub fn text(&self) -> String {
        let write = |one: &Approval| WrittenApproval {
            by: one.by.clone(),
            on: one.on.to_string(),
            revision: one.revision.clone(),
        };
        let written = Written { format: 1, approvals: self.0.iter().map(write).collect() };
        // Plain texts in plain structs: nothing here can be refused.
        serde_json::to_string_pretty(&written).unwrap_or_default() + "\n"
    }

    /// The approval that stands.
    #[must_use]
    pub fn last(&self) -> Option<&Approval> {
        self.0.last()
    }

    /// All of them, the earliest first.
    #[must_use]
    pub fn all(&self) -> &[Approval] {
        &self.0
    }

    /// Folders of the designs that were approved, once each.
    #[must_use]
    pub fn folders(&self) -> Vec<String> {
        let mut folders: Vec<String> = self.0.iter().map(Approval::folder).collect();
        folders.sort_unstable();
        folders.dedup();
        folders
    }

    /// The record with one more approval.
    ///
    /// # Errors
    /// When it is full.
    pub fn with(mut self, approval: Approval) -> Result<Self, ApprovalError> {
        if self.0.len() >= MOST {
            return Err(ApprovalError::Full);
        }
        self.0.push(approval);
        Ok(self)
    }
}

fn approval(written: &WrittenApproval) -> Result<Approval, String> {
    let on: Date = written.on.parse().map_err(|_| format!("“{}” is no date such as 2026-11-28", written.on))?;
    let hexadecimal = |digit: char| digit.is_ascii_digit() || ('a'..='f').contains(&digit);
    if written.revision.len() != DIGITS || !written.revision.chars().all(hexadecimal) {
        return Err(format!("its revision is not {DIGITS} hexadecimal digits"));
    }
    Approval::new(&written.by, on, &written.revision).map_err(|error| error.to_string())
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    fn given(digit: &str) -> Approval {
        Approval::new(" M. Example ", date(2026, 11, 28), &digit.repeat(64)).unwrap()
    }

    #[test]
    fn what_is_written_is_read_again_and_the_last_one_stands() {
        let record = Record::default().with(given("a")).unwrap().with(given("b")).unwrap();
        let read = Record::read(&record.text(), RECORD).unwrap();
        assert_eq!(read, record);
        let last = read.last().unwrap();
        assert_eq!(
            (last.by.as_str(), last.printed(), last.folder().as_str()),
            ("M. Example", "bbbbbbbb", "approved/bbbbbbbb")
        );
    }

    #[test]
    fn a_changed_design_is_told_and_the_same_one_is_not() {
        let approval = given("a");
        assert_eq!(approval.moved_on(&"a".repeat(64)), None);
        assert!(approval.facts(&"a".repeat(64)).stands && !approval.facts(&"b".repeat(64)).stands);
        let finding = approval.moved_on(&"b".repeat(64)).unwrap();
        assert_eq!(
            finding.sentence,
            "M. Example approved revision aaaaaaaa on 28 November 2026; the design has changed since"
        );
    }

    #[test]
    fn names_are_names() {
        let try_name = |name: &str| Approval::new(name, date(2026, 11, 28), "");
        for name in ["", "  ", &"x".repeat(201), "a\nb", "a\u{7}"] {
            assert!(matches!(try_name(name), Err(ApprovalError::Name(_))), "{name:?}");
        }
        assert_eq!(try_name(&"ü".repeat(200)).unwrap().by.chars().count(), 200);
    }

    #[test]
    fn a_damaged_record_is_told_with_its_place() {
        let good = Record::default().with(given("a")).unwrap().text();
        let cases = [
            (good.replace("2026-11-28", "2026-13-28"), "approval 1: “2026-13-28” is no date"),
            (good.replace(&"a".repeat(64), "abc"), "approval 1: its revision"),
            (good.replace("\"format\": 1", "\"format\": 2"), "format 2"),
            (good.replace("\"by\"", "\"buy\""), "approval.json:5:"),
            (good.replace("M. Example", " "), "approval 1: the name"),
            (good.get(..40).unwrap().to_owned(), "approval.json:"),
            (String::new(), "approval.json:1:0"),
        ];
        for (text, phrase) in cases {
            let said = Record::read(&text, RECORD).unwrap_err().to_string();
            assert!(said.contains(phrase) && said.contains("backup"), "{said}");
        }
    }
}

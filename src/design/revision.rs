//! The revision: a short hash of a design and its art, printed on everything that is made from it.
//!
//! It hashes what the design means, not how it was typed: comments, the order of keys, `5.5 in` for `5 1/2 in` and
//! defaults that are spelt out make no difference; any value and any byte of the art do.

use std::collections::BTreeMap;
use std::fmt;

use sha2::{Digest, Sha256};

use super::model::Design;
use super::tree::{Record, Value};

/// A hash of a design and its art. Displays as its first eight hexadecimal digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Revision([u8; 32]);

impl Revision {
    /// All 64 hexadecimal digits.
    #[must_use]
    pub fn in_full(&self) -> String {
        self.0.iter().map(|byte| format!("{byte:02x}")).collect()
    }
}

impl fmt::Display for Revision {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().take(4).try_for_each(|byte| write!(out, "{byte:02x}"))
    }
}

/// The revision of a design whose art has these digests (SHA-256), by path.
#[must_use]
pub fn revision(design: &Design, art: &BTreeMap<String, [u8; 32]>) -> Revision {
    let mut text = "design 1\n".to_owned();
    line(&mut text, "", &Value::Table(design.to_table()));
    for (path, digest) in art {
        text.push_str(&format!("art {path:?} = {digest:02x?}\n"));
    }
    Revision(Sha256::digest(text.as_bytes()).into())
}

/// One line a value. Lengths to a millionth of a millimetre, so that the unit they were typed in makes no difference.
fn line(text: &mut String, path: &str, value: &Value) {
    let plain = match value {
        Value::Truth(truth) => truth.to_string(),
        Value::Count(count) => count.to_string(),
        Value::Number(number) => format!("{:?}", number + 0.0),
        Value::Length(length) => format!("{:.6} mm", length.as_mm() + 0.0),
        Value::Text(words) => format!("{words:?}"),
        Value::List(list) => {
            for (value, number) in list.iter().zip(0..) {
                line(text, &format!("{path}.{number}"), value);
            }
            format!("a list of {}", list.len())
        }
        Value::Table(table) => {
            // What is locked in the editor makes no other cake.
            for (key, value) in table.iter().filter(|(key, _)| *key != "locked") {
                line(text, &format!("{path}.{key:?}"), value);
            }
            return;
        }
    };
    text.push_str(&format!("{path} = {plain}\n"));
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::super::read_design;
    use super::{Revision, revision};

    const PLAIN: &str = "unit = 'in'\n[[tier]]\nname = 'base'\nsize = 7\nheight = '5 1/2'\nicing = '1/4'\n";

    fn of(text: &str) -> Revision {
        revision(&read_design(text, "cake.toml").expect("design"), &BTreeMap::new())
    }

    #[test]
    fn typing_makes_no_difference() {
        let other = "# comment\ntitle = ''\nunit = 'in'\n[[tier]]\nheight = '139.7 mm'\nicing = 0.25\nname = 'base'\nsize = '17.78 cm'\nturn = -0.0\nlocked = true\n";
        assert_eq!(of(PLAIN), of(other));
        assert_eq!(of(PLAIN).to_string().len(), 8);
        assert!(of(PLAIN).in_full().starts_with(&of(PLAIN).to_string()));
    }

    #[test]
    fn any_value_and_any_art_makes_one() {
        let changes =
            [("5 1/2", "5 9/16"), ("'base'", "'bass'"), ("'in'\n", "'in'\ntitle = 'x'\n"), ("size", "turn = 1\nsize")];
        for (from, to) in changes {
            assert_ne!(of(PLAIN), of(&PLAIN.replace(from, to)), "{from}");
        }
        let design = read_design(PLAIN, "cake.toml").expect("design");
        let art = |name: &str, byte| BTreeMap::from([(name.to_owned(), [byte; 32])]);
        let all = [
            revision(&design, &art("a", 1)),
            revision(&design, &art("a", 2)),
            revision(&design, &art("b", 1)),
            of(PLAIN),
        ];
        let different: std::collections::BTreeSet<_> = all.into_iter().collect();
        assert_eq!(different.len(), 4);
    }
}

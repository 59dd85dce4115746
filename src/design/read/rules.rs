//! Checks what must hold between the keys of one table.

use std::ops::Range;

use toml_edit::TableLike;

use super::raw::Raw;
use super::walk::{Report, Walk, key_span, report, span_of};
use crate::design::fields::Rule;
use crate::design::hint::choice;
use crate::design::tree::{Table, Value};

impl Walk {
    /// Checks one rule on a table of the file and what was read of it.
    pub(super) fn rule(&mut self, rule: &Rule, both: (&dyn TableLike, &Table), header: &Range<usize>) {
        let (raw, table) = both;
        let present = |key: &str| raw.get(key).is_some_and(|item| !item.is_none());
        let at_key = |key: &str| key_span(raw, key, header);
        match *rule {
            Rule::OneOf(keys) | Rule::AtMostOne(keys) => {
                let given: Vec<_> = keys.iter().copied().filter(|key| present(key)).collect();
                match given.as_slice() {
                    [] if matches!(rule, Rule::OneOf(_)) => self.fault(header.clone(), none_of(keys)),
                    [] | [_] => {}
                    [_, second, ..] => self.fault(at_key(second), together(&given)),
                }
            }
            Rule::SomeOf(keys) => {
                if !keys.iter().any(|key| present(key)) {
                    self.fault(header.clone(), none_of(keys));
                }
            }
            Rule::Needs(key, needed) => {
                if present(key) && !present(needed) {
                    let found = format!("“{key}” without “{needed}”");
                    self.fault(at_key(key), report(found, "both of them", format!("add {needed}, or leave {key} out")));
                }
            }
            Rule::Without { key, truth } => {
                if present(key) && table.get(truth) == Some(&Value::Truth(true)) {
                    let found = format!("“{key}” with {truth} = true");
                    self.fault(at_key(key), report(found, "one of them", format!("leave out {key} or {truth}")));
                }
            }
            Rule::Where { key, word, needs } => match table.text(key) {
                Some(found) if found == word && !present(needs) => {
                    let found = format!("{key} = \"{word}\" without “{needs}”");
                    let mend = format!("add {needs}, or give {key} another word");
                    self.fault(at_key(key), report(found, format!("a key “{needs}” with it"), mend));
                }
                Some(found) if found != word && present(needs) => {
                    self.fault(at_key(needs), only_with(needs, key, word));
                }
                _ => {}
            },
            Rule::Only { keys, key, word } => {
                let other = table.get(key).is_some() && table.text(key) != Some(word);
                for only in keys.iter().filter(|only| other && present(only)) {
                    self.fault(at_key(only), only_with(only, key, word));
                }
            }
            Rule::PairFor(words) => self.pair_for(words, both, header),
            Rule::BySurface(keys) => {
                for key in keys.iter().filter(|key| present(key)) {
                    self.by_surface(key, both, header);
                }
            }
        }
    }

    fn pair_for(&mut self, words: &[&str], both: (&dyn TableLike, &Table), header: &Range<usize>) {
        let (raw, table) = both;
        let (Some(shape), Some(size)) = (table.text("shape"), table.get("size")) else { return };
        let span = span_of(raw, "size", header);
        match (words.contains(&shape), size) {
            (true, Value::Length(_)) => {
                let found = format!("one length for the size of a shape “{shape}”");
                self.fault(
                    span,
                    report(found, "two lengths in brackets: width and depth", "write size = [width, depth]"),
                );
            }
            (false, Value::List(_)) => {
                let found = format!("two lengths for the size of a shape “{shape}”");
                let mend = format!("write one length, or make the shape {}", choice(words.iter().copied()));
                self.fault(span, report(found, "one length across", mend));
            }
            _ => {}
        }
    }

    /// Along and up belong to a side, x and z to a top or the board; a stretch needs both.
    fn by_surface(&mut self, key: &str, both: (&dyn TableLike, &Table), header: &Range<usize>) {
        let (raw, table) = both;
        let Some(surface) = table.table("seat").and_then(|seat| seat.text("surface")) else { return };
        let Some(place) = raw.get(key).and_then(Raw::of).and_then(Raw::table) else { return };
        let (right, wrong) =
            if surface == "side" { (["along", "up"], ["x", "z"]) } else { (["x", "z"], ["along", "up"]) };
        let span = span_of(raw, key, header);
        let [first, second] = right;
        if let Some(other) = wrong.into_iter().find(|other| place.contains_key(other)) {
            let mend = format!("write {first} and {second}, or seat it on another surface");
            let found = format!("“{key}” with “{other}” on the surface “{surface}”");
            self.fault(key_span(place, other, &span), report(found, format!("{first} and {second}"), mend));
            return;
        }
        let lacks = |key: &str| !place.contains_key(key);
        if key == "over" && (lacks(first) || lacks(second)) {
            let mend = format!("write over = {{ {first} = [from, to], {second} = [from, to] }}");
            self.fault(span, report("a stretch in one direction only", format!("{first} and {second}"), mend));
        }
    }
}

fn together(given: &[&str]) -> Report {
    let found = format!("{} together", given.join(" and "));
    report(found, format!("one of {}", choice(given.iter().copied())), "leave out all but one")
}

fn none_of(keys: &[&str]) -> Report {
    report(format!("neither of {}", choice(keys.iter().copied())), "one of them", format!("add {}", keys.join(" or ")))
}

fn only_with(found: &str, key: &str, word: &str) -> Report {
    let mend = format!("leave {found} out, or write {key} = \"{word}\"");
    report(format!("“{found}” without {key} = \"{word}\""), format!("“{found}” only with {key} = \"{word}\""), mend)
}

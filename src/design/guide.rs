//! The guide to the design file (`docs/design-file.md`), from the one description.

use std::fmt::Write;

use super::fields::{CAKE, Field, Kind, Need, Rule, Shape, Variant};
use super::hint::choice;
use super::known::{known_finishes, known_sheets};
use super::tree::Value;
use crate::measure::{Unit, show_length};

const INTRODUCTION: &str = "\
# The design file

A design is a folder with the file `cake.toml` and its art. The file is TOML: keys and values, tables under headings,
comments behind `#`. It is yours: write it in any editor. The program keeps your comments and the way you typed what it
does not change.

**Lengths** are typed as on a ruler: `\"5 3/8 in\"`, `\"5-3/8\\\"\"`, `\"5.375in\"`, `\"¾ in\"`, `\"2 ft 6 in\"`, `\"120 mm\"`,
`\"12cm\"`, `\"8,5 cm\"`. A bare number, in quotes or not, takes the design's `unit`. All lengths are below 3 m.
**Angles** are degrees. **Places**: `x` goes to the customer's right and `z` towards the customer, from the centre of what
carries the piece; on a side, `along` is read from a tape that shows 0 at front centre, to the right, and `up` from the foot.

**Names** are yours; tiers and pieces share no name, and none is called `board`. An unknown key is an error, and the
message names the nearest key there is. Everything that is wrong is told at once, each with its line.

This page is made from the description that the program itself reads by.

";

/// The text of `docs/design-file.md`.
#[must_use]
pub fn guide() -> String {
    let mut text = INTRODUCTION.to_owned();
    section(&mut text, "The top of the file", &CAKE);
    text.push_str("## Known finishes and sheets\n\nThese may be named without saying what they are.\n\n");
    for (name, finish) in known_finishes() {
        let paste = finish.paste.as_ref().map(|paste| format!(", over {paste} paste")).unwrap_or_default();
        let _ = writeln!(text, "* `{name}`: {}, {}{paste}", finish.colour, finish.look.word());
    }
    text.push('\n');
    for (name, sheet) in known_sheets() {
        let unit = if name == "letter" { Unit::Inch } else { Unit::Millimetre };
        let sides = |pair: [_; 2]| pair.map(|side| show_length(side, unit)).join(" x ");
        let _ =
            writeln!(text, "* sheet `{name}`: {}, of which {} are printed", sides(sheet.size), sides(sheet.printable));
    }
    text
}

/// A table with its keys, then the tables that its keys hold.
fn section(text: &mut String, heading: &str, shape: &'static Shape) {
    let _ = writeln!(text, "## {heading}\n\n{}\n", shape.meaning);
    keys(text, shape.fields, shape.rules);
    for variant in shape.kinds {
        kind(text, shape, variant);
    }
    let variants = shape.kinds.iter().flat_map(|variant| variant.fields);
    let mut told = Vec::new();
    for field in shape.fields.iter().chain(variants) {
        let Some((part, heading)) = part(field, shape) else { continue };
        if !told.contains(&part.name) {
            told.push(part.name);
            section(text, &heading, part);
        }
    }
}

fn kind(text: &mut String, shape: &Shape, variant: &Variant) {
    let _ = writeln!(text, "### {} `kind = \"{}\"`\n\n{}\n", shape.name, variant.word, variant.meaning);
    keys(text, variant.fields, variant.rules);
}

/// The table that a key holds, and a heading for it.
fn part(field: &Field, parent: &Shape) -> Option<(&'static Shape, String)> {
    let top = parent.name == CAKE.name;
    match field.kind {
        Kind::Tables(shape, _, _) if top => Some((shape, format!("`[[{}]]`", field.key))),
        Kind::Tables(shape, _, _) => Some((shape, format!("`[[{}.{}]]`", parent.name, field.key))),
        Kind::ByName(shape) => Some((shape, format!("`[{}.NAME]`", field.key))),
        Kind::Table(shape) if top => Some((shape, format!("`[{}]`", field.key))),
        Kind::Table(shape) => Some((shape, format!("`{}` of a {}", field.key, parent.name))),
        Kind::List(Kind::Table(shape), _, _) => {
            Some((shape, format!("one of the `{}` of a {}", field.key, parent.name)))
        }
        _ => None,
    }
}

fn keys(text: &mut String, fields: &[Field], rules: &[Rule]) {
    if !fields.is_empty() {
        text.push_str("| key | value | when left out | meaning |\n| --- | --- | --- | --- |\n");
    }
    for field in fields {
        let absent = match field.need {
            Need::Required => "must be there".to_owned(),
            Need::Optional => "—".to_owned(),
            Need::Default(fallback) => shown(&fallback.value()),
        };
        let _ = writeln!(text, "| `{}` | {} | {absent} | {} |", field.key, field.kind.words(), field.meaning);
    }
    for rule in rules {
        let _ = writeln!(text, "\n* {}", in_words(rule));
    }
    text.push('\n');
}

/// A default, in inches.
fn shown(value: &Value) -> String {
    match value {
        Value::Truth(truth) => truth.to_string(),
        Value::Count(count) => count.to_string(),
        Value::Number(number) => number.to_string(),
        Value::Length(length) if length.as_mm() == 0.0 => "0".to_owned(),
        // Only the thickness of a printed sheet is finer than a sixteenth of an inch.
        Value::Length(length) if length.as_mm() < 1.0 => show_length(*length, Unit::Millimetre),
        Value::Length(length) => show_length(*length, Unit::Inch),
        Value::Text(text) if text.is_empty() => "empty".to_owned(),
        Value::Text(text) => format!("`{text}`"),
        Value::List(list) if list.is_empty() => "none".to_owned(),
        Value::List(list) => list.iter().map(shown).collect::<Vec<_>>().join(", "),
        Value::Table(_) => "its own defaults".to_owned(),
    }
}

fn in_words(rule: &Rule) -> String {
    match *rule {
        Rule::OneOf(keys) => format!("Exactly one of {}.", choice(keys.iter().copied())),
        Rule::AtMostOne(keys) => format!("At most one of {}.", choice(keys.iter().copied())),
        Rule::SomeOf(keys) => format!("At least one of {}.", choice(keys.iter().copied())),
        Rule::Needs(key, needed) => format!("“{key}” needs “{needed}”."),
        Rule::Without { key, truth } => format!("“{key}” only without {truth} = true."),
        Rule::Where { key, word, needs } => {
            format!("“{needs}” must be there with `{key} = \"{word}\"`, and only then.")
        }
        Rule::Only { keys, key, word } => {
            format!("{} only with `{key} = \"{word}\"`.", choice(keys.iter().copied()))
        }
        Rule::PairFor(words) => {
            format!("“size” is width and depth for {}, and one length otherwise.", choice(words.iter().copied()))
        }
        Rule::BySurface(keys) => {
            format!("{}: along and up on a side, x and z elsewhere.", choice(keys.iter().copied()))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::guide;

    /// To bring the page up to date: `TIERPROOF_WRITE_PAGES=1 cargo test --no-default-features guide`.
    #[test]
    fn the_guide_in_docs_is_up_to_date() {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/design-file.md");
        if std::env::var_os("TIERPROOF_WRITE_PAGES").is_some() {
            crate::files::write_whole(&path, guide().as_bytes(), crate::files::Overwrite::Document).expect("written");
        }
        let page = crate::files::read_bounded(&path, 1 << 20).expect("docs/design-file.md");
        assert!(page == guide().as_bytes(), "run TIERPROOF_WRITE_PAGES=1 cargo test --no-default-features guide");
    }
}

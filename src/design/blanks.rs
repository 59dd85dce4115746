//! The document's description as blanks to be filled in: for a card that shows any part of a design and changes it.
//!
//! A part goes over into its table, one value of it is changed, [`tidied`] makes the rest agree (of two keys that exclude each other
//! the later one stays), and the part comes back from the table. Whether the design may be so is judged by [`super::accept`] alone.

use super::complete::complete;
use super::fields::{CAKE, Kind, Rule, Shape};
use super::model::{Course, Piece, Tier};
use super::read::settle_seat;
use super::tree::{Leaf, Record, Table, Value};

/// The description of the document as a whole.
pub(crate) fn shape_of_all() -> &'static Shape {
    &CAKE
}

/// The description of a table of the document by its key: `tier`, `piece`, `board`, `finish` …
pub(crate) fn shape_of(key: &str) -> Option<&'static Shape> {
    inner(&CAKE.fields.iter().find(|field| field.key == key)?.kind)
}

/// The description of a course.
pub(crate) fn shape_of_course() -> Option<&'static Shape> {
    inner(&shape_of("tier")?.fields.iter().find(|field| field.key == "course")?.kind)
}

const fn inner(kind: &Kind) -> Option<&'static Shape> {
    match kind {
        Kind::Tables(shape, ..) | Kind::ByName(shape) | Kind::Table(shape) => Some(shape),
        _ => None,
    }
}

/// Any part of a design as its table.
pub(crate) fn blanks_of<T: Record>(part: &T) -> Table {
    part.to_table()
}

/// A part of a design from its table; `None` where a key that must be there is not.
pub(crate) fn filled_in<T: Leaf>(table: Table) -> Option<T> {
    T::from_value(&Value::Table(table))
}

/// A piece from its table; names that are tiers' are told so.
pub(crate) fn filled_in_piece(table: Table, tiers: &[Tier]) -> Option<Piece> {
    let tiers: Vec<&str> = tiers.iter().map(|tier| tier.name.as_str()).collect();
    let mut piece: Piece = filled_in(table)?;
    settle_seat(&mut piece, &tiers);
    Some(piece)
}

/// A course from its table.
pub(crate) fn filled_in_course(table: Table) -> Option<Course> {
    filled_in(table)
}

/// What a key that has to be there gets at first.
pub(crate) type First<'a> = &'a dyn Fn(&str) -> Option<Value>;

/// The table after `key` was changed: keys that the change forbids are gone, those it asks for are there (as `first` gives them),
/// and what is left out has the default of the description.
pub(crate) fn tidied(shape: &'static Shape, table: &mut Table, (key, first): (&str, First<'_>)) {
    let variant = table.text("kind").and_then(|word| shape.variant(word));
    for rule in shape.rules_with(variant) {
        match rule {
            Rule::OneOf(keys) if keys.contains(&key) && table.get(key).is_some() => {
                keys.iter().filter(|other| **other != key).for_each(|other| table.drop(other));
            }
            Rule::Without { key: other, truth } if key == *truth && table.get(truth) == Some(&Value::Truth(true)) => {
                table.drop(other);
            }
            Rule::Without { key: other, truth } if key == *other && table.get(other).is_some() => {
                table.set(*truth, Value::Truth(false));
            }
            Rule::Where { key: decides, word, needs } => match table.text(decides) == Some(word) {
                true if table.get(needs).is_none() => {
                    if let Some(value) = first(needs) {
                        table.set(*needs, value);
                    }
                }
                true => {}
                false => table.drop(needs),
            },
            Rule::Only { keys, key: decides, word } if table.text(decides) != Some(word) => {
                keys.iter().for_each(|other| table.drop(other));
            }
            Rule::Needs(one, other) if table.get(one).is_some() && table.get(other).is_none() => {
                if key == *other {
                    table.drop(one);
                } else if let Some(value) = first(other) {
                    table.set(*other, value);
                }
            }
            Rule::PairFor(words) => pair_up(table, words),
            _ => {}
        }
    }
    complete(shape, table);
    // Defaults of keys that mean nothing here are no keys.
    for rule in shape.rules_with(variant) {
        if let Rule::Only { keys, key: decides, word } = rule
            && table.text(decides) != Some(word)
        {
            keys.iter().for_each(|other| table.drop(other));
        }
    }
}

/// A size of one length or two, as the shape asks.
fn pair_up(table: &mut Table, words: &[&str]) {
    let is_pair = table.text("shape").is_some_and(|shape| words.contains(&shape));
    let size = match table.get("size") {
        Some(Value::Length(length)) if is_pair => Some(Value::List(vec![Value::Length(*length); 2])),
        Some(Value::List(list)) if !is_pair => list.first().cloned(),
        _ => None,
    };
    if let Some(size) = size {
        table.set("size", size);
    }
}

/// Whether a key means something in a table as it is: not one that only counts while another says something else.
pub(crate) fn is_asked(shape: &'static Shape, table: &Table, key: &str) -> bool {
    let variant = table.text("kind").and_then(|word| shape.variant(word));
    shape.rules_with(variant).all(|rule| match rule {
        Rule::Only { keys, key: decides, word } if keys.contains(&key) => table.text(decides) == Some(word),
        Rule::Where { key: decides, word, needs } if *needs == key => table.text(decides) == Some(word),
        Rule::Without { key: other, truth } if *other == key => table.get(truth) != Some(&Value::Truth(true)),
        _ => true,
    })
}

#[cfg(test)]
mod tests {
    use super::super::read_design;
    use super::*;
    use crate::measure::Length;

    const TEXT: &str = "unit = 'in'\n[[tier]]\nname = 'base'\nsize = 7\nheight = 5\n\
        [[tier.course]]\nname = 'print'\nkind = 'wrap'\nheight = 'fill'\nart = 'a.svg'\n\
        [[piece]]\nname = 'star'\nkind = 'topper'\nart = 'a.svg'\nheight = 3\nseat = { on = 'base', surface = 'top' }\n";

    #[test]
    fn what_excludes_another_key_takes_its_place() {
        let design = read_design(TEXT, "").unwrap();
        let shape = shape_of("piece").unwrap();
        let mut table = blanks_of(&design.pieces[0]);
        table.set("width", Value::Length(Length::inches(2.0)));
        tidied(shape, &mut table, ("width", &|_| None));
        assert!(table.get("height").is_none());
        let piece = filled_in_piece(table, &design.tiers).unwrap();
        assert_eq!(piece.seat, design.pieces[0].seat);
        let mut design = design;
        design.pieces[0] = piece;
        assert_eq!(super::super::accept(&design).as_ref(), Ok(&design));
    }

    #[test]
    fn what_another_key_asks_for_comes_with_it_and_goes_with_it() {
        let design = read_design(TEXT, "").unwrap();
        let shape = shape_of_course().unwrap();
        let mut table = blanks_of(&design.tiers[0].courses[0]);
        assert!(is_asked(shape, &table, "least") && !is_asked(shape, &table, "repeat"));
        let first = |key: &str| (key == "repeat").then_some(Value::Length(Length::inches(2.0)));
        table.set("fit", Value::Text("repeat".to_owned()));
        tidied(shape, &mut table, ("fit", &first));
        table.set("height", Value::Length(Length::inches(3.0)));
        tidied(shape, &mut table, ("height", &first));
        assert!(table.get("least").is_none() && table.get("shift").is_some());
        let course = filled_in_course(table.clone()).unwrap();
        let mut other = design.clone();
        other.tiers[0].courses[0] = course;
        assert_eq!(super::super::accept(&other).as_ref(), Ok(&other));
        table.set("fit", Value::Text("cover".to_owned()));
        tidied(shape, &mut table, ("fit", &first));
        assert!(table.get("repeat").is_none() && filled_in_course(table).is_some());
    }
}

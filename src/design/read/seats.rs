//! Checks that every piece ends up on the board or a tier: the right surface, no rings of seats, nothing on what is hidden.

use std::collections::BTreeMap;

use toml_edit::Document;

use super::names::BOARD;
use super::place::{Step, place_of};
use super::raw::shortened;
use super::walk::{Report, Walk, report};
use crate::design::tree::{Table, Value};

/// Pieces that may stand on one another.
const MOST_ON_ONE_ANOTHER: usize = 50;

struct Seated<'a> {
    number: usize,
    name: &'a str,
    on: &'a str,
    surface: Option<&'a str>,
    hidden: bool,
}

/// Checks the seats of all pieces.
pub(super) fn check(walk: &mut Walk, tree: &Table, document: &Document<&str>) {
    let is_tier = |name: &str| tree.tables("tier").any(|(_, tier)| tier.text("name") == Some(name));
    let seats = tree.tables("piece").filter_map(seated).filter(|piece| !is_tier(piece.name));
    let pieces: BTreeMap<&str, Seated<'_>> = seats.map(|seat| (seat.name, seat)).collect();
    let heights = heights(&pieces);
    let mut a_ring_is_told = false;
    for piece in pieces.values() {
        let seat = |key| [Step::Key("piece"), Step::Number(piece.number), Step::Key("seat"), Step::Key(key)];
        let place = |key| format!("piece “{}”, seat, {key}", shortened(piece.name));
        if let Some(wrong) = wrong_surface(piece) {
            walk.fault_at(place("surface"), place_of(document, &seat("surface")), wrong);
        }
        let height = heights.get(piece.name).copied().flatten();
        if height.is_none() && std::mem::replace(&mut a_ring_is_told, true) {
            // Every piece of a ring, and all on top of it, would say the same.
            continue;
        }
        if let Some(wrong) = wrong_carrier(piece, height, pieces.get(piece.on)) {
            walk.fault_at(place("on"), place_of(document, &seat("on")), wrong);
        }
    }
}

fn seated((number, piece): (usize, &Table)) -> Option<Seated<'_>> {
    let seat = piece.table("seat")?;
    Some(Seated {
        number,
        name: piece.text("name")?,
        on: seat.text("on")?,
        surface: seat.text("surface"),
        hidden: piece.get("hidden") == Some(&Value::Truth(true)),
    })
}

/// How many pieces each stands on, one above the other; `None` for those on a ring of seats.
fn heights<'a>(pieces: &BTreeMap<&'a str, Seated<'a>>) -> BTreeMap<&'a str, Option<usize>> {
    let mut heights: BTreeMap<&str, Option<usize>> = BTreeMap::new();
    for start in pieces.keys().copied() {
        let mut chain = Vec::new();
        let mut name = start;
        while let Some(piece) = pieces.get(name).filter(|_| !heights.contains_key(name)) {
            // While a chain is followed its own names count as a ring; those that end are set right below.
            heights.insert(name, None);
            chain.push(name);
            name = piece.on;
        }
        let ends = !pieces.contains_key(name);
        let mut height = if ends { Some(0) } else { heights.get(name).copied().flatten().map(|height| height + 1) };
        for name in chain.into_iter().rev() {
            heights.insert(name, height);
            height = height.map(|height| height + 1);
        }
    }
    heights
}

fn wrong_surface(piece: &Seated<'_>) -> Option<Report> {
    let surface = piece.surface?;
    match (piece.on == BOARD, surface == BOARD) {
        (true, false) => {
            let found = format!("the surface “{surface}” of the board");
            Some(report(found, "“board”, the only surface a board has", "write surface = \"board\""))
        }
        (false, true) => {
            let found = format!("the surface “board” of “{}”", shortened(piece.on));
            Some(report(found, "“top” or “side”", "write surface = \"top\", or on = \"board\""))
        }
        _ => None,
    }
}

fn wrong_carrier(piece: &Seated<'_>, height: Option<usize>, carrier: Option<&Seated<'_>>) -> Option<Report> {
    let Some(height) = height else {
        let found = format!("a seat on “{}”, which leads back to itself", shortened(piece.on));
        return Some(report(
            found,
            "seats that end at a tier or the board",
            "seat one piece of the ring on a tier or the board",
        ));
    };
    if height > MOST_ON_ONE_ANOTHER {
        let expected = format!("at most {MOST_ON_ONE_ANOTHER}");
        return Some(report(format!("{height} pieces below this one"), expected, "seat it on a tier or the board"));
    }
    let carrier = carrier.filter(|carrier| carrier.hidden && !piece.hidden)?;
    let found = format!("a seat on “{}”, which is hidden", shortened(carrier.name));
    Some(report(found, "a seat that is there", "hide this piece too, or seat it elsewhere"))
}

#[cfg(test)]
mod tests {
    use super::{BTreeMap, Seated, heights};

    #[test]
    fn chains_end_and_rings_are_found() {
        let on = [("a", "base"), ("b", "a"), ("c", "b"), ("x", "y"), ("y", "x"), ("z", "x"), ("self", "self")];
        let seat = |(number, (name, on))| (name, Seated { number, name, on, surface: None, hidden: false });
        let pieces: BTreeMap<_, _> = on.into_iter().enumerate().map(seat).collect();
        let heights = heights(&pieces);
        let expected =
            [("a", Some(0)), ("b", Some(1)), ("c", Some(2)), ("self", None), ("x", None), ("y", None), ("z", None)];
        assert_eq!(heights, BTreeMap::from(expected));
    }
}

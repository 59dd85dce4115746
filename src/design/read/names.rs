//! Checks that every name is that of one thing, and that every thing that is named is there.

use std::collections::BTreeSet;

use toml_edit::Document;

use super::place::{Step, place_of};
use super::raw::shortened;
use super::walk::{Walk, report};
use crate::design::fields::Names;
use crate::design::hint::nearest;
use crate::design::known::{known_finishes, known_sheets};
use crate::design::tree::Table;

/// The word that means the board as a seat; nothing else may have it as a name.
pub(super) const BOARD: &str = "board";

/// Every name that something of the design may refer to.
struct Known<'a> {
    finishes: BTreeSet<&'a str>,
    pastes: BTreeSet<&'a str>,
    sheets: BTreeSet<&'a str>,
    tiers: BTreeSet<&'a str>,
    seats: BTreeSet<&'a str>,
}

/// Checks the names of tiers and pieces, and everything that is referred to.
pub(super) fn check(walk: &mut Walk, tree: &Table, document: &Document<&str>) {
    names_of_their_own(walk, tree, document);
    let known = Known::of(tree);
    for reference in std::mem::take(&mut walk.references) {
        let among = known.among(reference.names);
        if among.contains(reference.name.as_str()) {
            continue;
        }
        let near = if walk.is_full() { None } else { nearest(&reference.name, among.iter().copied()) };
        let mend = near.map_or_else(|| how_to_have(reference.names, among), |near| format!("write \"{near}\""));
        let found = format!("“{}”, which is not there", shortened(&reference.name));
        let expected = format!("the name of {}", reference.names.words());
        walk.fault_at(reference.place, reference.span, report(found, expected, mend));
    }
}

impl<'a> Known<'a> {
    fn of(tree: &'a Table) -> Self {
        let own = |key: &str| tree.table(key).into_iter().flat_map(Table::iter).map(|(name, _)| name);
        let listed = |key: &str| tree.tables(key).filter_map(|(_, table)| table.text("name"));
        let finishes: BTreeSet<_> = own("finish").chain(known_finishes().keys().map(String::as_str)).collect();
        Self {
            pastes: own("paste").chain(known_finishes().keys().map(String::as_str)).collect(),
            finishes,
            sheets: own("sheet").chain(known_sheets().keys().map(String::as_str)).collect(),
            tiers: listed("tier").collect(),
            seats: listed("tier").chain(listed("piece")).chain([BOARD]).collect(),
        }
    }

    const fn among(&self, names: Names) -> &BTreeSet<&'a str> {
        match names {
            Names::Finish => &self.finishes,
            Names::Paste => &self.pastes,
            Names::Sheet => &self.sheets,
            Names::Tier => &self.tiers,
            Names::Seat => &self.seats,
        }
    }
}

fn how_to_have(names: Names, among: &BTreeSet<&str>) -> String {
    let some = among.iter().take(12).copied().collect::<Vec<_>>().join(", ");
    let add = match names {
        Names::Finish => "add it under [finish.NAME], or ",
        Names::Paste => "add it under [paste.NAME], or ",
        Names::Sheet => "add it under [sheet.NAME], or ",
        Names::Tier | Names::Seat => "",
    };
    format!("{add}write one of: {some}{}", if among.len() > 12 { ", …" } else { "" })
}

/// A seat could mean either of two things with one name; so tiers and pieces share no name, and none is `board`.
fn names_of_their_own(walk: &mut Walk, tree: &Table, document: &Document<&str>) {
    let tiers: BTreeSet<_> = tree.tables("tier").filter_map(|(_, tier)| tier.text("name")).collect();
    for (list, clash) in [("tier", None), ("piece", Some(&tiers))] {
        for (number, table) in tree.tables(list) {
            let Some(name) = table.text("name") else { continue };
            let taken =
                if name == BOARD { Some("the board") } else { clash.filter(|t| t.contains(name)).map(|_| "a tier") };
            let Some(taken) = taken else { continue };
            let span = place_of(document, &[Step::Key(list), Step::Number(number), Step::Key("name")]);
            let found = format!("the name of {taken}, “{}”", shortened(name));
            let place = format!("{list} “{}”, name", shortened(name));
            walk.fault_at(place, span, report(found, "a name of its own", format!("give this {list} another name")));
        }
    }
}

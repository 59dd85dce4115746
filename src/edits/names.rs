//! Names that are still free, and lists in another order.

use super::Refusal;
use crate::design::Design;
use crate::design::model::{Piece, Target, Tier};

/// A name that no tier and no piece has yet: the wanted one, or with a number behind it.
#[must_use]
pub fn free_name(design: &Design, wanted: &str) -> String {
    let tiers = design.tiers.iter().map(|tier| tier.name.as_str());
    let taken: Vec<&str> =
        tiers.chain(design.pieces.iter().map(|piece| piece.name.as_str())).chain(["board"]).collect();
    free_among(&taken, wanted)
}

/// A name that is not among those taken.
pub(super) fn free_among(taken: &[&str], wanted: &str) -> String {
    let is_free = |name: &str| !taken.contains(&name);
    // A copy of “bow 2” is “bow 3”, not “bow 2 2”; and a name stays within what a design can hold.
    let stem = wanted.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end();
    let stem: String = if stem.is_empty() { wanted } else { stem }.chars().take(90).collect();
    let numbered = (2..=taken.len() + 2).map(|number| format!("{stem} {number}"));
    [wanted.to_owned()].into_iter().chain(numbered).find(|name| is_free(name)).unwrap_or(stem)
}

/// Moves one of a list to another place; places beyond the end mean the end.
pub(super) fn put<T>(list: &mut Vec<T>, from: usize, to: usize) {
    if from < list.len() {
        let moved = list.remove(from);
        list.insert(to.min(list.len()), moved);
    }
}

/// Where a tier stands, from the board up.
pub(super) fn tier_index(design: &Design, name: &str) -> Result<usize, Refusal> {
    design.tiers.iter().position(|tier| tier.name == name).ok_or_else(|| Refusal::missing("tier", name))
}

/// A tier, to be changed.
pub(super) fn tier_mut<'a>(design: &'a mut Design, name: &str) -> Result<&'a mut Tier, Refusal> {
    design.tiers.iter_mut().find(|tier| tier.name == name).ok_or_else(|| Refusal::missing("tier", name))
}

/// Where a piece stands in the design's list.
pub(super) fn piece_index(design: &Design, name: &str) -> Result<usize, Refusal> {
    design.pieces.iter().position(|piece| piece.name == name).ok_or_else(|| Refusal::missing("piece", name))
}

/// A piece, to be changed.
pub(super) fn piece_mut<'a>(design: &'a mut Design, name: &str) -> Result<&'a mut Piece, Refusal> {
    design.pieces.iter_mut().find(|piece| piece.name == name).ok_or_else(|| Refusal::missing("piece", name))
}

/// What sits on a tier or piece directly, hidden or not.
pub(super) fn riders<'a>(design: &'a Design, on: &'a Target) -> impl Iterator<Item = &'a Piece> {
    design.pieces.iter().filter(move |piece| piece.seat.on == *on)
}

//! What becomes of the rest when something is deleted.
//!
//! * Of a deleted piece, what sat on it goes down to where it sat, at the same place; what was at its front goes with it.
//! * Of a deleted tier, what sat on its top goes to the top that is now beneath: of the tier below, or, when it was the
//!   lowest, of the tier that takes its place. What was on its side goes with it, for it was made for that side. A rod that
//!   leaned on it stands.
//! * The last tier stays: a design without a tier is no cake.

use std::collections::BTreeSet;

use super::Refusal;
use super::names::{piece_index, riders, tier_index};
use crate::design::Design;
use crate::design::model::{Form, Piece, Seat, Surface, Target};

pub(super) fn delete_piece(design: &mut Design, name: &str) -> Result<(), Refusal> {
    let gone = design.pieces.remove(piece_index(design, name)?);
    drop_riders(design, &gone);
    Ok(())
}

/// Brings down what sat on a piece that is no longer there.
fn drop_riders(design: &mut Design, gone: &Piece) {
    let mut all_gone = vec![gone.clone()];
    while let Some(gone) = all_gone.pop() {
        let on = Target::Piece(gone.name.clone());
        // What stood on a piece at a side can't stand on that side; it goes too.
        let falls = |rider: &Piece| rider.seat.surface == Surface::Side || gone.seat.surface == Surface::Side;
        let names: BTreeSet<String> =
            riders(design, &on).filter(|rider| falls(rider)).map(|rider| rider.name.clone()).collect();
        all_gone.extend(design.pieces.iter().filter(|piece| names.contains(&piece.name)).cloned());
        design.pieces.retain(|piece| !names.contains(&piece.name));
        for rider in design.pieces.iter_mut().filter(|rider| rider.seat.on == on) {
            rider.seat = gone.seat.clone();
            rider.at = gone.at;
        }
    }
}

pub(super) fn delete_tier(design: &mut Design, name: &str) -> Result<(), Refusal> {
    let index = tier_index(design, name)?;
    let beneath = if index > 0 { design.tiers.get(index - 1) } else { design.tiers.get(1) };
    let Some(beneath) = beneath.map(|tier| tier.name.clone()) else {
        return Err(Refusal::senseless("a cake has at least one tier", "add another tier first"));
    };
    design.tiers.remove(index);
    let on = Target::Tier(name.to_owned());
    let at_the_side = |piece: &Piece| piece.seat.on == on && piece.seat.surface == Surface::Side;
    let gone: Vec<Piece> = design.pieces.iter().filter(|piece| at_the_side(piece)).cloned().collect();
    design.pieces.retain(|piece| !at_the_side(piece));
    gone.iter().for_each(|gone| drop_riders(design, gone));
    for piece in &mut design.pieces {
        if piece.seat.on == on {
            piece.seat = Seat { on: Target::Tier(beneath.clone()), surface: Surface::Top };
        }
        if let Form::Rod(rod) = &mut piece.form
            && rod.leans_on.as_deref() == Some(name)
        {
            rod.leans_on = None;
        }
    }
    Ok(())
}

/// What an edit did besides what was asked for, in sentences: which pieces went along, and which sit elsewhere now.
#[must_use]
pub fn consequences(before: &Design, after: &Design) -> Vec<String> {
    let named = |design: &Design, name: &str| design.pieces.iter().any(|piece| piece.name == name);
    let tiers = |design: &Design| design.tiers.iter().map(|tier| tier.name.clone()).collect::<BTreeSet<_>>();
    let (gone, tiers_after) =
        (before.pieces.iter().filter(|piece| !named(after, &piece.name)).collect::<Vec<_>>(), tiers(after));
    let is_deleted = |target: &Target| match target {
        Target::Board => false,
        Target::Tier(name) => !tiers_after.contains(name),
        Target::Piece(name) => gone.iter().any(|piece| piece.name == *name),
    };
    let went = gone.iter().filter(|piece| is_deleted(&piece.seat.on));
    let went = went.map(|piece| format!("“{}” went with “{}”", piece.name, piece.seat.on.word()));
    let moved = before.pieces.iter().filter(|piece| is_deleted(&piece.seat.on)).filter_map(|piece| {
        let now = after.pieces.iter().find(|other| other.name == piece.name)?;
        Some(format!("“{}” is now {}", piece.name, seat_words(&now.seat)))
    });
    went.chain(moved).collect()
}

/// A seat in words: `on the top of “base”`, `on the board`.
#[must_use]
pub fn seat_words(seat: &Seat) -> String {
    match (&seat.on, seat.surface) {
        (Target::Board, _) => "on the board".to_owned(),
        (Target::Tier(name), Surface::Side) => format!("on the side of “{name}”"),
        (Target::Piece(name), Surface::Side) => format!("on the front of “{name}”"),
        (Target::Tier(name) | Target::Piece(name), _) => format!("on the top of “{name}”"),
    }
}

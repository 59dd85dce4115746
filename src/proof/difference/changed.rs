//! Which things of two cakes are not the same, to be marked on a picture of either.

use std::collections::BTreeSet;

use super::{MADE_SLACK, Planned, SAME};
use crate::cake::{Cake, CakeCourse, CakePiece, CakeTier, Owner};
use crate::design::differences;
use crate::design::model::{CourseKind, Piece};

/// What of each cake the other doesn't have like this: new, gone, or otherwise. What only moved along with something else is left out.
#[must_use]
pub fn changed(before: Planned<'_>, after: Planned<'_>) -> [BTreeSet<Owner>; 2] {
    let cakes = [before.cake, after.cake];
    [own(cakes), own([after.cake, before.cake])]
}

/// What of the first cake the second doesn't have like this.
fn own([one, other]: [&Cake; 2]) -> BTreeSet<Owner> {
    let mut found = BTreeSet::new();
    for (index, tier) in one.tiers.iter().enumerate() {
        let Some(twin) = other.tier(&tier.name) else {
            found.insert(Owner::Tier(index));
            found.extend((0..tier.courses.len()).map(|number| Owner::Course(index, number)));
            continue;
        };
        if other_tier((one, tier), (other, twin)) {
            found.insert(Owner::Tier(index));
        }
        for (number, course) in tier.courses.iter().enumerate() {
            let twin = twin.courses.iter().find(|twin| twin.name == course.name);
            if twin.is_none_or(|twin| other_course((one, course), (other, twin))) {
                found.insert(Owner::Course(index, number));
            }
        }
    }
    for placed in &one.pieces {
        let Some(piece) = one.designed(placed) else { continue };
        let twin = other
            .pieces
            .iter()
            .find_map(|twin| other.designed(twin).filter(|known| known.name == piece.name).map(|known| (known, twin)));
        if twin.is_none_or(|twin| other_piece((one, piece, placed), (other, twin.0, twin.1))) {
            found.insert(Owner::Piece(placed.index));
        }
    }
    found
}

fn other_tier((one, tier): (&Cake, &CakeTier), (other, twin): (&Cake, &CakeTier)) -> bool {
    let differs = |by: crate::measure::Length| by.abs().as_mm() > SAME;
    let finish = |cake: &Cake| {
        cake.design.tiers.iter().find(|known| known.name == tier.name).map(|known| cake.design.finish(&known.finish))
    };
    tier.shape != twin.shape
        || differs(tier.around() - twin.around())
        || differs(tier.height - twin.height)
        || finish(one) != finish(other)
}

fn other_course((one, course): (&Cake, &CakeCourse), (other, twin): (&Cake, &CakeCourse)) -> bool {
    let picture = |cake: &Cake, kind: &CourseKind| match kind {
        CourseKind::Wrap(wrap) => cake.shelf.get(&wrap.art).map(|art| art.digest()),
        _ => None,
    };
    course.kind != twin.kind
        || (course.height() - twin.height()).abs() > MADE_SLACK
        || picture(one, &course.kind) != picture(other, &twin.kind)
}

fn other_piece(
    (one, piece, placed): (&Cake, &Piece, &CakePiece),
    (other, twin, twin_placed): (&Cake, &Piece, &CakePiece),
) -> bool {
    let picture =
        |cake: &Cake, piece: &Piece| piece.form.art().and_then(|path| cake.shelf.get(path)).map(|art| art.digest());
    let finishes = |cake: &Cake, placed: &CakePiece| -> Vec<_> {
        placed.measure.volumes.iter().map(|(name, _)| cake.design.finish(name)).collect()
    };
    differences(piece, twin).iter().any(|key| key != "locked")
        || picture(one, piece) != picture(other, twin)
        || finishes(one, placed) != finishes(other, twin_placed)
}

//! `pieces-overlap`, `piece-in-cake`, `piece-in-board`: a piece and something that it doesn't sit on take up the same space.
//!
//! Real solids are compared, not boxes; how deep is [`crate::shapes::solid`]'s. Where things are meant to touch nothing is
//! said: a piece and its seat, a rod and the tier it leans on, the parts of one piece, a tier and its courses. Boxes come
//! first, and a piece's solids are made only when its box meets another's.

use std::collections::BTreeMap;

use glam::DVec3;

use crate::cake::extent::piece_box;
use crate::cake::shadow::Shadow;
use crate::cake::solids::{SolidStock, board_solid};
use crate::cake::{Cake, CakePiece, Owner};
use crate::design::model::pieces::RopeSection;
use crate::design::model::{Form, Target};
use crate::findings::{Code, Finding, Place, Threshold};
use crate::measure::{Length, show_length};
use crate::shapes::solid::{Solid, Standing, near_pairs, overlap};

/// Something with a box: one solid, or a whole piece whose solids are not made yet.
struct Thing {
    /// A tier's courses count as the tier.
    owner: Owner,
    around: (DVec3, DVec3),
    solid: Option<Standing>,
}

impl Thing {
    fn of(owner: Owner, solid: Standing) -> Self {
        Self { owner, around: (solid.low, solid.high), solid: Some(solid) }
    }
}

pub(super) fn check(cake: &Cake) -> Vec<Finding> {
    findings(cake, &meetings(cake, |_| true))
}

/// How deep two run into each other that are not meant to, mm.
pub(super) type Meetings = BTreeMap<(Owner, Owner), f64>;

/// What runs into what, where one of the two is a piece that counts.
pub(super) fn meetings(cake: &Cake, counts: impl Fn(usize) -> bool) -> Meetings {
    let mut crowd = Crowd::of(cake);
    let boxes: Vec<_> = crowd.things.iter().map(|thing| thing.around).collect();
    let concerned: Vec<bool> =
        crowd.things.iter().map(|thing| matches!(thing.owner, Owner::Piece(piece) if counts(piece))).collect();
    let concerned = |thing: usize| concerned.get(thing).copied().unwrap_or_default();
    let mut deepest = Meetings::new();
    for (one, other) in near_pairs(&boxes, concerned) {
        if let Some((pair, depth)) = crowd.compare(one, other) {
            let known = deepest.entry(pair).or_insert(depth);
            *known = known.max(depth);
        }
    }
    deepest
}

/// Everything that takes up space.
struct Crowd<'a> {
    cake: &'a Cake,
    things: Vec<Thing>,
    /// What each piece of the design is meant to touch.
    seats: Vec<[Option<Owner>; 2]>,
    stock: SolidStock,
    made: BTreeMap<usize, Vec<Standing>>,
    least: f64,
}

impl<'a> Crowd<'a> {
    fn of(cake: &'a Cake) -> Self {
        let mut stock = SolidStock::default();
        let mut things = vec![Thing::of(Owner::Board, board_solid(cake))];
        for (number, tier) in cake.tiers.iter().enumerate() {
            things.extend(stock.tier(tier).into_iter().map(|solid| Thing::of(Owner::Tier(number), solid)));
        }
        for placed in &cake.pieces {
            let owner = Owner::Piece(placed.index);
            if is_balls(cake, placed) {
                things.extend(stock.piece(cake, placed).into_iter().map(|solid| Thing::of(owner, solid)));
            } else {
                things.push(Thing { owner, around: piece_box(cake, placed), solid: None });
            }
        }
        // What covers nothing has no box.
        things.retain(|thing| thing.around.0.is_finite() && thing.around.1.is_finite());
        let least = Threshold::Overlap.value();
        Self { cake, things, seats: seats(cake), stock, made: BTreeMap::new(), least }
    }

    /// How deep two things run into each other, if they are not meant to and do.
    fn compare(&mut self, one: usize, other: usize) -> Option<((Owner, Owner), f64)> {
        let (a, b) = (self.things.get(one)?.owner, self.things.get(other)?.owner);
        if self.meant(a, b) || !self.could_meet(one, other) {
            return None;
        }
        self.make(a);
        self.make(b);
        let (first, second) = (self.solids(one), self.solids(other));
        let pairs = first.iter().flat_map(|one| second.iter().map(move |other| (one, other)));
        let near = pairs.filter(|(one, other)| one.meets((other.low, other.high)));
        let depths = near.filter_map(|(one, other)| Some(overlap(one, other, self.least)?.depth));
        let depth = depths.fold(0.0, f64::max);
        (depth > 0.0).then_some(((a.min(b), a.max(b)), depth))
    }

    /// Whether two are meant to touch, or are no affair of a piece's.
    fn meant(&self, a: Owner, b: Owner) -> bool {
        let touches = |piece: Owner, other: Owner| match piece {
            Owner::Piece(number) => self.seats.get(number).is_some_and(|seats| seats.contains(&Some(other))),
            _ => false,
        };
        let no_piece = |owner: Owner| !matches!(owner, Owner::Piece(_));
        a == b || (no_piece(a) && no_piece(b)) || touches(a, b) || touches(b, a)
    }

    /// A cheap look before anything is made: whether one could run into the other at all.
    fn could_meet(&self, one: usize, other: usize) -> bool {
        let (Some(one), Some(other)) = (self.things.get(one), self.things.get(other)) else { return false };
        match (&one.solid, &other.solid) {
            (Some(_), Some(_)) => true,
            (Some(solid), None) => self.could_hold(solid, other),
            (None, Some(solid)) => self.could_hold(solid, one),
            (None, None) => !self.shadow(one).zip(self.shadow(other)).is_some_and(|(one, other)| one.is_apart(&other)),
        }
    }

    fn could_hold(&self, solid: &Standing, whole: &Thing) -> bool {
        match *solid.solid {
            Solid::Ball(radius) => {
                let middle = (solid.low + solid.high) / 2.0;
                !self.shadow(whole).is_some_and(|shadow| shadow.is_apart_from_ball(middle, radius))
            }
            _ => solid.could_hold(whole.around, self.least),
        }
    }

    fn shadow(&self, whole: &Thing) -> Option<Shadow<'a>> {
        let Owner::Piece(number) = whole.owner else { return None };
        Shadow::of(self.cake, placed(self.cake, number)?)
    }

    fn make(&mut self, owner: Owner) {
        let Owner::Piece(number) = owner else { return };
        let Some(placed) = placed(self.cake, number) else { return };
        if !is_balls(self.cake, placed) && !self.made.contains_key(&number) {
            let solids = self.stock.piece(self.cake, placed);
            self.made.insert(number, solids);
        }
    }

    fn solids(&self, thing: usize) -> &[Standing] {
        let Some(thing) = self.things.get(thing) else { return &[] };
        match (&thing.solid, thing.owner) {
            (Some(solid), _) => std::slice::from_ref(solid),
            (None, Owner::Piece(number)) => self.made.get(&number).map_or(&[], Vec::as_slice),
            (None, _) => &[],
        }
    }
}

/// Whether a piece is all balls, which are cheap to make and far apart in one box.
fn is_balls(cake: &Cake, placed: &CakePiece) -> bool {
    match cake.designed(placed).map(|piece| &piece.form) {
        Some(Form::Ball(_) | Form::Scatter(_)) => true,
        Some(Form::Rope(rope)) => rope.section == RopeSection::Pearls,
        _ => false,
    }
}

/// A piece by its number in the design.
fn placed(cake: &Cake, index: usize) -> Option<&CakePiece> {
    // Pieces come in the design's order.
    let place = cake.pieces.binary_search_by_key(&index, |placed| placed.index).ok()?;
    cake.pieces.get(place)
}

/// What each piece of the design is meant to touch: its seat, and what it leans on.
fn seats(cake: &Cake) -> Vec<[Option<Owner>; 2]> {
    let tiers: BTreeMap<&str, usize> = cake.tiers.iter().zip(0..).map(|(tier, number)| (&*tier.name, number)).collect();
    let designed = &cake.design.pieces;
    let pieces: BTreeMap<&str, usize> =
        designed.iter().zip(0..).map(|(piece, number)| (&*piece.name, number)).collect();
    let tier = |name: &str| tiers.get(name).copied().map(Owner::Tier);
    let seats = designed.iter().map(|piece| {
        let seat = match &piece.seat.on {
            Target::Board => Some(Owner::Board),
            Target::Tier(name) => tier(name),
            Target::Piece(name) => pieces.get(&**name).copied().map(Owner::Piece),
        };
        let leans = match &piece.form {
            Form::Rod(rod) => rod.leans_on.as_deref().and_then(tier),
            _ => None,
        };
        [seat, leans]
    });
    seats.collect()
}

/// One finding a piece and what it runs into deepest; how many others it meets is said with it.
pub(super) fn findings(cake: &Cake, deepest: &Meetings) -> Vec<Finding> {
    let mut by_piece: BTreeMap<(usize, Code), Vec<(f64, Owner)>> = BTreeMap::new();
    for (&(first, second), &depth) in deepest {
        let Owner::Piece(number) = second else { continue };
        let code = match first {
            Owner::Board => Code::PieceInBoard,
            Owner::Tier(_) | Owner::Course(..) => Code::PieceInCake,
            Owner::Piece(_) => Code::PiecesOverlap,
        };
        by_piece.entry((number, code)).or_default().push((depth, first));
    }
    let say = |((number, code), mut met): ((usize, Code), Vec<(f64, Owner)>)| {
        met.sort_by(|a, b| b.0.total_cmp(&a.0));
        let (depth, first) = met.first().copied()?;
        let by = Length::mm(depth);
        let says = show_length(by, cake.design.unit);
        let others = match met.len() {
            1 => String::new(),
            count => format!(", and into {} more", count - 1),
        };
        let sentence = format!("it runs {says} into {}{others}", name(cake, first)?);
        let mend = format!("move one of them by {says}, or make one smaller");
        let piece = cake.design.pieces.get(number)?;
        Some(Finding::new(code, Place::piece(&piece.name), sentence, mend).by(by))
    };
    by_piece.into_iter().filter_map(say).collect()
}

fn name(cake: &Cake, owner: Owner) -> Option<String> {
    Some(match owner {
        Owner::Board => "the board".to_owned(),
        Owner::Tier(number) | Owner::Course(number, _) => format!("'{}'", cake.tiers.get(number)?.name),
        Owner::Piece(number) => format!("'{}'", cake.design.pieces.get(number)?.name),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::{cake, found};

    const TIERS: &str = "[[tier]]\nname = \"low\"\nsize = 200\nheight = 100\npaste = 3\n\
                         [[tier]]\nname = \"high\"\nsize = 120\nheight = 90\npaste = 3\n";

    fn ball(name: &str, seat: &str, at: &str, size: f64) -> String {
        let surface = if seat == "board" { "board" } else { "top" };
        format!(
            "[[piece]]\nname = \"{name}\"\nkind = \"ball\"\nseat = {{ on = \"{seat}\", surface = \"{surface}\" }}\n\
             at = {at}\nsize = {size}\nfinish = \"gold\"\n"
        )
    }

    #[test]
    fn balls_that_share_space_say_so_by_how_much() {
        let near = |apart: f64| {
            let second = format!("{{ x = {apart}, z = 0 }}");
            cake(&(TIERS.to_owned() + &ball("a", "high", "{ x = 0, z = 0 }", 20.0) + &ball("b", "high", &second, 20.0)))
        };
        let overlapping = found(&check(&near(16.0)), Code::PiecesOverlap);
        let [finding] = &overlapping[..] else { panic!("{overlapping:?}") };
        assert!(finding.place == Place::piece("b") && finding.sentence.contains("into 'a'"), "{finding:?}");
        assert!((finding.by.unwrap().as_mm() - 4.0).abs() < 1e-9);
        for apart in [19.5, 20.0, 40.0] {
            assert_eq!(check(&near(apart)), [], "{apart}");
        }
    }

    #[test]
    fn a_ball_on_the_board_may_touch_the_cake_but_not_stand_in_it() {
        // Covered, the tier reaches 103 mm.
        for (x, depth) in [(113.0, None), (108.0, Some(5.0)), (104.0, Some(9.0))] {
            let cake = cake(&(TIERS.to_owned() + &ball("a", "board", &format!("{{ x = {x}, z = 0 }}"), 20.0)));
            let inside = found(&check(&cake), Code::PieceInCake);
            let by = inside.first().and_then(|finding| finding.by);
            assert_eq!(by.map(|by| by.as_mm().round()), depth, "{x}");
        }
    }

    #[test]
    fn what_sits_low_on_a_tier_runs_into_the_one_above() {
        let flowers = |x: f64| {
            format!(
                "[[piece]]\nname = \"bloom\"\nkind = \"solid\"\nform = \"figure\"\nseat = {{ on = \"low\", surface = \"top\" }}\n\
                 at = {{ x = {x}, z = 0 }}\nsize = [30, 40]\nfinish = \"red\"\n"
            )
        };
        let inside = found(&check(&cake(&(TIERS.to_owned() + &flowers(70.0)))), Code::PieceInCake);
        // The upper tier reaches 63 mm, the figure from 55 on.
        assert!((inside[0].by.unwrap().as_mm() - 8.0).abs() < 0.5, "{inside:?}");
        assert_eq!(check(&cake(&(TIERS.to_owned() + &flowers(80.0)))), []);
    }

    #[test]
    fn what_is_meant_to_touch_says_nothing() {
        let pieces = "[[piece]]\nname = \"plate\"\nkind = \"plaque\"\nseat = { on = \"high\", surface = \"top\" }\n\
                      at = { x = 0, z = 0 }\nsize = [60, 40]\nthickness = 4\nfinish = \"white\"\n\
                      [[piece]]\nname = \"on it\"\nkind = \"ball\"\nseat = { on = \"plate\", surface = \"top\" }\n\
                      at = { x = 0, z = 0 }\nsize = 15\nsunk = 3\npin = true\nfinish = \"gold\"\n\
                      [[piece]]\nname = \"pole\"\nkind = \"rod\"\nseat = { on = \"board\", surface = \"board\" }\n\
                      at = { x = 118, z = 0 }\nleans_on = \"low\"\nparts = [{ length = 110, from = 8, to = 8, finish = \"wood\" }]\n\
                      stick = { diameter = 3, into_board = 8 }\n";
        let sunk = ball("sunk", "low", "{ x = 85, z = 0 }", 20.0) + "sunk = 8\n";
        assert_eq!(check(&cake(&(TIERS.to_owned() + pieces + &sunk))), []);
    }

    #[test]
    fn hidden_pieces_take_no_space() {
        let second = ball("b", "high", "{ x = 5, z = 0 }", 20.0) + "hidden = true\n";
        assert_eq!(check(&cake(&(TIERS.to_owned() + &ball("a", "high", "{ x = 0, z = 0 }", 20.0) + &second))), []);
    }
}

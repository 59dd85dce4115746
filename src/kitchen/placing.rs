//! Putting it together: what goes on after what, and where, in terms that a tape measure can follow.
//!
//! In: the resolved cake. Out: steps in the order of the work (common practice, no source): the tiers stand, then the courses up
//! their sides, then what lies on sides, tops and board, last what stands tallest, and what comes fresh. What sits on a piece
//! follows that piece.

use std::collections::BTreeMap;

use glam::DVec3;

use crate::cake::{Cake, CakePiece};
use crate::design::model::pieces::SolidForm;
use crate::design::model::{At, CourseKind, Form, Piece, Surface, Target};

/// Where something goes, mm.
#[derive(Clone, Debug, PartialEq)]
pub enum Spot {
    /// A tier: how far its middle lies right of and before that of what carries it; how high its foot is.
    Stack {
        /// To the customer's right.
        right: f64,
        /// Towards the customer.
        front: f64,
        /// Above the board.
        foot: f64,
    },
    /// A course round a side, between two heights above the board; where its ends meet, as its tape reads.
    Round {
        /// Which tier, from the board up.
        tier: usize,
        /// Lower and upper edge above the board.
        between: [f64; 2],
        /// Where its ends meet.
        seam: Option<f64>,
    },
    /// On a side: what its middle measures.
    Side {
        /// Which tier, from the board up.
        tier: usize,
        /// Along the tape.
        along: f64,
        /// Above the tier's foot.
        up: f64,
        /// Above the board.
        height: f64,
    },
    /// On a top, or on the board.
    Plan {
        /// To the customer's right of the seat's middle.
        right: f64,
        /// Towards the customer.
        front: f64,
        /// Above the board.
        height: f64,
    },
}

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub struct Placing {
    /// The tier, course or piece.
    pub what: String,
    /// Which of the cake's pieces, where it is one.
    pub piece: Option<usize>,
    /// What it goes on.
    pub on: String,
    /// Where.
    pub spot: Spot,
    /// Turned so many degrees, counter-clockwise.
    pub turn: f64,
    /// What it is stuck on with, as the decorator says.
    pub stuck_with: Option<String>,
    /// Strewn over a stretch, or laid along an edge: it has no place of its own.
    pub spread: bool,
}

/// Every step, in order.
#[must_use]
pub fn placing(cake: &Cake) -> Vec<Placing> {
    let mut steps = stacked(cake);
    for (number, tier) in cake.tiers.iter().enumerate() {
        let foot = tier.foot.as_mm();
        let laid = tier.courses.iter().filter(|course| !matches!(course.kind, CourseKind::Bare { .. }));
        steps.extend(laid.map(|course| Placing {
            what: course.name.clone(),
            piece: None,
            on: tier.name.clone(),
            spot: Spot::Round {
                tier: number,
                between: [foot + course.bottom, foot + course.top],
                seam: course.seam(&tier.outline),
            },
            turn: 0.0,
            stuck_with: stuck_with(cake, course.kind.stuck_with()),
            spread: false,
        }));
    }
    let depths = depths(cake);
    let mut pieces: Vec<(usize, &CakePiece, &Piece)> = cake
        .pieces
        .iter()
        .enumerate()
        .filter_map(|(number, placed)| Some((number, placed, cake.designed(placed)?)))
        .collect();
    pieces.sort_by_key(|&(number, _, piece)| (rank(piece, &depths), number));
    steps.extend(pieces.into_iter().map(|(number, placed, piece)| of_piece(cake, (number, placed, piece))));
    steps
}

/// What something is stuck on with: as it says itself, or as the kitchen says.
fn stuck_with(cake: &Cake, own: Option<&str>) -> Option<String> {
    own.or(cake.design.kitchen.stuck_with.as_deref()).map(str::to_owned)
}

fn stacked(cake: &Cake) -> Vec<Placing> {
    let mut below = ("board".to_owned(), glam::DVec2::ZERO);
    let mut steps = Vec::new();
    for tier in &cake.tiers {
        let off = tier.at - below.1;
        steps.push(Placing {
            what: tier.name.clone(),
            piece: None,
            on: below.0,
            spot: Spot::Stack { right: off.x, front: off.y, foot: tier.foot.as_mm() },
            turn: tier.turn.as_degrees(),
            stuck_with: None,
            spread: false,
        });
        below = (tier.name.clone(), tier.at);
    }
    steps
}

/// How many pieces lie under each piece, by name.
fn depths(cake: &Cake) -> BTreeMap<&str, usize> {
    let seats: BTreeMap<&str, &Target> =
        cake.design.pieces.iter().map(|piece| (&*piece.name, &piece.seat.on)).collect();
    let depth = |piece: &Piece| {
        let mut seat = &piece.seat.on;
        let mut depth = 0;
        while let Target::Piece(name) = seat
            && let Some(next) = seats.get(&**name)
            && depth < seats.len()
        {
            seat = next;
            depth += 1;
        }
        depth
    };
    cake.design.pieces.iter().map(|piece| (&*piece.name, depth(piece))).collect()
}

/// Earlier ones go on first: what lies on others after them, what is fresh or burns last.
fn rank(piece: &Piece, depths: &BTreeMap<&str, usize>) -> (usize, usize) {
    let depth = depths.get(&*piece.name).copied().unwrap_or_default();
    let kind = match (&piece.form, piece.seat.surface) {
        (Form::Solid(solid), _) if solid.form == SolidForm::Flowers => 7,
        (Form::Solid(solid), _) if solid.form == SolidForm::Candle => 6,
        (Form::Topper(_), Surface::Top) => 5,
        (Form::Rod(_), _) => 4,
        (_, Surface::Board) => 3,
        (_, Surface::Top) => 2,
        (Form::Scatter(_), Surface::Side) => 1,
        (_, Surface::Side) => 0,
    };
    (if depth > 0 { kind.max(2) } else { kind }, depth)
}

fn of_piece(cake: &Cake, (number, placed, piece): (usize, &CakePiece, &Piece)) -> Placing {
    let (at, turn) = piece.place();
    let height = placed.pose.transform_point3(DVec3::ZERO).y;
    let spot = match (placed.side, at) {
        (Some(side), _) => Spot::Side { tier: side.tier, along: side.along, up: side.up, height },
        (None, At::Plan(at)) => Spot::Plan { right: at.x.as_mm(), front: at.z.as_mm(), height },
        (None, At::Tape(at)) => Spot::Plan { right: at.along.as_mm(), front: 0.0, height: height.max(at.up.as_mm()) },
    };
    let edge =
        matches!(&piece.form, Form::Rope(rope) if matches!(rope.line, crate::design::model::pieces::RopeLine::Edge(_)));
    Placing {
        what: piece.name.clone(),
        piece: Some(number),
        on: piece.seat.on.word().to_owned(),
        spot,
        turn: turn.as_degrees(),
        stuck_with: stuck_with(cake, piece.stuck_with.as_deref()),
        spread: edge || matches!(piece.form, Form::Scatter(_)),
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::art::Shelf;
    use crate::cake::resolve;
    use crate::design::read_design;

    #[test]
    fn what_carries_goes_on_first_and_flowers_last() {
        let piece = |name: &str, on: &str, rest: &str| {
            format!(
                "[[piece]]\nname = \"{name}\"\nseat = {{ on = \"{on}\", surface = \"top\" }}\nfinish = \"white\"\n{rest}\n"
            )
        };
        let text = [
            "title = \"t\"\nunit = \"mm\"\n[kitchen]\nstuck_with = \"water\"\n".to_owned(),
            "[[tier]]\nname = \"base\"\nsize = 200\nheight = 100\n[[tier.course]]\nname = \"foot\"\nkind = \"rope\"\nsize = 6\n\
             finish = \"white\"\nstuck_with = \"piping gel\"\n[[tier.course]]\nname = \"rest\"\nkind = \"bare\"\nheight = \"fill\"\n"
                .to_owned(),
            piece("bloom", "base", "kind = \"solid\"\nform = \"flowers\"\nsize = [30, 20]\nat = { x = 40, z = 0 }"),
            piece("ball", "plate", "kind = \"ball\"\nsize = 10\nstuck_with = \"royal icing\""),
            piece("plate", "base", "kind = \"plaque\"\nsize = [50, 40]\nthickness = 5\nat = { x = 10, z = 20 }"),
        ]
        .concat();
        let cake = resolve(&Arc::new(read_design(&text, "cake.toml").unwrap()), &Arc::new(Shelf::default())).unwrap();
        let steps = placing(&cake);
        let told: Vec<&str> = steps.iter().map(|step| step.what.as_str()).collect();
        assert_eq!(told, ["base", "foot", "plate", "ball", "bloom"]);
        assert_eq!(steps[2].spot, Spot::Plan { right: 10.0, front: 20.0, height: 100.0 });
        assert_eq!([1, 2].map(|step: usize| steps[step].stuck_with.as_deref()), [Some("piping gel"), Some("water")]);
        let Spot::Plan { height, .. } = steps[3].spot else { panic!("{:?}", steps[3]) };
        assert!((height - 105.0).abs() < 1e-6 && steps[3].stuck_with.as_deref() == Some("royal icing"));
        let Spot::Round { between, seam, .. } = steps[1].spot else { panic!("{:?}", steps[1]) };
        assert!(
            between == [0.0, 6.0] && seam.is_some_and(|seam| (seam - cake.tiers[0].around().as_mm() / 2.0).abs() < 0.1)
        );
    }
}

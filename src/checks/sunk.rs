//! `piece-sunk`: a piece lies deeper in what it sits on than can be seen or made: a ball pressed in almost whole, or a piece
//! that runs into the one which carries it.

use crate::cake::solids::SolidStock;
use crate::cake::{Cake, CakePiece};
use crate::design::model::{Form, Piece, Target};
use crate::findings::{Code, Finding, Place, Threshold};
use crate::measure::{Length, show_length};
use crate::shapes::solid::overlap;

pub(super) fn check(cake: &Cake) -> Vec<Finding> {
    let mut stock = SolidStock::default();
    let pieces = cake.pieces.iter().filter_map(|placed| Some((cake.designed(placed)?, placed)));
    let sunk = pieces.filter_map(|(piece, placed)| {
        let found = pressed(cake, piece).or_else(|| into_carrier(cake, (piece, placed), &mut stock))?;
        Some(Finding { place: Place::piece(&piece.name), ..found })
    });
    sunk.collect()
}

/// A ball of which hardly anything is left to be seen.
fn pressed(cake: &Cake, piece: &Piece) -> Option<Finding> {
    let Form::Ball(ball) = &piece.form else { return None };
    let most = ball.size * Threshold::Sunk.value();
    let by = ball.sunk - most;
    (by.as_mm() > 1e-6).then(|| {
        let [deep, size, most] = [ball.sunk, ball.size, most].map(|length| show_length(length, cake.design.unit));
        let sentence = format!("it is {size} across and sunk {deep} deep: hardly anything of it is seen");
        Finding::new(Code::PieceSunk, "", sentence, format!("sink it {most} at most, or make a smaller ball")).by(by)
    })
}

/// A piece on another piece, whose real solids share more than paste gives way.
fn into_carrier(cake: &Cake, (piece, placed): (&Piece, &CakePiece), stock: &mut SolidStock) -> Option<Finding> {
    let Target::Piece(under) = &piece.seat.on else { return None };
    let carrier = cake.pieces.iter().find(|placed| cake.designed(placed).is_some_and(|piece| &piece.name == under))?;
    let meant = match &piece.form {
        Form::Ball(ball) => ball.sunk.as_mm(),
        _ => 0.0,
    };
    let least = meant + Threshold::Overlap.value();
    let (own, below) = (stock.piece(cake, placed), stock.piece(cake, carrier));
    let pairs = own.iter().flat_map(|one| below.iter().map(move |other| (one, other)));
    let near = pairs.filter(|(one, other)| one.meets((other.low, other.high)));
    let depths = near.filter_map(|(one, other)| Some(overlap(one, other, least)?.depth));
    let by = Length::mm(depths.fold(0.0, f64::max) - meant);
    (by.as_mm() > Threshold::Overlap.value()).then(|| {
        let says = show_length(by, cake.design.unit);
        let sentence = format!("it runs {says} into '{under}', which it sits on");
        Finding::new(Code::PieceSunk, "", sentence, format!("move or turn it by {says}, or make one of them smaller"))
            .by(by)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::cake;

    fn by(piece: &str) -> Vec<f64> {
        let under = "[[tier]]\nname = \"a\"\nsize = 150\nheight = 100\n[[piece]]\nname = \"plate\"\nkind = \"plaque\"\n\
                     seat = { on = \"a\", surface = \"top\" }\nat = { x = 0, z = 0 }\nsize = [60, 40]\nthickness = 6\n\
                     finish = \"white\"\n[[piece]]\nname = \"p\"\nfinish = \"red\"\n";
        let found = check(&cake(&format!("{under}{piece}\n"))).into_iter();
        found.map(|finding| finding.by.unwrap().as_mm()).collect()
    }

    #[test]
    fn a_ball_is_not_pressed_in_whole() {
        let ball = |on: &str, sunk: f64| {
            by(&format!(
                "kind = \"ball\"\nseat = {{ on = \"{on}\", surface = \"top\" }}\nat = {{ x = 5, z = 5 }}\nsize = 20\nsunk = {sunk}\n"
            ))
        };
        for on in ["a", "plate"] {
            assert_eq!(ball(on, 4.0), [] as [f64; 0], "{on}");
            assert_eq!(ball(on, 18.0), [3.0], "{on}");
            // Deeper than it is high: it would lie inside the cake.
            assert_eq!(ball(on, 40.0), [25.0], "{on}");
        }
    }

    #[test]
    fn a_piece_on_another_touches_it_only() {
        let on_plate = "seat = { on = \"plate\", surface = \"top\" }\nat = { x = 4, z = -6 }\nturn = 30\n";
        for kind in [
            "kind = \"solid\"\nform = \"figure\"\nsize = [20, 40]",
            "kind = \"plaque\"\nsize = [20, 15]\nthickness = 3",
        ] {
            assert_eq!(by(&format!("{kind}\n{on_plate}")), [] as [f64; 0], "{kind}");
            assert_eq!(by(&format!("{kind}\n{on_plate}tilt = 30\n")), [] as [f64; 0], "{kind}");
        }
    }
}

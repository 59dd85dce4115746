//! `ball-without-pin`, `topper-without-pick`, `rod-without-stick`: what has nothing that holds it.

use crate::cake::Cake;
use crate::design::model::{Form, Piece, Surface};
use crate::findings::{Code, Finding, Place};

pub(super) fn check(cake: &Cake) -> Vec<Finding> {
    let pieces = cake.pieces.iter().filter_map(|placed| cake.designed(placed));
    let loose = pieces.filter_map(|piece| {
        let (code, sentence, mend) = loose(piece)?;
        Some(Finding::new(code, Place::piece(&piece.name), sentence, mend))
    });
    loose.collect()
}

/// What holds a piece of its kind and is not there; what follows; what would help.
fn loose(piece: &Piece) -> Option<(Code, &'static str, &'static str)> {
    match &piece.form {
        Form::Ball(ball) if piece.seat.surface == Surface::Side && !ball.pin => Some((
            Code::BallWithoutPin,
            "a ball on a side slides down while its paste is soft",
            "set pin = true, and take the pin out before serving",
        )),
        Form::Topper(topper) if topper.picks.is_none_or(|picks| picks.count == 0) => Some((
            Code::TopperWithoutPick,
            "it stands up with nothing in the cake that holds it",
            "give it picks, and take them out before cutting",
        )),
        Form::Rod(rod) if rod.stick.is_none() => Some((
            Code::RodWithoutStick,
            "nothing holds its foot: it slides or falls over when the board is tilted",
            "give it a stick that goes into what it stands on, and take it out before serving",
        )),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::cake;

    #[test]
    fn whatever_can_fall_is_held() {
        let code = |piece: &str| {
            let text = format!("[[tier]]\nname = \"a\"\nsize = 150\nheight = 100\n[[piece]]\nname = \"p\"\n{piece}\n");
            check(&cake(&text)).first().map(|finding| finding.code)
        };
        let ball = "kind = \"ball\"\nseat = { on = \"a\", surface = \"side\" }\nat = { along = 0, up = 50 }\nsize = 20\nfinish = \"gold\"";
        assert_eq!(code(ball), Some(Code::BallWithoutPin));
        assert_eq!(code(&format!("{ball}\npin = true")), None);
        let topper = "kind = \"topper\"\nseat = { on = \"a\", surface = \"top\" }\nat = { x = 0, z = 0 }\nart = \"square.svg\"\nheight = 50\n\
                      thickness = 8\nfinish = \"white\"";
        assert_eq!(code(topper), Some(Code::TopperWithoutPick));
        let picks = "picks = { count = 2, diameter = 3, into_piece = 20, into_cake = 30 }";
        assert_eq!(code(&format!("{topper}\n{picks}")), None);
        let rod = "kind = \"rod\"\nseat = { on = \"board\", surface = \"board\" }\nat = { x = 90, z = 0 }\n\
                   parts = [{ length = 50, from = 8, to = 8, finish = \"wood\" }]";
        assert_eq!(code(rod), Some(Code::RodWithoutStick));
        assert_eq!(code(&format!("{rod}\nstick = {{ diameter = 3, into_board = 8 }}")), None);
    }
}

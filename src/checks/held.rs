//! `ball-without-pin`, `topper-without-pick`: what has nothing that holds it.

use crate::cake::Cake;
use crate::design::model::{Form, Surface};
use crate::findings::{Code, Finding};

pub(super) fn check(cake: &Cake) -> Vec<Finding> {
    let pieces = cake.pieces.iter().filter_map(|placed| cake.designed(placed));
    let loose = pieces.filter_map(|piece| match &piece.form {
        Form::Ball(ball) if piece.seat.surface == Surface::Side && !ball.pin => Some(Finding::new(
            Code::BallWithoutPin,
            super::piece_place(&piece.name),
            "a ball on a side slides down while its paste is soft",
            "set pin = true, and take the pin out before serving",
        )),
        Form::Topper(topper) if topper.picks.is_none_or(|picks| picks.count == 0) => Some(Finding::new(
            Code::TopperWithoutPick,
            super::piece_place(&piece.name),
            "it stands up with nothing in the cake that holds it",
            "give it picks, and take them out before cutting",
        )),
        _ => None,
    });
    loose.collect()
}

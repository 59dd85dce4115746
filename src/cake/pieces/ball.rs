//! A ball of paste, pressed a little into its seat.

use std::f64::consts::PI;

use glam::{DAffine3, DVec2};

use super::measures::circle;
use super::{Hold, Part, PickKind, PickMeasure, PieceMeasure, PieceSize, Posture, Stock};
use crate::design::model::pieces::Ball;
use crate::measure::Length;

/// Thickness of a ball's pin, mm: a cocktail stick (common practice, no source).
const PIN: f64 = 2.0;

pub(super) fn measure(ball: &Ball, posture: Posture) -> PieceMeasure {
    let across = ball.size;
    PieceMeasure {
        size: PieceSize { width: across, height: across, depth: across },
        reach: across - ball.sunk,
        volumes: vec![(ball.finish.clone(), volume(across.as_mm()))],
        picks: ball.pin.then(|| pin(ball, posture)).into_iter().collect(),
        footprint: circle(across.as_mm() / 2.0),
        ..PieceMeasure::default()
    }
}

/// Volume of a ball, mm³: π d³ / 6 (Archimedes).
pub(super) fn volume(across: f64) -> f64 {
    PI * across.powi(3) / 6.0
}

/// A pin through two thirds of the ball and as deep in the cake, at least 12 mm (common practice, no source).
fn pin(ball: &Ball, posture: Posture) -> PickMeasure {
    let into_piece = ball.size * (2.0 / 3.0);
    let into_cake = into_piece.max(Length::mm(12.0));
    PickMeasure {
        kind: PickKind::Pin,
        diameter: Length::mm(PIN).min(ball.size / 4.0),
        length: into_piece - ball.sunk + into_cake,
        into_piece,
        into_cake,
        entry: posture.place(DVec2::ZERO, 0.0),
        toward: -posture.out(),
    }
}

pub(super) fn parts(ball: &Ball, posture: Posture, stock: &mut Stock) -> Vec<Part> {
    let across = ball.size.as_mm();
    let centre = posture.place(DVec2::ZERO, across / 2.0 - ball.sunk.as_mm());
    let body = Part::ball("ball", across, &ball.finish, stock).at(DAffine3::from_translation(centre));
    let pin = ball.pin.then(|| stock.pick("pin", &pin(ball, posture)));
    std::iter::once(body.held(Hold::Rigid)).chain(pin).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cake::pieces::trial;

    #[test]
    fn a_ball_is_a_ball_and_two_of_a_size_share_it() {
        let ball = Ball {
            size: Length::mm(25.4),
            sunk: Length::mm(2.0),
            pin: true,
            clear_of_seams: None,
            finish: "gold".into(),
        };
        let mut stock = Stock::default();
        for posture in [Posture::OnTop, Posture::OnSide] {
            let measured = measure(&ball, posture);
            let parts = parts(&ball, posture, &mut stock);
            trial::agree(&measured, &parts, 0.01);
            let (low, high) = trial::bounds(&parts[..1]);
            assert!((low.dot(posture.out()) + 2.0).abs() < 0.1);
            assert!((high.dot(posture.out()) - measured.reach.as_mm()).abs() < 0.1);
            let (pin, _) = trial::bounds(&parts[1..]);
            assert!((pin.dot(posture.out()) + measured.picks[0].into_cake.as_mm()).abs() < 1e-9);
        }
        let again = parts(&ball, Posture::OnTop, &mut stock);
        let first = parts(&ball, Posture::OnSide, &mut stock);
        assert!(std::sync::Arc::ptr_eq(&again[0].mesh, &first[0].mesh));
    }
}

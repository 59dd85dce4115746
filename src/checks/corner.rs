//! `piece-crosses-corner`: a piece on a side that lies across a corner. Soft paste creases there, stiff paste stands off.

use std::f64::consts::TAU;

use glam::DVec2;

use crate::cake::{Cake, CakePiece, CakeTier};
use crate::design::model::Form;
use crate::findings::{Code, Finding, Place, Threshold};
use crate::measure::{Length, show_length};
use crate::shapes::{Outline, Side};

pub(super) fn check(cake: &Cake) -> Vec<Finding> {
    let corners: Vec<Vec<Corner>> = cake.tiers.iter().map(|tier| corners(&tier.outline)).collect();
    let across = cake.pieces.iter().filter_map(|placed| {
        let piece = cake.designed(placed)?;
        let tier = placed.side?.tier;
        let how = how_it_fails(&piece.form)?;
        let by = crossed(cake.tiers.get(tier)?, corners.get(tier)?, placed)?;
        let says = show_length(Length::mm(by), cake.design.unit);
        let sentence = format!("it lies {says} across a corner of '{}': {how}", cake.tiers.get(tier)?.name);
        let mend = format!("move it {says} along the side, make it narrower, or cut it in two at the corner");
        let place = Place::piece(&piece.name);
        Some(Finding::new(Code::PieceCrossesCorner, place, sentence, mend).by(Length::mm(by)))
    });
    across.collect()
}

/// What happens to a kind of piece at a corner; `None` for kinds that don't mind.
fn how_it_fails(form: &Form) -> Option<&'static str> {
    match form {
        Form::Sign(_) | Form::Plaque(_) | Form::Bow(_) => Some("soft paste creases or tears there"),
        Form::Topper(_) => Some("it is stiff and stands off the side"),
        Form::Ball(_) | Form::Scatter(_) | Form::Rope(_) | Form::Rod(_) | Form::Solid(_) => None,
    }
}

/// A stretch of a side that turns too sharply, mm along the tape.
struct Corner {
    middle: f64,
    half: f64,
}

fn corners(outline: &Outline) -> Vec<Corner> {
    let (turn, radius) = (Threshold::CornerTurn.value().to_radians(), Threshold::CornerRadius.value());
    let sharp = outline.corners(turn).into_iter().map(|middle| Corner { middle, half: 0.0 });
    let rounded = outline.sides_with_starts().filter_map(|(side, start)| match *side {
        Side::Arc { radius: round, sweep, .. } if round < radius && sweep.abs() < TAU => {
            let half = side.length() / 2.0;
            // A corner at front centre is cut in two; each half turns by half.
            (sweep.abs() > turn / 2.0).then_some(Corner { middle: start + half, half })
        }
        _ => None,
    });
    sharp.chain(rounded).collect()
}

/// How far the nearer end of a piece lies beyond a corner, mm.
fn crossed(tier: &CakeTier, corners: &[Corner], placed: &CakePiece) -> Option<f64> {
    let side = placed.side?;
    let (along, turn) = (side.along, DVec2::from_angle(side.turn.as_radians()));
    let reach = placed.measure.footprint.iter().map(|at| turn.rotate(*at).x);
    let (left, right) = reach.fold((f64::INFINITY, f64::NEG_INFINITY), |(left, right), x| (left.min(x), right.max(x)));
    let beyond = corners.iter().map(|corner| {
        let at = tier.outline.reading(corner.middle - along);
        (at + corner.half - left).min(right - at + corner.half)
    });
    let deepest = beyond.fold(f64::NEG_INFINITY, f64::max);
    (deepest > Threshold::Edge.value()).then_some(deepest)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::cake;

    fn sign(shape: &str, along: f64) -> Cake {
        cake(&format!(
            "[[tier]]\nname = \"a\"\nshape = \"{shape}\"\nsize = 200\nheight = 100\npaste = 3\n[[piece]]\nname = \"sign\"\nkind = \"sign\"\n\
             seat = {{ on = \"a\", surface = \"side\" }}\nat = {{ along = {along}, up = 50 }}\ntext = \"a\"\n\
             letters = {{ height = 10 }}\nsize = [60, 20]\nthickness = 3\nfinish = \"white\"\n"
        ))
    }

    #[test]
    fn a_sign_at_a_corner_is_told_how_far_to_move() {
        // The corner's round paste runs from 100 to 104.7 along; the sign reaches 30 to either side.
        let found = check(&sign("square", 90.0));
        assert!((found[0].by.unwrap().as_mm() - 20.0).abs() < 1e-6, "{found:?}");
        let found = check(&sign("square", 122.0));
        assert!((found[0].by.unwrap().as_mm() - 12.7).abs() < 0.1, "{found:?}");
        for along in [0.0, 69.9, 135.0] {
            assert_eq!(check(&sign("square", along)), [], "{along}");
        }
        assert_eq!(check(&sign("round", 90.0)), []);
    }
}

//! `pick-too-short`: a standing topper needs a share of its height as stick in the cake, and a share in itself.

use crate::cake::Cake;
use crate::cake::pieces::{PickKind, PickMeasure, PieceMeasure};
use crate::design::model::{Form, Surface, Target};
use crate::findings::{Code, Finding, Place, Threshold};
use crate::measure::{Length, show_length};

pub(in crate::checks) fn check(cake: &Cake) -> Vec<Finding> {
    let toppers = cake.pieces.iter().filter_map(|placed| {
        let piece = cake.designed(placed)?;
        let stands = matches!(piece.form, Form::Topper(_)) && piece.seat.surface == Surface::Top;
        // What stands on another piece has no cake of its own to go into.
        let in_cake = matches!(piece.seat.on, Target::Tier(_));
        let found = judge(cake, &placed.measure)?;
        (stands && in_cake).then(|| Finding { place: Place::piece(&piece.name), ..found })
    });
    toppers.collect()
}

fn judge(cake: &Cake, measure: &PieceMeasure) -> Option<Finding> {
    let height = measure.size.height;
    let sticks = || measure.picks.iter().filter(|pick| pick.kind == PickKind::Stick);
    let longest = |into: fn(&PickMeasure) -> Length| sticks().map(into).reduce(Length::max);
    let (in_cake, in_piece) = (longest(|pick| pick.into_cake)?, longest(|pick| pick.into_piece)?);
    let needs = [
        ("the cake", in_cake, height * Threshold::PickInCake.value()),
        ("the piece", in_piece, height * Threshold::PickInPiece.value()),
    ];
    let says = |length| show_length(length, cake.design.unit);
    let short = needs.into_iter().map(|(place, has, needs)| (place, has, needs, needs - has));
    let (place, has, needs, lacking) = short.max_by(|a, b| a.3.as_mm().total_cmp(&b.3.as_mm()))?;
    (lacking.as_mm() > Threshold::Edge.value()).then(|| {
        let sentence =
            format!("it stands {} high on {} of stick in {place}, it needs {}", says(height), says(has), says(needs));
        let mend = format!("{} more of stick in {place}, or a lower piece", says(lacking));
        Finding::new(Code::PickTooShort, "", sentence, mend).by(lacking)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::cake;

    /// A topper so many inches square, on a 6 in cake, set off to the left, with a stick and two side pins.
    fn topper(size: f64, into_cake: f64, into_piece: f64) -> Cake {
        let mm = |inches: f64| inches * 25.4;
        cake(&format!(
            "[board]\nsize = 254\n[[tier]]\nname = \"six\"\nsize = 152.4\nheight = 127\nicing = 6\n[[piece]]\nname = \"four\"\nkind = \"topper\"\n\
             seat = {{ on = \"six\", surface = \"top\" }}\nat = {{ x = -12.7, z = 0 }}\nart = \"square.svg\"\nheight = {}\n\
             thickness = 3.175\nfinish = \"white\"\nbacking = {{ border = 0, thickness = 6.35, finish = \"white\" }}\n\
             picks = {{ count = 1, diameter = 3.175, into_piece = {}, into_cake = {}, \
             side_pins = {{ count = 2, diameter = 1.5, into_piece = 20, into_cake = 20 }} }}\n",
            mm(size),
            mm(into_piece),
            mm(into_cake)
        ))
    }

    /// The four-inch topper is what is commonly made (common practice, no source).
    #[test]
    fn a_tall_topper_on_a_short_stick_is_found_and_a_common_one_is_not() {
        assert_eq!(crate::checks::all(&topper(4.0, 2.5, 1.5), Vec::new()), []);
        let found = check(&topper(9.0, 1.0, 3.0));
        let [finding] = &found[..] else { panic!("{found:?}") };
        assert!((finding.by.unwrap().as_mm() - (0.33 * 9.0 - 1.0) * 25.4).abs() < 0.1, "{finding:?}");
        assert!(finding.place == Place::piece("four") && finding.sentence.contains("in the cake"), "{finding:?}");
        let found = check(&topper(8.0, 3.0, 1.0));
        assert!(found[0].sentence.contains("in the piece"), "{found:?}");
    }
}

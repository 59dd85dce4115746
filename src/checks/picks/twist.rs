//! `topper-may-twist`: a standing topper on a single stick turns about it, unless pins beside it hold it.

use crate::cake::Cake;
use crate::design::model::{Form, Surface};
use crate::findings::{Code, Finding, Place};

pub(in crate::checks) fn check(cake: &Cake) -> Vec<Finding> {
    let loose = cake.pieces.iter().filter_map(|placed| {
        let piece = cake.designed(placed)?;
        let stands = matches!(piece.form, Form::Topper(_)) && piece.seat.surface == Surface::Top;
        (stands && placed.measure.picks.len() == 1).then(|| {
            Finding::new(
                Code::TopperMayTwist,
                Place::piece(&piece.name),
                "it stands on a single stick and can turn about it",
                "give it a second pick, or side pins",
            )
        })
    });
    loose.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::cake;

    #[test]
    fn a_second_pick_or_side_pins_keep_it_straight() {
        let twists = |picks: &str| {
            let found = check(&cake(&format!(
                "[[tier]]\nname = \"a\"\nsize = 150\nheight = 100\n[[piece]]\nname = \"t\"\nkind = \"topper\"\n\
                 seat = {{ on = \"a\", surface = \"top\" }}\nat = {{ x = 0, z = 0 }}\nart = \"square.svg\"\nheight = 60\n\
                 thickness = 8\nfinish = \"white\"\npicks = {{ {picks}, diameter = 3, into_piece = 20, into_cake = 40 }}\n"
            )));
            !found.is_empty()
        };
        assert!(twists("count = 1"));
        assert!(!twists("count = 2"));
        assert!(!twists("count = 1, side_pins = { count = 2, diameter = 1.5, into_piece = 15, into_cake = 20 }"));
    }
}

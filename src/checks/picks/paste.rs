//! `paste-thin-round-pick`: a stick needs paste on every side of it, or it breaks out of the piece.

use super::worst;
use crate::cake::Cake;
use crate::cake::pieces::{PickMeasure, rod_radius};
use crate::design::model::Form;
use crate::design::model::pieces::{Rod, Topper};
use crate::findings::{Code, Finding, Place, Threshold};
use crate::measure::{Length, show_length};

pub(in crate::checks) fn check(cake: &Cake) -> Vec<Finding> {
    worst(cake, |held, pick| {
        let (thick, least) = match &held.piece.form {
            Form::Topper(topper) => (layer(topper), Threshold::PasteRoundPick),
            Form::Rod(rod) => (narrowest(rod, pick), Threshold::PasteRoundRod),
            // A ball's pin follows from the ball.
            _ => return None,
        };
        let least = Length::mm(least.value());
        let around = (thick - pick.diameter) * 0.5;
        let lacking = least - around;
        (lacking.as_mm() > 1e-6).then(|| {
            let says = |length| show_length(length, cake.design.unit);
            let sentence = format!(
                "where its {} of {} goes in it is {} thick: {} of paste on each side, it needs {}",
                pick.kind.word(),
                says(pick.diameter),
                says(thick),
                says(around.max(Length::ZERO)),
                says(least)
            );
            let mend = format!("paste {} thicker there, or a thinner stick", says(lacking * 2.0));
            Finding::new(Code::PasteThinRoundPick, Place::piece(&held.piece.name), sentence, mend).by(lacking)
        })
    })
}

/// The layer of a topper that its sticks go into: the backing, where it has one.
fn layer(topper: &Topper) -> Length {
    topper.backing.as_ref().map_or(topper.thickness, |backing| backing.thickness)
}

/// The least thickness of a rod along its stick.
fn narrowest(rod: &Rod, pick: &PickMeasure) -> Length {
    let mut foot = 0.0;
    let ends = rod.parts.iter().flat_map(|part| {
        let from = foot;
        foot += part.length.as_mm();
        // Just within each end of a segment, since the next one may be thinner.
        [from + 1e-6, foot - 1e-6]
    });
    let reach = pick.into_piece.as_mm();
    let within = ends.filter(|up| *up <= reach).chain([reach]);
    Length::mm(2.0 * within.map(|up| rod_radius(rod, up)).fold(f64::INFINITY, f64::min))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::cake;

    fn topper(thickness: f64, backing: &str) -> Vec<Finding> {
        check(&cake(&format!(
            "[[tier]]\nname = \"a\"\nsize = 150\nheight = 100\n[[piece]]\nname = \"t\"\nkind = \"topper\"\n\
             seat = {{ on = \"a\", surface = \"top\" }}\nat = {{ x = 0, z = 0 }}\nart = \"square.svg\"\nheight = 60\n\
             thickness = {thickness}\nfinish = \"white\"\n{backing}\
             picks = {{ count = 1, diameter = 3, into_piece = 20, into_cake = 40 }}\n"
        )))
    }

    #[test]
    fn a_stick_needs_paste_on_each_side() {
        let thin = topper(4.0, "");
        assert!((thin[0].by.unwrap().as_mm() - 0.5).abs() < 1e-9, "{thin:?}");
        assert_eq!(topper(5.0, ""), []);
        assert_eq!(topper(3.0, "backing = { border = 4, thickness = 6, finish = \"white\" }\n"), []);
        assert!(!topper(8.0, "backing = { border = 4, thickness = 3, finish = \"white\" }\n").is_empty());
    }

    #[test]
    fn the_narrowest_place_of_a_rod_counts_as_far_as_its_stick_goes() {
        let rod = |parts: &str| {
            check(&cake(&format!(
                "[board]\nsize = 300\n[[tier]]\nname = \"a\"\nsize = 150\nheight = 100\n[[piece]]\nname = \"r\"\nkind = \"rod\"\n\
                 seat = {{ on = \"board\", surface = \"board\" }}\nat = {{ x = 110, z = 0 }}\nparts = [{parts}]\n\
                 stick = {{ diameter = 3, into_board = 8 }}\n"
            )))
        };
        let part = |length: f64, from: f64, to: f64| {
            format!("{{ length = {length}, from = {from}, to = {to}, finish = \"wood\" }}")
        };
        // The stick goes four fifths up: beyond 80 mm the rod may be as thin as it likes.
        assert_eq!(rod(&format!("{}, {}", part(85.0, 8.0, 8.0), part(15.0, 1.0, 1.0))), []);
        let found = rod(&format!("{}, {}, {}", part(40.0, 8.0, 8.0), part(10.0, 3.4, 9.0), part(50.0, 8.0, 8.0)));
        assert!((found[0].by.unwrap().as_mm() - 0.3).abs() < 1e-3, "{found:?}");
    }
}

//! `pick-near-side`: beside a stick that enters too near the side of the cake, the cake breaks out.

use glam::DVec2;

use super::worst;
use crate::cake::Cake;
use crate::cake::pieces::PickKind;
use crate::design::model::Surface;
use crate::findings::{Code, Finding, Place, Threshold};
use crate::measure::{Length, show_length};

pub(in crate::checks) fn check(cake: &Cake) -> Vec<Finding> {
    worst(cake, |held, pick| {
        if held.piece.seat.surface != Surface::Top || pick.kind != PickKind::Stick {
            return None;
        }
        let tier = held.tier(cake)?;
        let entry = (tier.pose().inverse() * held.placed.pose).transform_point3(pick.entry);
        let inside = -tier.outline.beyond(DVec2::new(entry.x, entry.z));
        let lacking = Length::mm(Threshold::PickToCakeSide.value() - inside);
        (lacking > Length::ZERO).then(|| {
            let says = |length| show_length(length, cake.design.unit);
            let sentence =
                format!("a stick of it enters {} from the side of '{}'", says(Length::mm(inside)), tier.name);
            let mend = format!("move it {} inward", says(lacking));
            Finding::new(Code::PickNearSide, Place::piece(&held.piece.name), sentence, mend).by(lacking)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::cake;

    #[test]
    fn a_stick_keeps_off_the_side() {
        for (x, by) in [(0.0, None), (62.9, None), (68.0, Some(5.0))] {
            let found = check(&cake(&format!(
                "[[tier]]\nname = \"a\"\nsize = 150\nheight = 100\n[[piece]]\nname = \"t\"\nkind = \"topper\"\n\
                 seat = {{ on = \"a\", surface = \"top\" }}\nat = {{ x = {x}, z = 0 }}\nart = \"square.svg\"\nheight = 20\nthickness = 8\n\
                 finish = \"white\"\npicks = {{ count = 1, diameter = 3, into_piece = 10, into_cake = 40 }}\n"
            )));
            let found = found.first().and_then(|finding| finding.by).map(|by| (by.as_mm() * 10.0).round() / 10.0);
            assert_eq!(found, by, "{x}");
        }
    }
}

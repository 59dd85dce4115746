//! `pick-too-deep`: a stick must end within what it stands in: above the board in a cake, above the table in a board.

use super::{Held, worst};
use crate::cake::pieces::PickMeasure;
use crate::cake::{Cake, CakeTier};
use crate::design::model::Target;
use crate::findings::{Code, Finding, Place, Threshold};
use crate::measure::{Length, show_length};

pub(in crate::checks) fn check(cake: &Cake) -> Vec<Finding> {
    worst(cake, |held, pick| {
        let (by, what) = match &held.piece.seat.on {
            Target::Board => (pick.into_cake - cake.board.thickness, "the board".to_owned()),
            Target::Tier(_) => {
                let tier = held.tier(cake)?;
                (too_deep(tier, held, pick), format!("'{}'", tier.name))
            }
            Target::Piece(_) => return None,
        };
        (by.as_mm() > 1e-6).then(|| {
            let says = |length| show_length(length, cake.design.unit);
            let sentence = format!("its {} goes {} too deep into {what}", pick.kind.word(), says(by));
            let mend = format!("let it go in {} deep at most", says((pick.into_cake - by).max(Length::ZERO)));
            Finding::new(Code::PickTooDeep, Place::piece(&held.piece.name), sentence, mend).by(by)
        })
    })
}

/// How far a stick's end lies beyond where it may; below zero: within.
fn too_deep(tier: &CakeTier, held: Held, pick: &PickMeasure) -> Length {
    let to_tier = tier.pose().inverse() * held.placed.pose;
    let end = to_tier.transform_point3(pick.entry + pick.toward * pick.into_cake.as_mm());
    let upright = to_tier.transform_vector3(pick.toward).y < -0.7;
    if upright {
        return Length::mm(Threshold::PickToBoard.value() - end.y);
    }
    // A pin from the side may come out on the other side, or below.
    Length::mm(tier.outline.beyond(glam::DVec2::new(end.x, end.z)).max(-end.y))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::cake;

    fn by(tables: &str) -> Vec<f64> {
        let tier = "[board]\nsize = 300\nthickness = 12\n[[tier]]\nname = \"a\"\nsize = 150\nheight = 60\nmeasured = { height = 58 }\n";
        let found = check(&cake(&(tier.to_owned() + tables))).into_iter();
        found.map(|finding| (finding.by.unwrap().as_mm() * 100.0).round() / 100.0).collect()
    }

    fn topper(into_cake: f64) -> String {
        format!(
            "[[piece]]\nname = \"t\"\nkind = \"topper\"\nseat = {{ on = \"a\", surface = \"top\" }}\nat = {{ x = 0, z = 0 }}\n\
             art = \"square.svg\"\nheight = 50\nthickness = 8\nfinish = \"white\"\n\
             picks = {{ count = 2, diameter = 3, into_piece = 20, into_cake = {into_cake} }}\n"
        )
    }

    #[test]
    fn a_stick_ends_above_the_board() {
        // As measured, the cake is 58 mm high; 3 mm must stay under the stick.
        assert_eq!(by(&topper(55.0)), [] as [f64; 0]);
        assert_eq!(by(&topper(60.0)), [5.0]);
    }

    #[test]
    fn a_pin_stays_in_the_board_and_a_stick_in_its_drum() {
        let ball = "[[piece]]\nname = \"b\"\nkind = \"ball\"\nseat = { on = \"board\", surface = \"board\" }\nat = { x = 100, z = 0 }\n\
                    size = 24\npin = true\nfinish = \"gold\"\n";
        assert_eq!(by(ball), [4.0]);
        let rod = "[[piece]]\nname = \"r\"\nkind = \"rod\"\nseat = { on = \"board\", surface = \"board\" }\nat = { x = 100, z = 0 }\n\
                   parts = [{ length = 50, from = 8, to = 8, finish = \"wood\" }]\nstick = { diameter = 3, into_board = 12 }\n";
        assert_eq!(by(rod), [] as [f64; 0]);
        assert_eq!(by(&rod.replace("into_board = 12", "into_board = 20")), [8.0]);
    }
}

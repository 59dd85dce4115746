//! `board-too-small`, `board-narrow`: what stands on the board must stand on it with its whole foot, and a rim of board should
//! be seen round the cake.

use crate::cake::Cake;
use crate::cake::extent::{base_needs, board_needed};
use crate::findings::{Code, Finding, Place, Threshold};
use crate::measure::{Length, show_length};

pub(super) fn check(cake: &Cake) -> Vec<Finding> {
    let across = cake.design.board.size.width;
    let says = |length| show_length(length, cake.design.unit);
    let needed = board_needed(cake);
    let lacking = needed - across;
    if lacking.as_mm() > Threshold::Edge.value() {
        let sentence = format!("what stands on it needs {} across, the board is {}", says(needed), says(across));
        let mend = "choose a larger board, or move what stands at its edge inward";
        return vec![Finding::new(Code::BoardTooSmall, Place::Board, sentence, mend).by(lacking)];
    }
    let usual = Length::mm(Threshold::BoardMargin.value());
    let margin = (across - base_needs(cake)) * 0.5;
    let short = usual - margin;
    if short.as_mm() <= Threshold::Edge.value() {
        return Vec::new();
    }
    let sentence = format!("{} of it is seen beside the cake, {} is usual", says(margin), says(usual));
    let mend = format!(
        "a board {} across leaves room for fingers and a ribbon; or leave it if it is to be so",
        says(across + short * 2.0)
    );
    vec![Finding::new(Code::BoardNarrow, Place::Board, sentence, mend).by(short)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::cake;

    fn board(size: f64) -> Vec<(Code, f64)> {
        let tables = format!("[board]\nsize = {size}\n[[tier]]\nname = \"a\"\nsize = 200\nheight = 100\n");
        let found = check(&cake(&tables)).into_iter();
        found.map(|finding| (finding.code, finding.by.unwrap().as_mm().round())).collect()
    }

    #[test]
    fn a_board_carries_the_cake_and_shows_a_rim() {
        assert_eq!(board(190.0), [(Code::BoardTooSmall, 10.0)]);
        assert_eq!(board(230.0), [(Code::BoardNarrow, 10.0)]);
        assert_eq!(board(251.0), []);
    }
}

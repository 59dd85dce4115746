//! `board-too-small`: what stands on the board must stand on it with its whole foot.

use crate::cake::Cake;
use crate::cake::extent::board_needed;
use crate::findings::{Code, Finding};
use crate::measure::{Length, show_length};

pub(super) fn check(cake: &Cake) -> Vec<Finding> {
    let needed = board_needed(cake);
    let across = cake.design.board.size.width;
    let lacking = needed - across;
    if lacking <= Length::mm(0.5) {
        return Vec::new();
    }
    let says = |length| show_length(length, cake.design.unit);
    let sentence = format!("what stands on it needs {} across, the board is {}", says(needed), says(across));
    let mend = "choose a larger board, or move what stands at its edge inward";
    vec![Finding::new(Code::BoardTooSmall, "board", sentence, mend).by(lacking)]
}

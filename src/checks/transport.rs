//! `box-too-small`, `box-tight`, `shelf-too-low`: whether the finished cake goes into its box and onto its shelf.

use glam::DVec3;

use crate::cake::Cake;
use crate::cake::extent::overall;
use crate::design::model::Transport;
use crate::findings::{Code, Finding, Threshold};
use crate::measure::{Length, show_length};

pub(super) fn check(cake: &Cake) -> Vec<Finding> {
    if cake.design.transport == Transport::default() {
        return Vec::new();
    }
    let (low, high) = overall(cake);
    let size = high - low;
    in_box(cake, size).into_iter().chain(on_shelf(cake, size)).collect()
}

fn in_box(cake: &Cake, size: DVec3) -> Option<Finding> {
    let transport = &cake.design.transport;
    let floor = transport.inside.map(|sides| sides.map(Length::as_mm));
    let sides = floor.map(|[width, depth]| {
        // The cake goes in whichever way round fits better.
        let room = |across: f64, deep: f64| (across - size.x).min(deep - size.z);
        room(width, depth).max(room(depth, width))
    });
    let above = transport.height.map(|height| height.as_mm() - size.y);
    let tolerance = Threshold::Edge.value();
    let usual = Threshold::BoxClearance.value();
    let says = |mm: f64| show_length(Length::mm(mm), cake.design.unit);
    let least = sides.into_iter().chain(above).fold(f64::INFINITY, f64::min);
    if least < -tolerance {
        let word = if above.is_some_and(|room| room <= least) { "higher" } else { "wider" };
        let sentence = format!("the cake is {} {word} than the box is inside", says(-least));
        let mend = "take a larger box, or put what stands highest on at the venue";
        return Some(Finding::new(Code::BoxTooSmall, "box", sentence, mend).by(Length::mm(-least)));
    }
    // The board is meant to fill the box's floor: only what stands on it needs room.
    let room = above?;
    let short = usual - room;
    (short > tolerance).then(|| {
        let sentence = format!("{} is left above the cake, {} is usual", says(room), says(usual));
        let mend = format!("a box {} higher, so that the lid can't touch", says(short));
        Finding::new(Code::BoxTight, "box", sentence, mend).by(Length::mm(short))
    })
}

fn on_shelf(cake: &Cake, size: DVec3) -> Option<Finding> {
    let shelf = cake.design.transport.shelf?;
    let high = Length::mm(size.y);
    let lacking = high - shelf;
    let says = |length| show_length(length, cake.design.unit);
    (lacking.as_mm() > Threshold::Edge.value()).then(|| {
        let sentence = format!("with its board it stands {} high, the shelf has room for {}", says(high), says(shelf));
        let mend = "take out a shelf, or keep the tiers apart and what stands highest beside them until the hand-over";
        Finding::new(Code::ShelfTooLow, "shelf", sentence, mend).by(lacking)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::cake;

    fn transport(keys: &str) -> Vec<(Code, f64)> {
        let tables = format!(
            "[transport]\n{keys}\n[board]\nsize = 260\nthickness = 12\n[[tier]]\nname = \"a\"\nsize = 200\nheight = 100\n"
        );
        let found = check(&cake(&tables)).into_iter();
        found.map(|finding| (finding.code, (finding.by.unwrap().as_mm() * 10.0).round() / 10.0)).collect()
    }

    #[test]
    fn a_cake_goes_into_its_box_and_onto_its_shelf() {
        assert_eq!(transport(""), []);
        assert_eq!(transport("box = [260, 300]\nbox_height = 140\nshelf = 120"), []);
        assert_eq!(transport("box = [300, 255]"), [(Code::BoxTooSmall, 5.0)]);
        assert_eq!(transport("box = [260, 260]\nbox_height = 110"), [(Code::BoxTooSmall, 2.0)]);
        assert_eq!(transport("box = [260, 260]\nbox_height = 132"), [(Code::BoxTight, 5.4)]);
        assert_eq!(transport("shelf = 100"), [(Code::ShelfTooLow, 12.0)]);
    }
}

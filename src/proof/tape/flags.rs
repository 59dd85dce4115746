//! Flags above the side: what is named stands on a pole over its place, as low as it finds room, so that no label lies over
//! another and no pole runs through one.
//!
//! ```text
//!   |waves seam 1
//!   |4 in left          |bow
//!   |   |spray          |4 in right
//!   |   |               |
//! ```

use std::cmp::Ordering;

use glam::DVec2;

use crate::art::{Colour, Stretch};
use crate::proof::chart::{Align, Chart, Hand};

/// Size of the letters, mm.
const LETTERS: f64 = 2.5;
/// From line to line, mm.
const LINE: f64 = 3.0;
/// Free between labels, mm.
const GAP: f64 = 1.4;
/// Longest line of a label, mm.
const WIDEST: f64 = 60.0;
/// Poles closer than this are as good as one, mm.
const SHARED: f64 = 0.4;
/// From the pole to its words, mm.
const ASIDE: f64 = 0.9;

/// A label on its pole.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Flag {
    /// The foot of the pole: page x, and how far down the page from the side's foot (negative on the side).
    pub foot: DVec2,
    /// What it names, in strong letters.
    pub names: Vec<String>,
    /// What is said of it; empty: nothing.
    pub words: String,
    pub colour: Colour,
}

impl Flag {
    /// Its lines with the hand of each.
    fn lines(&self) -> impl Iterator<Item = (String, Hand)> {
        let names = self.names.iter().map(|name| (name, Hand::strong(LETTERS)));
        let words = Some((&self.words, Hand::text(LETTERS))).filter(|(words, _)| !words.is_empty());
        names.chain(words).map(|(line, hand)| (hand.fitted(line, WIDEST), hand.coloured(self.colour)))
    }

    fn width(&self) -> f64 {
        ASIDE + self.lines().map(|(line, hand)| hand.width(&line)).fold(0.0, f64::max)
    }

    fn height(&self) -> f64 {
        self.lines().count() as f64 * LINE
    }
}

/// A flag with its place.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Flown {
    flag: Flag,
    /// Left and right end of its label, page x; the pole stands within.
    span: (f64, f64),
    /// How many labels high it flies; 0 is the lowest.
    level: usize,
}

/// Flags with their places.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Flags {
    flown: Vec<Flown>,
    /// How far above the side the foot of each level is, mm, and last their height together.
    levels: Vec<f64>,
}

/// Finds a place for every flag, labels staying left of `limit` (page x).
pub(super) fn fly(mut flags: Vec<Flag>, limit: f64) -> Flags {
    flags.sort_by(|a, b| b.foot.x.total_cmp(&a.foot.x).then_with(|| a.names.cmp(&b.names)));
    let poles: Vec<f64> = flags.iter().map(|flag| flag.foot.x).collect();
    let mut flown: Vec<Flown> = Vec::new();
    for flag in flags {
        let low = flag.foot.x.min(limit - flag.width());
        let span = (low, low + flag.width());
        // A label pushed to the left stands over poles that come later; it leaves them room below.
        let below = poles.iter().filter(|&&pole| pole > low && pole < flag.foot.x - 1e-6).count();
        let level = (below..=below + poles.len()).find(|&level| free(&flown, (flag.foot.x, span), level));
        flown.push(Flown { flag, span, level: level.unwrap_or(below) });
    }
    let count = flown.iter().map(|flown| flown.level + 1).max().unwrap_or(0);
    let tall = |level: usize| {
        let here = flown.iter().filter(|flown| flown.level == level).map(|flown| flown.flag.height());
        here.reduce(f64::max).map_or(0.0, |height| height + GAP)
    };
    let levels = (0..=count).map(|level| (0..level).map(tall).sum()).collect();
    Flags { flown, levels }
}

fn free(flown: &[Flown], (pole, span): (f64, (f64, f64)), level: usize) -> bool {
    flown.iter().all(|other| match level.cmp(&other.level) {
        Ordering::Equal => span.1 + GAP < other.span.0 || other.span.1 + GAP < span.0,
        // Our pole passes every label below us; theirs pass us.
        Ordering::Greater => passes(pole, (other.flag.foot.x, other.span)),
        Ordering::Less => passes(other.flag.foot.x, (pole, span)),
    })
}

/// Does a pole pass a label that flies on another pole? The same pole may carry several labels.
fn passes(pole: f64, (own, (low, high)): (f64, (f64, f64))) -> bool {
    let shared = (pole - own).abs() < SHARED && (own - low).abs() < 1e-6;
    shared || pole < low - GAP / 2.0 || pole > high + GAP / 2.0
}

impl Flags {
    /// Height that all of them take above the side, mm.
    pub fn height(&self) -> f64 {
        self.levels.last().copied().unwrap_or_default()
    }

    /// Draws them over a side between two heights of the page: its upper edge and its foot.
    pub fn draw(&self, chart: &mut Chart, (top, foot): (f64, f64)) {
        for Flown { flag, span, level } in &self.flown {
            let below = self.levels.get(*level).copied().unwrap_or_default();
            let head = top - below - GAP - flag.height();
            let pole = Stretch::solid(0.22, flag.colour);
            chart.line([DVec2::new(flag.foot.x, head), flag.foot + DVec2::Y * foot], pole);
            for (number, (line, hand)) in flag.lines().enumerate() {
                let baseline = head + LINE * (number as f64 + 1.0) - 0.75;
                chart.text((DVec2::new(span.0 + ASIDE, baseline), Align::Left), line, hand);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::proof::ink::INK;

    fn flag(x: f64, words: &str) -> Flag {
        Flag {
            foot: DVec2::new(x, 90.0),
            names: vec![words.to_owned()],
            words: "4 9/16 in left".to_owned(),
            colour: INK,
        }
    }

    #[test]
    fn labels_and_poles_keep_clear_of_one_another_wherever_they_stand() {
        let mut state = 7_u32;
        let mut chance = |most: f64| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(state >> 8) / f64::from(1_u32 << 24) * most
        };
        for _ in 0..300 {
            let count = 1 + chance(14.0) as usize;
            let flags: Vec<Flag> = (0..count).map(|_| flag(10.0 + chance(190.0), "a seam")).collect();
            // Poles that stand within a label's gap of one another can't all be kept clear.
            let mut feet: Vec<f64> = flags.iter().map(|flag| flag.foot.x).collect();
            feet.sort_by(f64::total_cmp);
            if feet.windows(2).any(|pair| pair[1] - pair[0] < GAP) {
                continue;
            }
            let flown = fly(flags, 220.0).flown;
            for (number, one) in flown.iter().enumerate() {
                assert!(one.span.1 <= 220.0 + 1e-9);
                for other in &flown[..number] {
                    let apart = one.span.1 < other.span.0 || other.span.1 < one.span.0;
                    assert!(one.level != other.level || apart, "{one:?} {other:?}");
                    for (pole, label) in [(one, other), (other, one)] {
                        let through = pole.flag.foot.x > label.span.0 && pole.flag.foot.x < label.span.1;
                        assert!(pole.level < label.level || !through, "{pole:?} {label:?}");
                    }
                }
            }
        }
    }

    #[test]
    fn one_pole_carries_two_labels() {
        let levels = |flags: Vec<Flag>| fly(flags, 220.0).flown.iter().map(|flown| flown.level).collect::<Vec<_>>();
        assert_eq!(levels(vec![flag(60.0, "one"), flag(60.1, "two")]), [0, 1]);
    }

    #[test]
    fn labels_that_have_room_all_fly_low() {
        let flags = fly(vec![flag(10.0, "one"), flag(60.0, "two"), flag(110.0, "three")], 220.0);
        assert!(flags.flown.iter().all(|flown| flown.level == 0));
        assert_eq!(fly(Vec::new(), 220.0).height(), 0.0);
    }
}

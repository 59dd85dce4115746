//! The legend: what sheet this is, and two rules to lay a ruler against before anything is cut.

use glam::DVec2;

use super::lie::Lie;
use crate::measure::MM_PER_INCH;
use crate::packs::pdf::{INK, Page, Pen, Style, Words};

/// Where the rules begin, from the left, mm.
const LEFT: f64 = 2.0;
/// Baselines of the two lines of words, from the top, mm.
const BASELINES: [f64; 2] = [2.4, 5.0];
/// Thickness of the rules, mm.
const PEN: f64 = 0.2;

/// A rule: how long, in how many steps, how it is called, how far down the legend; mm.
struct Rule {
    length: f64,
    steps: u32,
    /// Every so many steps the tick is long.
    long: u32,
    name: &'static str,
    top: f64,
}

const RULES: [Rule; 2] = [
    Rule { length: 100.0, steps: 20, long: 2, name: "100 mm", top: 6.6 },
    Rule { length: 4.0 * MM_PER_INCH, steps: 16, long: 4, name: "4 in", top: 11.0 },
];

/// Draws the legend with its lines of words.
pub(in crate::packs::kitchen_pack) fn set(page: &mut Page, lie: &Lie, words: &[String; 2]) {
    let room = lie.upright().x - 2.0 * LEFT;
    for (text, baseline) in words.iter().zip(BASELINES) {
        lie.text(page, DVec2::new(LEFT, baseline), fitting(text, room));
    }
    rules(page, lie);
}

/// Draws both rules.
pub(super) fn rules(page: &mut Page, lie: &Lie) {
    for rule in &RULES {
        let from = DVec2::new(LEFT, rule.top);
        lie.line(page, [from, from + DVec2::X * rule.length], Pen::solid(PEN, INK));
        for step in 0..=rule.steps {
            let end = step == 0 || step == rule.steps;
            let tall = if end {
                2.6
            } else if step % rule.long == 0 {
                1.6
            } else {
                0.9
            };
            let at = from + DVec2::X * (rule.length * f64::from(step) / f64::from(rule.steps));
            lie.line(page, [at, at + DVec2::Y * tall], Pen::solid(PEN, INK));
        }
        let words = Style::BESIDE.line(rule.name);
        let middle = rule.length / 2.0 - words.width / 2.0;
        lie.text(page, from + DVec2::new(middle, 3.5), words);
    }
}

/// One line, its letters as small as it needs; what is longer still is cut off.
fn fitting(text: &str, room: f64) -> Words {
    let whole = Style::BESIDE.line(text);
    if whole.width <= room {
        return whole;
    }
    let points = (Style::BESIDE.points * room / whole.width).max(4.4);
    let style = Style { points, ..Style::BESIDE };
    crate::packs::pdf::break_lines(text, style, room).into_iter().next().unwrap_or(whole)
}

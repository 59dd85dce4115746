//! The line of words beside a print: what it is, which way is up, what its ends meet.

use glam::DVec2;

use super::lie::{Hand, Lie};
use super::words::{Beside, beside};
use crate::measure::Unit;
use crate::packs::pdf::{ACCENT, Page, Pen, Style, Words};
use crate::sheets::{LABEL, Label, Print, PrintOf};

/// From the upper edge of the line to the baseline, mm.
const BASELINE: f64 = 2.7;
/// Kept free at both ends, mm.
const INSET: f64 = 0.8;
/// Between two of its parts, mm.
const APART: f64 = 4.0;
/// Letters shrink to this size before words are cut off, points.
const SMALLEST: f64 = 4.6;

/// Draws the words; the areas they cover on the page.
pub(super) fn set(
    page: &mut Page,
    (lie, label): (&Lie, Option<Label>),
    (print, unit): (&Print, Unit),
) -> Vec<[DVec2; 2]> {
    let Some(label) = label else { return Vec::new() };
    let size = lie.upright();
    let top = match label {
        Label::Foot => size.y + print.bleed,
        Label::Head => -print.bleed - LABEL,
    };
    let mut covered = Vec::new();
    for (x, words) in laid(&fitted(print, unit, (size.x, lie.hand)), size.x) {
        let cap = words.line.cap_height;
        let low = DVec2::new(x - 0.3, top + BASELINE - cap - 0.4);
        covered.push(lie.area([low, DVec2::new(x + words.width + 0.3, top + BASELINE + 0.9)]));
        lie.text(page, DVec2::new(x, top + BASELINE), words);
    }
    overlap(page, lie, print);
    covered
}

/// The fullest words that fit, set.
fn fitted(print: &Print, unit: Unit, (width, hand): (f64, Hand)) -> [Option<Words>; 3] {
    let room = width - 2.0 * INSET;
    let set = |words: Beside, style: Style| {
        let parts = [words.left, Some(words.middle), words.right];
        parts.map(|part| part.map(|part| style.line(&part)))
    };
    let wide = |parts: &[Option<Words>; 3]| {
        let widths: Vec<f64> = parts.iter().flatten().map(|words| words.width).collect();
        widths.iter().sum::<f64>() + APART * (widths.len() as f64 - 1.0)
    };
    let ways = beside(print, unit, hand);
    let sizes = [Style::BESIDE.points, 5.4, SMALLEST];
    let tries = ways.iter().flat_map(|words| sizes.map(|points| (words.clone(), points)));
    let found =
        tries.map(|(words, points)| set(words, Style { points, ..Style::BESIDE })).find(|set| wide(set) <= room);
    found.unwrap_or_else(|| {
        let style = Style { points: SMALLEST, ..Style::BESIDE };
        [None, Some(cut_off(ways.last().map_or("", |words| &words.middle), style, room)), None]
    })
}

/// As much of a text as fits, with an ellipsis.
fn cut_off(text: &str, style: Style, room: f64) -> Words {
    let characters: Vec<char> = text.chars().collect();
    let shorter = (0..characters.len()).rev().map(|count| {
        let kept: String = characters.iter().take(count).collect();
        style.line(&format!("{}…", kept.trim_end()))
    });
    shorter.into_iter().find(|words| words.width <= room).unwrap_or_else(|| style.line("…"))
}

/// Where each part begins: at the left end, in the middle of what is free, at the right end.
fn laid(parts: &[Option<Words>; 3], width: f64) -> Vec<(f64, Words)> {
    let [left, middle, right] = parts;
    let wide = |words: &Option<Words>| words.as_ref().map_or(0.0, |words| words.width + APART);
    let free = (INSET + wide(left), width - INSET - wide(right));
    let mut laid = Vec::new();
    laid.extend(left.clone().map(|words| (INSET, words)));
    laid.extend(middle.clone().map(|words| {
        let centred = (width - words.width) / 2.0;
        (centred.clamp(free.0, (free.1 - words.width).max(free.0)), words)
    }));
    laid.extend(right.clone().map(|words| (width - INSET - words.width, words)));
    laid
}

/// A tick at both edges where the part begins that runs under the next strip.
fn overlap(page: &mut Page, lie: &Lie, print: &Print) {
    let PrintOf::Strip { meets, .. } = &print.of else { return };
    if meets.overlap <= 0.0 || meets.right.is_none() {
        return;
    }
    let size = lie.upright();
    let x = if lie.hand == Hand::Mirrored { meets.overlap } else { size.x - meets.overlap };
    for [near, far] in
        [[-print.bleed - 0.3, -print.bleed - 1.3], [size.y + print.bleed + 0.3, size.y + print.bleed + 1.3]]
    {
        lie.line(page, [DVec2::new(x, near), DVec2::new(x, far)], Pen::solid(0.25, ACCENT));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::packs::pdf::Facing;
    use crate::sheets::Meets;

    fn strip(size: DVec2) -> Print {
        let meets = Meets { left: Some("3 of 3".into()), right: Some("2 of 3".into()), overlap: 6.0 };
        Print {
            name: "base · waves · 1 of 3".into(),
            sheet: "letter".into(),
            size,
            turn: true,
            bleed: 0.0,
            ppi: Some(287.0),
            of: PrintOf::Strip { plan: 0, strip: 0, start: 0.0, meets },
            on: None,
        }
    }

    #[test]
    fn words_stay_beside_the_print_however_narrow_it_is() {
        for width in [180.0, 90.0, 60.0, 30.0, 12.0, 3.0, 0.5] {
            let print = strip(DVec2::new(width, 40.0));
            for hand in [Hand::Right, Hand::Mirrored] {
                let parts = laid(&fitted(&print, Unit::Inch, (width, hand)), width);
                for pair in parts.windows(2) {
                    assert!(pair[0].0 + pair[0].1.width < pair[1].0, "{width}");
                }
                let last = parts.last().unwrap();
                assert!(parts[0].0 >= 0.0 && (last.0 + last.1.width <= width || width < 3.5), "{width}");
            }
        }
    }

    #[test]
    fn words_are_set_outside_the_cut() {
        let print = strip(DVec2::new(120.0, 40.0));
        for (facing, size) in [(Facing::Up, DVec2::new(120.0, 40.0)), (Facing::Right, DVec2::new(40.0, 120.0))] {
            let lie = Lie { at: DVec2::splat(50.0), size, facing, hand: Hand::Right };
            for label in [Label::Foot, Label::Head] {
                let mut page = Page::new([300.0, 300.0]);
                let covered = set(&mut page, (&lie, Some(label)), (&print, Unit::Inch));
                assert_eq!(covered.len(), 3);
                for [low, high] in covered {
                    let meets = low.cmplt(lie.at + lie.size).all() && lie.at.cmplt(high).all();
                    assert!(!meets, "{facing:?} {label:?} {low} {high}");
                }
            }
        }
    }
}

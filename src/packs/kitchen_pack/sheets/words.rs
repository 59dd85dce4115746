//! The words on sheets.

use super::lie::Hand;
use crate::measure::Unit;
use crate::packs::kitchen_pack::KitchenInput;
use crate::packs::words::{length, product};
use crate::sheets::{Print, PrintOf, PrintedSheet};

/// The words beside a print: at its left end, in its middle, at its right end.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Beside {
    pub left: Option<String>,
    pub middle: String,
    pub right: Option<String>,
}

/// The words beside a print, the fullest first.
pub(super) fn beside(print: &Print, unit: Unit, hand: Hand) -> Vec<Beside> {
    let name = &print.name;
    let size = product(&print.size.to_array(), unit);
    let pixels = print.ppi.map(|ppi| format!(" · {ppi:.0} pixels to the inch")).unwrap_or_default();
    let middles = [format!("{name}   ↑ up   {size}{pixels}"), format!("{name}   ↑ up   {size}"), format!("{name} ↑")];
    let ends = meeting(print, (unit, hand));
    let with = |middle: &String, [left, right]: [Option<String>; 2]| Beside { left, middle: middle.clone(), right };
    let mut ways: Vec<Beside> = middles.iter().map(|middle| with(middle, ends.clone())).collect();
    let short = ends.map(|end| end.map(|end| end.replace("meets ", "").replace(" of ", "/")));
    ways.extend(middles.last().map(|middle| with(middle, short)));
    ways.extend(middles.last().map(|middle| with(middle, [None, None])));
    ways
}

/// What the left and the right end meet, as it lies before one.
fn meeting(print: &Print, (unit, hand): (Unit, Hand)) -> [Option<String>; 2] {
    let PrintOf::Strip { meets, .. } = &print.of else { return [None, None] };
    let (left, right) = match hand {
        Hand::Right => (&meets.left, &meets.right),
        Hand::Mirrored => (&meets.right, &meets.left),
    };
    let under = |own: &str| {
        if meets.overlap > 0.0 {
            format!("{} under {own}", length(meets.overlap, unit))
        } else {
            format!("meets {own}")
        }
    };
    // The right end of every strip runs under the next; in a mirror it is the left one.
    let says = |own: &str, runs_under: bool| if runs_under { under(own) } else { format!("meets {own}") };
    [
        left.as_ref().map(|own| format!("← {}", says(own, hand == Hand::Mirrored))),
        right.as_ref().map(|own| format!("{} →", says(own, hand == Hand::Right))),
    ]
}

/// What all sheets are of.
pub(in crate::packs::kitchen_pack) fn title(input: &KitchenInput) -> String {
    let moved_on = input.facts.approval.as_ref().is_some_and(|approval| !approval.stands);
    let note = if moved_on { " · changed since it was approved" } else { "" };
    format!("{} · revision {}{note}", input.facts.title, input.facts.revision)
}

/// `sheet 1 of 2 · letter`.
pub(super) fn sheet(input: &KitchenInput, number: usize) -> String {
    let all = &input.sheets.sheets;
    let kind = all.get(number).map_or("", |sheet| sheet.kind.as_str());
    format!("sheet {} of {} · {kind}", number + 1, all.len())
}

pub(super) fn sheet_with_hint(input: &KitchenInput, (number, of): (usize, &PrintedSheet), hand: Hand) -> String {
    let mirrored = if hand == Hand::Mirrored { "MIRRORED, to transfer · " } else { "" };
    let ppi = of.sheet.ppi;
    format!("{mirrored}{} · {ppi} pixels to the inch · print at actual size, then measure:", sheet(input, number))
}

#[cfg(test)]
mod tests {
    use glam::DVec2;

    use super::*;
    use crate::sheets::Meets;

    fn print(overlap: f64) -> Print {
        let meets = Meets { left: Some("3 of 3".into()), right: Some("2 of 3".into()), overlap };
        Print {
            name: "base · waves · 1 of 3".into(),
            sheet: "letter".into(),
            size: DVec2::new(254.0, 120.65),
            turn: true,
            bleed: 0.0,
            ppi: Some(287.4),
            of: PrintOf::Strip { plan: 0, strip: 0, start: 0.0, meets },
            on: None,
        }
    }

    #[test]
    fn a_strip_says_what_its_ends_meet_and_which_way_is_up() {
        let full = &beside(&print(0.0), Unit::Inch, Hand::Right)[0];
        assert_eq!(full.left.as_deref(), Some("← meets 3 of 3"));
        assert_eq!(full.middle, "base · waves · 1 of 3   ↑ up   10 × 4 3/4 in · 287 pixels to the inch");
        assert_eq!(full.right.as_deref(), Some("meets 2 of 3 →"));
    }

    #[test]
    fn in_a_mirror_the_ends_change_places_and_the_overlap_goes_with_its_end() {
        let right = &beside(&print(6.35), Unit::Inch, Hand::Right)[0];
        assert_eq!(
            (right.left.as_deref(), right.right.as_deref()),
            (Some("← meets 3 of 3"), Some("1/4 in under 2 of 3 →"))
        );
        let mirrored = &beside(&print(6.35), Unit::Inch, Hand::Mirrored)[0];
        assert_eq!(mirrored.left.as_deref(), Some("← 1/4 in under 2 of 3"));
        assert_eq!(mirrored.right.as_deref(), Some("meets 3 of 3 →"));
    }
}

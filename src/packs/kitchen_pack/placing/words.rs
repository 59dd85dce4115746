//! Where something goes, in words.

use crate::cake::Cake;
use crate::kitchen::{Placing, Spot};
use crate::measure::{Unit, tape_words};
use crate::packs::words::length;

/// Nearer than this to the middle is in the middle, mm: no hand sets a piece finer.
const MIDDLE: f64 = 0.8;

/// `the board`, or the name of a tier or piece.
pub(super) fn seat(on: &str) -> &str {
    if on == "board" { "the board" } else { on }
}

/// Where a step goes.
pub(super) fn place(cake: &Cake, step: &Placing) -> String {
    let unit = cake.design.unit;
    let says = |mm: f64| length(mm, unit);
    let tape = |tier: usize, along: f64| {
        let around = cake.tiers.get(tier).map_or(0.0, |tier| tier.around().as_mm());
        tape_words(along, around, unit)
    };
    match &step.spot {
        Spot::Stack { right, front, foot } => {
            let where_ = offset((*right, *front), unit).map_or_else(
                || format!("in the middle of {}", seat(&step.on)),
                |off| format!("{off} from the middle of {}", seat(&step.on)),
            );
            if *foot > MIDDLE { format!("{where_}; its foot {} above the board", says(*foot)) } else { where_ }
        }
        Spot::Round { tier, between: [from, to], seam } => {
            let ends = seam.map(|seam| format!("; ends meet {}", tape(*tier, seam))).unwrap_or_default();
            format!("round {}, from {} to {} above the board{ends}", step.on, says(*from), says(*to))
        }
        Spot::Side { .. } | Spot::Plan { .. } if step.spread => format!("over {} as drawn", seat(&step.on)),
        Spot::Side { tier, along, up, height } => {
            let own =
                if (height - up).abs() > MIDDLE { format!(" ({} up its tier)", says(*up)) } else { String::new() };
            format!("{} up from the board{own}, {}", says(*height), tape(*tier, *along))
        }
        Spot::Plan { right, front, .. } => {
            let middle = || format!("in the middle of {}", seat(&step.on));
            let away = right.hypot(*front);
            offset((*right, *front), unit).map_or_else(middle, |off| {
                format!("{off} from the middle ({} away, at {})", says(away), o_clock(*right, *front))
            })
        }
    }
}

/// `1 in right and 2 in to the front`; `None` in the middle.
fn offset((right, front): (f64, f64), unit: Unit) -> Option<String> {
    let part = |value: f64, words: [&str; 2]| {
        let word = if value > 0.0 { words[0] } else { words[1] };
        (value.abs() > MIDDLE).then(|| format!("{} {word}", length(value.abs(), unit)))
    };
    let parts = [part(right, ["right", "left"]), part(front, ["to the front", "to the back"])];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    (!parts.is_empty()).then(|| parts.join(" and "))
}

/// The direction as on a clock that lies on the cake, to the half hour: 6 is the front, 3 the customer's right.
pub(super) fn o_clock(right: f64, front: f64) -> String {
    let hours = right.atan2(-front) / std::f64::consts::TAU * 12.0;
    let halves = (hours * 2.0).round().rem_euclid(24.0) as u32;
    let hour = if halves / 2 == 0 { 12 } else { halves / 2 };
    if halves % 2 == 1 { format!("half past {hour}") } else { format!("{hour} o'clock") }
}

/// How far it is turned, in words.
pub(super) fn turn(step: &Placing) -> String {
    let degrees = (step.turn + 180.0).rem_euclid(360.0) - 180.0;
    if degrees.abs() < 0.5 {
        return String::new();
    }
    let way = if degrees > 0.0 { "counter-clockwise" } else { "clockwise" };
    format!("{:.0}° {way}", degrees.abs())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clock_lies_on_the_cake_with_six_at_the_front() {
        let told =
            [(0.0, 1.0), (1.0, 0.0), (0.0, -1.0), (-1.0, 0.0), (1.0, 1.0), (-0.3, 1.0)].map(|(x, z)| o_clock(x, z));
        let expected = ["6 o'clock", "3 o'clock", "12 o'clock", "9 o'clock", "half past 4", "half past 6"];
        assert_eq!(told, expected);
    }

    #[test]
    fn an_offset_names_both_ways() {
        assert_eq!(offset((25.4, -12.7), Unit::Inch).unwrap(), "1 in right and 1/2 in to the back");
        assert_eq!(offset((0.1, 50.8), Unit::Inch).unwrap(), "2 in to the front");
        assert_eq!(offset((0.0, 0.0), Unit::Inch), None);
    }
}

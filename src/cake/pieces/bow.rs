//! A bow: loops and tails of ribbon paste, gathered under a knot.
//!
//! Seen along the side, one loop is a teardrop: up and out from the knot, round, and back along the seat. The same curves
//! give the mesh and the lengths that are cut. No two loops and tails lie quite alike, as made by hand; `mirror` exchanges
//! left and right.
//!
//! ```text
//!        _____
//!      /       \          z out
//!   [o]         |         |
//!      \_______/          o--- r from the knot
//!   ============ seat
//! ```

mod knot;
mod ribbon;

use std::f64::consts::{FRAC_PI_2, PI};
use std::sync::Arc;

use glam::{DAffine3, DVec2, DVec3};

use self::ribbon::Ribbon;
use super::measures::{add, hull, square_round};
use super::template::{Template, ended};
use super::{Bend, Cut, CutEnd, Hold, Part, PieceMeasure, PieceSize, Posture, Shortfall};
use crate::design::model::pieces::{Bow, TailCut};
use crate::measure::Length;
use crate::shapes::Mesh;

/// Most loops or tails that are built.
const MOST: u32 = 24;

/// By how much a bow's two halves differ, radians.
const BY_HAND: f64 = 0.04;

/// A loop or a tail: from its own frame to the bow's, and which way its outer edge lies (1 or -1 across it).
struct Arm {
    name: String,
    pose: DAffine3,
    outer: f64,
}

impl Arm {
    /// Turned so far from the right, lifted over what lies there already; mirrored if asked.
    fn new(name: String, (turn, lift): (f64, f64), mirror: bool) -> Self {
        let turn = if mirror { PI - turn } else { turn };
        let pose = DAffine3::from_translation(DVec3::Z * lift) * DAffine3::from_rotation_z(turn);
        // The outer edge of what points to the right lies to its left, and the other way round.
        Self { name, pose, outer: if turn.cos() >= 0.0 { 1.0 } else { -1.0 } }
    }
}

/// Each loop: pairs to either side, an odd one upward.
fn loops(bow: &Bow) -> Vec<Arm> {
    let count = bow.loops.min(MOST);
    let pairs = count / 2;
    let lift = |pair: u32| 0.5 * bow.thickness.as_mm() * f64::from(pair);
    let mut turns = Vec::new();
    for pair in 0..pairs {
        let open = if pairs == 1 { 0.12 } else { 1.1 * (f64::from(pair) / f64::from(pairs - 1) - 0.35) };
        turns.extend([(open + BY_HAND, lift(pair)), (PI - open + BY_HAND, lift(pair))]);
    }
    if count % 2 == 1 {
        turns.push((FRAC_PI_2 + BY_HAND, lift(pairs)));
    }
    let arm = |(turn, number): ((f64, f64), u32)| Arm::new(format!("loop {number}"), turn, bow.mirror);
    turns.into_iter().zip(1..).map(arm).collect()
}

/// Each tail, downward; one lies over the other where they cross.
fn tails(bow: &Bow) -> Vec<Arm> {
    let count = if bow.tail_length > Length::ZERO { bow.tails.min(MOST) } else { 0 };
    let spread = (0.85 * (f64::from(count) - 1.0)).clamp(1.0, 2.0);
    let turn = |tail: u32| {
        let share = if count > 1 { f64::from(tail) / f64::from(count - 1) - 0.5 } else { 0.1 };
        spread * share - FRAC_PI_2 + BY_HAND
    };
    let lift = |tail: u32| 0.2 * bow.thickness.as_mm() * f64::from(tail);
    let arm = |tail: u32| Arm::new(format!("tail {}", tail + 1), (turn(tail), lift(tail)), bow.mirror);
    (0..count).map(arm).collect()
}

/// The rim of every loop and tail, in the frame of a side, each place with half the ribbon's thickness there.
fn rim(bow: &Bow, ribbon: &Ribbon) -> Vec<(DVec3, f64)> {
    let edges = |rows: Vec<Vec<DVec3>>, arm: &Arm| -> Vec<(DVec3, f64)> {
        let last = rows.len().saturating_sub(1);
        let thick = ribbon.thicknesses(&rows);
        let kept = rows.iter().zip(thick).enumerate().flat_map(|(number, (row, thick))| {
            let step = if number == last { 1 } else { (row.len().saturating_sub(1) / 4).max(1) };
            row.iter().step_by(step).map(move |at| (*at, thick / 2.0))
        });
        kept.map(|(at, half)| (arm.pose.transform_point3(at), half)).collect()
    };
    let loops = loops(bow).into_iter().flat_map(|arm| edges(ribbon.loop_rows(arm.outer), &arm));
    let tails = tails(bow).into_iter().flat_map(|arm| edges(ribbon.tail_rows(arm.outer), &arm));
    loops.chain(tails).collect()
}

pub(super) fn measure(bow: &Bow, posture: Posture) -> PieceMeasure {
    let ribbon = Ribbon::of(bow);
    let strips = strips(bow, &ribbon);
    let mut volumes = Vec::new();
    for cut in &strips {
        let away = if cut.end == CutEnd::Square { 0.0 } else { ribbon.cut_away() };
        let area = cut.length.as_mm() * cut.width.as_mm() - away;
        add(&mut volumes, &bow.finish, area * cut.thickness.as_mm() * f64::from(cut.count));
    }
    let (rim, knot) = (rim(bow, &ribbon), knot::half(&ribbon));
    let box_of_knot = [DVec3::new(-knot.x, -knot.y, 0.0), DVec3::new(knot.x, knot.y, 2.0 * knot.z)];
    let (low, high) = rim
        .iter()
        .copied()
        .chain(box_of_knot.map(|at| (at, 0.0)))
        .fold((DVec3::MAX, DVec3::MIN), |(low, high), (at, half)| (low.min(at - half), high.max(at + half)));
    let [wide, tall, reach] = [high.x - low.x, high.y - low.y, high.z].map(Length::mm);
    let corners = rim.iter().flat_map(|(at, half)| square_round(at.truncate(), *half));
    let corners = corners.chain(square_round(DVec2::ZERO, knot.x.min(knot.y))).map(|at| posture.on_seat(at));
    PieceMeasure {
        size: match posture {
            Posture::OnTop => PieceSize { width: wide, height: reach, depth: tall },
            Posture::OnSide => PieceSize { width: wide, height: tall, depth: reach },
        },
        reach,
        neutral: ribbon.knot,
        volumes,
        footprint: hull(corners.collect()),
        cuts: strips,
        shortfalls: shortfalls(&ribbon),
        ..PieceMeasure::default()
    }
}

/// A ribbon too narrow for its thickness, loops too short for it.
fn shortfalls(ribbon: &Ribbon) -> Vec<Shortfall> {
    let bends = [Bend::Ribbon, Bend::Loop].into_iter().zip(ribbon.eased);
    let told = bends.filter_map(|(what, eased)| {
        let [asked, drawn] = eased?.map(Length::mm);
        Some(Shortfall::Bend { what, asked, drawn, wide: Length::mm(ribbon.thickness) })
    });
    told.collect()
}

/// The strips that are cut: what is gathered under the knot is cut at its full width.
fn strips(bow: &Bow, ribbon: &Ribbon) -> Vec<Cut> {
    let strip = |what: &'static str, length: f64, count: usize| Cut {
        what: what.into(),
        length: Length::mm(length),
        width: Length::mm(ribbon.width),
        thickness: bow.thickness,
        count: u32::try_from(count).unwrap_or(u32::MAX),
        finish: bow.finish.clone(),
        end: CutEnd::Square,
    };
    let end = match bow.cut {
        TailCut::Straight => CutEnd::Square,
        TailCut::Slant => CutEnd::Slant,
        TailCut::Notch => CutEnd::Notch,
    };
    let mut strips = vec![strip("loop", ribbon.loop_strip(), loops(bow).len())];
    let tails = tails(bow).len();
    if tails > 0 {
        strips.push(Cut { end, ..strip("tail", ribbon.tail_strip(), tails) });
    }
    strips.push(Cut { width: Length::mm(knot::WIDTH * ribbon.width), ..strip("knot", knot::strip(ribbon), 1) });
    strips
}

/// The strips as they lie before they are gathered.
pub(super) fn templates(bow: &Bow) -> Vec<Template> {
    let ribbon = Ribbon::of(bow);
    let cuts = strips(bow, &ribbon);
    cuts.iter()
        .map(|cut| if cut.what == "tail" { ended(cut, ribbon.end_cut()) } else { Template::strip(cut) })
        .collect()
}

pub(super) fn parts(bow: &Bow, posture: Posture) -> Vec<Part> {
    let ribbon = Ribbon::of(bow);
    let part = |name: String, mesh: Arc<Mesh>, pose: DAffine3| {
        Part::new(name, mesh, &bow.finish).at(posture.laid() * pose).held(Hold::Soft)
    };
    // One body for all that look to one side.
    let both = |make: &dyn Fn(f64) -> Mesh| [1.0, -1.0].map(|outer| Arc::new(make(outer)));
    let arms = |arms: Vec<Arm>, [right, left]: [Arc<Mesh>; 2]| {
        let pick = move |outer: f64| if outer > 0.0 { right.clone() } else { left.clone() };
        arms.into_iter().map(move |arm| (arm.name, pick(arm.outer), arm.pose)).collect::<Vec<_>>()
    };
    let tails = arms(tails(bow), both(&|outer| ribbon.mesh(&ribbon.tail_rows(outer))));
    let loops = arms(loops(bow), both(&|outer| ribbon.mesh(&ribbon.loop_rows(outer))));
    let knot = ("knot".to_owned(), Arc::new(knot::mesh(&ribbon)), DAffine3::IDENTITY);
    tails.into_iter().chain(loops).chain([knot]).map(|(name, mesh, pose)| part(name, mesh, pose)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cake::pieces::trial;

    fn bow(loops: u32, cut: TailCut) -> Bow {
        Bow {
            ribbon: Length::mm(25.0),
            loops,
            loop_length: Length::mm(48.0),
            tails: 2,
            tail_length: Length::mm(60.0),
            cut,
            mirror: false,
            thickness: Length::mm(2.5),
            finish: "sea".into(),
        }
    }

    #[test]
    fn bows_are_closed_and_as_heavy_as_their_strips() {
        for (loops, cut) in [(2, TailCut::Slant), (1, TailCut::Straight), (5, TailCut::Notch)] {
            for mirror in [false, true] {
                let bow = Bow { mirror, ..bow(loops, cut) };
                for posture in [Posture::OnTop, Posture::OnSide] {
                    let measured = measure(&bow, posture);
                    let parts = parts(&bow, posture);
                    trial::agree(&measured, &parts, 0.05);
                    let (low, high) = trial::bounds(&parts);
                    assert!(low.dot(posture.out()) > -0.6, "{low}");
                    assert!((high.dot(posture.out()) - measured.reach.as_mm()).abs() < 1.5, "{high} {measured:?}");
                }
            }
        }
    }

    #[test]
    fn a_mirrored_bow_is_the_other_way_round() {
        let plain = bow(2, TailCut::Slant);
        let [plain, mirrored] = [plain.clone(), Bow { mirror: true, ..plain }].map(|bow| {
            let measured = measure(&bow, Posture::OnSide);
            let (low, high) = trial::bounds(&parts(&bow, Posture::OnSide));
            (measured, low, high)
        });
        assert_eq!(plain.0.cuts, mirrored.0.cuts);
        assert!((plain.1.x + mirrored.2.x).abs() < 0.01 && (plain.2.x + mirrored.1.x).abs() < 0.01);
        // Made by hand, its two loops don't lie quite alike.
        let parts = parts(&bow(2, TailCut::Slant), Posture::OnSide);
        let [right, left] = [2, 3].map(|number: usize| trial::bounds(&parts[number..=number]).1.y);
        assert!((right - left).abs() > 1.0, "{right} {left}");
    }

    /// Arc length by Simpson's rule over a fine division: a second way than adding up chords.
    fn simpson(curve: impl Fn(f64) -> DVec3) -> f64 {
        let speed = |share: f64| (curve(share + 1e-6) - curve(share - 1e-6)).length() / 2e-6;
        let steps = 2000_u32;
        let weight = |step: u32| match step {
            0 | 2000 => 1.0,
            _ if step % 2 == 1 => 4.0,
            _ => 2.0,
        };
        (0..=steps).map(|step| weight(step) * speed(f64::from(step) / f64::from(steps))).sum::<f64>()
            / f64::from(3 * steps)
    }

    #[test]
    fn strips_are_as_long_as_the_curves_they_become() {
        let bow = bow(2, TailCut::Slant);
        let (measured, ribbon) = (measure(&bow, Posture::OnSide), Ribbon::of(&bow));
        let length = |what: &str| measured.cuts.iter().find(|cut| cut.what == what).unwrap().length.as_mm();
        let loop_line = simpson(|share| ribbon.loop_at(share).extend(0.0));
        let tail_line = simpson(|share| ribbon.tail_at((share, 1.0)));
        assert!((length("loop") / loop_line - 1.0).abs() < 1e-3, "{} {loop_line}", length("loop"));
        assert!((length("tail") / tail_line - 1.0).abs() < 1e-3, "{} {tail_line}", length("tail"));
        let half = knot::half(&ribbon) - ribbon.thickness / 2.0;
        let knot_line = simpson(|share| {
            let (sin, cos) = (std::f64::consts::TAU * share).sin_cos();
            DVec3::new(0.0, half.y * cos, half.z * sin)
        });
        assert!((length("knot") / knot_line - 1.0).abs() < 1e-3);
        assert!(length("loop") > 2.0 * 48.0 && length("loop") < 3.0 * 48.0);
        assert_eq!(measured.cuts[1].end, CutEnd::Slant);
    }
}

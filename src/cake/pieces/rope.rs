//! A free rope: a rolled line or ring, or a row of touching pearls.

use std::f64::consts::{PI, TAU};

use glam::{DAffine3, DVec2, DVec3};

use super::ball;
use super::measures::{circle, rectangle};
use super::{Cut, Hold, Part, PieceMeasure, PieceSize, Posture, Stock};
use crate::design::model::pieces::{Rope, RopeLine};
use crate::measure::Length;
use crate::shapes::build::{tube, tube_round};

/// Greatest length of a face along a rope, mm.
const FACET: f64 = 2.5;

pub(super) fn measure(rope: &Rope, posture: Posture) -> PieceMeasure {
    let thick = rope.diameter;
    let (long, wide, middle) = match rope.line {
        RopeLine::Straight(length) => (length.max(thick), thick, length.max(thick)),
        RopeLine::Ring(across) => (across + thick, across + thick, across * PI),
    };
    let half = DVec2::new(long.as_mm(), wide.as_mm()) / 2.0;
    let volume =
        if rope.pearls { pearls(rope).len() as f64 * ball::volume(thick.as_mm()) } else { rolled_volume(rope) };
    let cut = Cut {
        what: if rope.pearls { "pearls".into() } else { "rope".into() },
        length: middle,
        width: thick,
        thickness: thick,
        count: if rope.pearls { u32::try_from(pearls(rope).len()).unwrap_or(u32::MAX) } else { 1 },
        finish: rope.finish.clone(),
    };
    PieceMeasure {
        size: match posture {
            Posture::OnTop => PieceSize { width: long, height: thick, depth: wide },
            Posture::OnSide => PieceSize { width: long, height: wide, depth: thick },
        },
        reach: thick,
        volumes: vec![(rope.finish.clone(), volume)],
        footprint: match rope.line {
            RopeLine::Straight(_) => rectangle(-half, half),
            RopeLine::Ring(_) => circle(half.x),
        },
        cuts: vec![cut],
        ..PieceMeasure::default()
    }
}

/// A cylinder with two half balls for ends, or a ring (Pappus: π r² · π D), mm³.
fn rolled_volume(rope: &Rope) -> f64 {
    let thick = rope.diameter.as_mm();
    let section = PI * thick * thick / 4.0;
    match rope.line {
        RopeLine::Straight(length) => section * (length.as_mm() - thick).max(0.0) + ball::volume(thick),
        RopeLine::Ring(across) => section * PI * across.as_mm(),
    }
}

/// Centres of the pearls: (x, y) in the line's own plane, mm.
fn pearls(rope: &Rope) -> Vec<DVec2> {
    let thick = rope.diameter.as_mm().max(1e-3);
    match rope.line {
        RopeLine::Straight(length) => {
            let count = (length.as_mm() / thick + 1e-9).floor().clamp(1.0, MOST);
            (0..count as u32).map(|n| DVec2::new((f64::from(n) - (count - 1.0) / 2.0) * thick, 0.0)).collect()
        }
        RopeLine::Ring(across) => {
            // Balls that touch stand a chord of one diameter apart.
            let half_step = (thick / across.as_mm().max(thick)).asin();
            let count = (PI / half_step + 1e-9).floor().clamp(1.0, MOST);
            (0..count as u32).map(|n| DVec2::from_angle(TAU * f64::from(n) / count) * (across.as_mm() / 2.0)).collect()
        }
    }
}

/// More pearls than this are no row that anybody lays.
const MOST: f64 = 20_000.0;

pub(super) fn parts(rope: &Rope, posture: Posture, stock: &mut Stock) -> Vec<Part> {
    let radius = rope.diameter.as_mm() / 2.0;
    if rope.pearls {
        let places = pearls(rope).into_iter().zip(1..);
        return places
            .map(|(at, number)| {
                let pose = DAffine3::from_translation(posture.laid().transform_point3(at.extend(radius)));
                Part::ball(format!("pearl {number}"), 2.0 * radius, &rope.finish, stock).at(pose).held(Hold::Placed)
            })
            .collect();
    }
    let mesh = match rope.line {
        RopeLine::Straight(length) => {
            let half = ((length - rope.diameter) / 2.0).max(Length::mm(0.01)).as_mm();
            let steps = (2.0 * half / FACET).ceil().clamp(1.0, MOST) as u32;
            let at = |step: u32| DVec3::new(half * (2.0 * f64::from(step) / f64::from(steps) - 1.0), 0.0, radius);
            tube(&(0..=steps).map(at).collect::<Vec<_>>(), radius)
        }
        RopeLine::Ring(across) => {
            let steps = (across.as_mm() * PI / FACET).ceil().clamp(48.0, MOST) as u32;
            let at = |step: u32| {
                (DVec2::from_angle(TAU * f64::from(step) / f64::from(steps)) * (across.as_mm() / 2.0)).extend(radius)
            };
            tube_round(&(0..steps).map(at).collect::<Vec<_>>(), radius)
        }
    };
    vec![Part::new("rope", mesh, &rope.finish).at(posture.laid()).held(Hold::Soft)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cake::pieces::trial;

    fn rope(line: RopeLine, pearls: bool) -> Rope {
        Rope { diameter: Length::mm(6.0), line, pearls, finish: "gold".into() }
    }

    #[test]
    fn lines_and_rings_are_as_heavy_as_measured_and_lie_on_their_seat() {
        for line in [RopeLine::Straight(Length::mm(80.0)), RopeLine::Ring(Length::mm(50.0))] {
            for pearls in [false, true] {
                for posture in [Posture::OnTop, Posture::OnSide] {
                    let rope = rope(line, pearls);
                    let measured = measure(&rope, posture);
                    let parts = parts(&rope, posture, &mut Stock::default());
                    trial::agree(&measured, &parts, 0.02);
                    let (low, high) = trial::bounds(&parts);
                    assert!(low.dot(posture.out()).abs() < 0.1 && (high.dot(posture.out()) - 6.0).abs() < 0.1);
                }
            }
        }
    }

    #[test]
    fn pearls_touch_and_none_overlap() {
        assert_eq!(pearls(&rope(RopeLine::Straight(Length::mm(80.0)), true)).len(), 13);
        let ring = pearls(&rope(RopeLine::Ring(Length::mm(50.0)), true));
        let gap = ring[0].distance(ring[1]);
        assert!((6.0..6.3).contains(&gap), "{gap}");
    }
}

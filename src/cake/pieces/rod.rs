//! A rod: round segments from the foot up, on a stick. The frame's up is the rod's own axis; how it leans is the cake's affair.

use std::f64::consts::PI;

use glam::{DVec2, DVec3};

use super::measures::circle;
use super::{Cut, Part, PickKind, PickMeasure, PieceMeasure, PieceSize, Posture, Stock};
use crate::design::model::pieces::{Rod, RodPart};
use crate::measure::Length;
use crate::shapes::build::{bar, lathe};

/// Radius of the edges of a segment, mm.
const SOFT: f64 = 0.8;

/// The stick goes so far up the rod, as a share of it (common practice, no source).
const STICK_SHARE: f64 = 0.8;

pub(super) fn measure(rod: &Rod, posture: Posture) -> PieceMeasure {
    let length = length(rod);
    let widest = rod.parts.iter().map(|part| part.from.max(part.to)).fold(Length::ZERO, Length::max);
    let foot = rod.parts.first().map_or(Length::ZERO, |part| part.from);
    let mut volumes: Vec<(String, f64)> = Vec::new();
    for part in &rod.parts {
        super::measures::add(&mut volumes, &part.finish, volume(part));
    }
    PieceMeasure {
        size: match posture {
            Posture::OnTop => PieceSize { width: widest, height: length, depth: widest },
            Posture::OnSide => PieceSize { width: widest, height: widest, depth: length },
        },
        reach: length,
        volumes,
        picks: stick(rod, posture).into_iter().collect(),
        footprint: circle(foot.as_mm() / 2.0),
        cuts: rod.parts.iter().map(cut).collect(),
        ..PieceMeasure::default()
    }
}

fn length(rod: &Rod) -> Length {
    rod.parts.iter().map(|part| part.length).sum()
}

/// π h (a² + ab + b²) / 3 with the two radii, mm³.
fn volume(part: &RodPart) -> f64 {
    let (from, to) = (part.from.as_mm() / 2.0, part.to.as_mm() / 2.0);
    PI * part.length.as_mm() * (from * from + from * to + to * to) / 3.0
}

fn cut(part: &RodPart) -> Cut {
    let thickness = part.from.max(part.to);
    Cut {
        what: "segment".into(),
        length: part.length,
        width: thickness,
        thickness,
        count: 1,
        finish: part.finish.clone(),
    }
}

fn stick(rod: &Rod, posture: Posture) -> Option<PickMeasure> {
    let stick = rod.stick?;
    let into_piece = length(rod) * STICK_SHARE;
    Some(PickMeasure {
        kind: PickKind::Stick,
        diameter: stick.diameter,
        length: into_piece + stick.into_board,
        into_piece,
        into_cake: stick.into_board,
        entry: DVec3::ZERO,
        toward: -posture.out(),
    })
}

/// The segments from the foot up: each one's profile (radius, up from the rod's foot), mm.
fn profiles(rod: &Rod) -> Vec<Vec<DVec2>> {
    let mut foot = 0.0;
    let profile = |segment: &RodPart| {
        let radii = [segment.from, segment.to].map(|across| across.as_mm() / 2.0);
        let length = segment.length.as_mm();
        let raised = bar(radii, length, SOFT).into_iter().map(|at| at + DVec2::Y * foot).collect();
        foot += length;
        raised
    };
    rod.parts.iter().map(profile).collect()
}

/// Places of a rod's outside (radius, up from its foot), mm: round its axis they enclose it.
#[must_use]
pub fn rod_profile(rod: &Rod) -> Vec<DVec2> {
    profiles(rod).into_iter().flatten().collect()
}

/// How thick a rod is at a height along its axis: the radius, mm; that of its end beyond its ends.
#[must_use]
pub fn rod_radius(rod: &Rod, up: f64) -> f64 {
    let mut foot = 0.0;
    for part in &rod.parts {
        let (from, to, length) = (part.from.as_mm(), part.to.as_mm(), part.length.as_mm());
        if up <= foot + length {
            let share = ((up - foot) / length.max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
            return (from + (to - from) * share) / 2.0;
        }
        foot += length;
    }
    rod.parts.last().map_or(0.0, |part| part.to.as_mm() / 2.0)
}

pub(super) fn parts(rod: &Rod, posture: Posture, stock: &mut Stock) -> Vec<Part> {
    let mut parts = Vec::new();
    for ((segment, profile), number) in rod.parts.iter().zip(profiles(rod)).zip(1..) {
        parts.push(Part::new(format!("segment {number}"), lathe(&profile), &segment.finish).at(posture.raised()));
    }
    parts.extend(stick(rod, posture).map(|pick| stock.pick("stick", &pick)));
    parts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cake::pieces::trial;
    use crate::design::model::pieces::Stick;

    #[test]
    fn an_oar_is_as_long_as_its_segments_and_stands_on_its_stick() {
        let part = |length: f64, from: f64, to: f64, finish: &str| RodPart {
            length: Length::mm(length),
            from: Length::mm(from),
            to: Length::mm(to),
            finish: finish.into(),
        };
        let parts_of_oar =
            vec![part(120.0, 9.0, 9.0, "wood"), part(38.0, 12.0, 25.0, "white"), part(4.0, 25.0, 25.0, "wood")];
        let stick = Some(Stick { diameter: Length::mm(3.0), into_board: Length::mm(9.0) });
        let rod = Rod { leans_on: None, parts: parts_of_oar, stick };
        for posture in [Posture::OnTop, Posture::OnSide] {
            let measured = measure(&rod, posture);
            assert_eq!(measured.reach, Length::mm(162.0));
            assert_eq!(measured.volumes.len(), 2);
            let parts = parts(&rod, posture, &mut Stock::default());
            trial::agree(&measured, &parts, 0.03);
            let (low, high) = trial::bounds(&parts);
            assert!((low.dot(posture.out()) + 9.0).abs() < 1e-6 && (high.dot(posture.out()) - 162.0).abs() < 1e-6);
        }
    }
}

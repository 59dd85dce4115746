//! A rod: round segments from the foot up, on a stick. On a top the frame's up is the rod's own axis, how it leans is the cake's
//! affair; on a side it lies upright against it.

use std::f64::consts::PI;

use glam::{DAffine3, DVec2, DVec3};

use super::measures::{circle, hull};
use super::{Cut, CutEnd, Part, PickKind, PickMeasure, PieceMeasure, PieceSize, Posture, Stock};
use crate::design::model::pieces::{Rod, RodPart};
use crate::measure::{Angle, Length};
use crate::shapes::Mesh;
use crate::shapes::build::{bar, bend, lathe};

/// Radius of the edges of a segment, mm.
const SOFT: f64 = 0.8;

/// The stick goes so far up the rod, as a share of it (common practice, no source).
const STICK_SHARE: f64 = 0.8;

pub(super) fn measure(rod: &Rod, posture: Posture) -> PieceMeasure {
    let length = length(rod);
    let widest = widest(rod);
    let foot = rod.parts.first().map_or(Length::ZERO, |part| part.from);
    let mut volumes: Vec<(String, f64)> = Vec::new();
    for part in &rod.parts {
        super::measures::add(&mut volumes, &part.finish, volume(part));
    }
    PieceMeasure {
        size: PieceSize { width: widest, height: length, depth: widest },
        reach: if posture == Posture::OnTop { length } else { widest },
        volumes,
        picks: stick(rod, posture).into_iter().collect(),
        footprint: match posture {
            Posture::OnTop => circle(foot.as_mm() / 2.0),
            Posture::OnSide => silhouette(rod),
        },
        cuts: rod.parts.iter().map(cut).collect(),
        ..PieceMeasure::default()
    }
}

/// The measure of a rod that leans by `angle`: its foot is cut so that it stands flat on the board, which takes a longer first
/// segment and makes a longer footprint.
#[must_use]
pub fn foot_cut(rod: &Rod, angle: Angle, mut measure: PieceMeasure) -> PieceMeasure {
    let radius = rod.parts.first().map_or(Length::ZERO, |part| part.from / 2.0);
    if let Some(cut) = measure.cuts.first_mut() {
        cut.length += radius * angle.as_radians().tan().min(STEEPEST_CUT);
    }
    // The footprint is drawn on a plane square to the axis; seen from above it shrinks by the cosine once.
    let stretch = angle.as_radians().cos().max(0.1).powi(-2);
    let footprint = measure.footprint.iter().map(|at| DVec2::new(at.x, at.y * stretch)).collect();
    PieceMeasure { foot: angle, footprint, ..measure }
}

/// A foot is cut no further from square than this (the tangent).
const STEEPEST_CUT: f64 = 3.0;

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
        end: CutEnd::Square,
    }
}

fn stick(rod: &Rod, posture: Posture) -> Option<PickMeasure> {
    let stick = rod.stick?;
    let into_piece = length(rod) * STICK_SHARE;
    // What lies against a side is held by its paste there; its stick only stiffens it.
    let into_cake = if posture == Posture::OnTop { stick.into_board } else { Length::ZERO };
    let foot = posture.upright(widest(rod).as_mm() / 2.0, length(rod).as_mm()).translation;
    Some(PickMeasure {
        kind: PickKind::Stick,
        diameter: stick.diameter,
        length: into_piece + into_cake,
        into_piece,
        into_cake,
        entry: foot,
        toward: -DVec3::Y,
    })
}

fn widest(rod: &Rod) -> Length {
    rod.parts.iter().map(|part| part.from.max(part.to)).fold(Length::ZERO, Length::max)
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

/// A rod seen from in front, about its middle.
fn silhouette(rod: &Rod) -> Vec<DVec2> {
    let middle = DVec2::Y * (length(rod).as_mm() / 2.0);
    hull(rod_profile(rod).into_iter().flat_map(|at| [at, DVec2::new(-at.x, at.y)]).map(|at| at - middle).collect())
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

pub(super) fn parts(rod: &Rod, (posture, foot): (Posture, Angle), stock: &mut Stock) -> Vec<Part> {
    let mut parts = Vec::new();
    let pose = posture.upright(widest(rod).as_mm() / 2.0, length(rod).as_mm());
    for ((segment, profile), number) in rod.parts.iter().zip(profiles(rod)).zip(1..) {
        let mut mesh = lathe(&profile);
        if number == 1 && foot != Angle::ZERO {
            mesh = with_foot(&mesh, (segment.length.as_mm() / 2.0, foot));
        }
        parts.push(Part::new(format!("segment {number}"), mesh, &segment.finish).at(pose));
    }
    parts.extend(stick(rod, posture).map(|pick| stock.pick("stick", &pick)));
    parts
}

/// The first segment with its foot (everything below `middle`) cut level for a rod that leans away from +Z.
fn with_foot(mesh: &Mesh, (middle, foot): (f64, Angle)) -> Mesh {
    let slope = foot.as_radians().tan().min(STEEPEST_CUT);
    bend(mesh, &DAffine3::IDENTITY, &[], |at| if at.y < middle { at - DVec3::Y * (at.z * slope) } else { at })
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
            assert_eq!(measured.volumes.len(), 2);
            let parts = parts(&rod, (posture, Angle::ZERO), &mut Stock::default());
            trial::agree(&measured, &parts, 0.03);
            let (low, high) = trial::bounds(&parts);
            match posture {
                Posture::OnTop => assert!((low.y + 9.0).abs() < 1e-6 && (high.y - 162.0).abs() < 1e-6),
                // It lies against the side with its thickest part, and sticks into nothing.
                Posture::OnSide => {
                    assert!(low.z.abs() < 0.1 && (high.z - 25.0).abs() < 0.1 && (low.y + 81.0).abs() < 1e-6);
                }
            }
        }
    }

    #[test]
    fn a_rod_is_what_its_radius_turned_round_its_axis_makes() {
        let part = |length: f64, from: f64, to: f64| RodPart {
            length: Length::mm(length),
            from: Length::mm(from),
            to: Length::mm(to),
            finish: "wood".into(),
        };
        let rod = Rod { leans_on: None, parts: vec![part(60.0, 9.0, 5.0), part(24.0, 5.0, 21.0)], stick: None };
        // By Simpson's rule over each segment: ∫ π r² for what it holds, ∫ √(1 + r'²) for how long its side is.
        let simpson = |(from, to): (f64, f64), value: &dyn Fn(f64) -> f64| -> f64 {
            let step = (to - from) / 600.0;
            let weight = |number: u32| if number.is_multiple_of(600) { 1.0 } else { 2.0 + 2.0 * f64::from(number % 2) };
            (0..=600).map(|number| weight(number) * value(from + step * f64::from(number))).sum::<f64>() * step / 3.0
        };
        let (inner, spans) = (1e-6, [(0.0, 60.0), (60.0, 84.0)]);
        let within = spans.map(|(from, to)| (from + inner, to - inner));
        let holds = within.map(|span| simpson(span, &|up| PI * rod_radius(&rod, up).powi(2)));
        let side = within.map(|span| {
            let slope = |up: f64| (rod_radius(&rod, up + 1e-7) - rod_radius(&rod, up - 1e-7)) / 2e-7;
            simpson(span, &|up| (1.0 + slope(up).powi(2)).sqrt())
        });
        let measured = measure(&rod, Posture::OnTop);
        assert!(
            (measured.volumes[0].1 / holds.iter().sum::<f64>() - 1.0).abs() < 1e-6,
            "{holds:?} {:?}",
            measured.volumes
        );
        for (((part, cut), side), (from, to)) in rod.parts.iter().zip(&measured.cuts).zip(side).zip(spans) {
            let slant = (part.to.as_mm() - part.from.as_mm()) / 2.0;
            assert!((cut.length.as_mm() - (to - from)).abs() < 1e-9);
            assert!((side - (to - from).hypot(slant)).abs() < 1e-4, "{side}");
        }
    }

    #[test]
    fn a_leaning_foot_is_cut_level() {
        let segment =
            RodPart { length: Length::mm(120.0), from: Length::mm(10.0), to: Length::mm(10.0), finish: "wood".into() };
        let rod = Rod { leans_on: Some("base".into()), parts: vec![segment], stick: None };
        let angle = Angle::degrees(30.0);
        let measured = foot_cut(&rod, angle, measure(&rod, Posture::OnTop));
        assert!((measured.cuts[0].length.as_mm() - 120.0 - 5.0 * angle.as_radians().tan()).abs() < 1e-9);
        let parts = parts(&rod, (Posture::OnTop, measured.foot), &mut Stock::default());
        trial::agree(&measured, &parts, 0.03);
        // Leant towards -Z, every corner of the foot lies on the board or, where its edge is soft, hardly above it.
        let lowest = |at: &DVec3| at.y * angle.as_radians().cos() + at.z * angle.as_radians().sin();
        let heights: Vec<f64> = parts[0].mesh.positions.iter().filter(|at| at.y < 60.0).map(lowest).collect();
        assert!(heights.iter().all(|up| (-1e-9..=SOFT + 1e-9).contains(up)), "{heights:?}");
    }
}

//! A cluster of flowers: a dome of simple blooms with leaves round its foot.

use std::f64::consts::{PI, TAU};

use glam::{DAffine3, DQuat, DVec2, DVec3};

use super::super::Part;
use crate::art::Colour;
use crate::design::model::pieces::Solid;
use crate::shapes::Mesh;
use crate::shapes::build::{bend, dome, lathe, sheet, sphere};

const LEAF: Colour = Colour::new(0x6f, 0x8f, 0x58);
const HEART: Colour = Colour::new(0xe9, 0xc4, 0x5a);

/// From one bloom of a spiral to the next: the golden angle.
const GOLDEN: f64 = 2.399_963_229_728_653;

/// The cluster's measures, mm.
struct Cluster {
    radius: f64,
    tall: f64,
    bloom: f64,
    count: u32,
}

impl Cluster {
    fn of(solid: &Solid) -> Self {
        let (radius, tall) = (solid.across.as_mm() / 2.0, solid.height.as_mm());
        let single = radius < 12.5;
        let bloom = if single { 2.0 * radius } else { (0.8 * radius).clamp(11.0, 26.0) };
        // A dome's area, roughly, over the share of a bloom that is not covered by its neighbours.
        let area = PI * radius * (radius + tall);
        let count = if single { 1.0 } else { (area / (0.75 * bloom * bloom)).round().clamp(5.0, 60.0) };
        Self { radius, tall, bloom, count: count as u32 }
    }

    /// Where each bloom sits and looks to: a golden spiral from the top of the dome down.
    fn blooms(&self) -> Vec<DAffine3> {
        let wide = (self.radius - 0.42 * self.bloom).max(0.0);
        let high = (self.tall - 0.3 * self.bloom).max(0.1);
        let pose = |number: u32| {
            let share = (f64::from(number) + 0.25) / f64::from(self.count);
            let up = 1.0 - 0.85 * share * f64::from(u32::from(self.count > 1));
            let (sin, cos) = (GOLDEN * f64::from(number)).sin_cos();
            let round = (1.0 - up * up).max(0.0).sqrt();
            let at = DVec3::new(wide * round * sin, high * up, wide * round * cos);
            let look =
                DVec3::new(sin * round / wide.max(1.0), up / high, cos * round / wide.max(1.0)).normalize_or(DVec3::Y);
            let turn = DQuat::from_rotation_arc(DVec3::Y, look) * DQuat::from_rotation_y(1.3 * f64::from(number));
            DAffine3::from_rotation_translation(turn, at)
        };
        (0..self.count).map(pose).collect()
    }

    /// The meshes, stretched a little so that together they fill the space they are given.
    fn fitted<const N: usize>(&self, meshes: [Mesh; N]) -> [Mesh; N] {
        let places = || meshes.iter().flat_map(|mesh| &mesh.positions);
        let wide = places().map(|at| at.x.hypot(at.z)).fold(1e-6, f64::max);
        let low = places().map(|at| at.y).fold(0.0, f64::min);
        let high = places().map(|at| at.y).fold(1e-6, f64::max);
        let (across, up) = (self.radius / wide, self.tall / (high - low));
        let fit = |at: DVec3| DVec3::new(at.x * across, (at.y - low) * up, at.z * across);
        meshes.map(|mesh| bend(&mesh, fit))
    }
}

pub(super) fn parts(solid: &Solid) -> Vec<Part> {
    let cluster = Cluster::of(solid);
    let blooms = cluster.blooms();
    let (petals, heart) = (corolla(cluster.bloom), heart(cluster.bloom));
    let mut all = [Mesh::default(), Mesh::default()];
    for pose in &blooms {
        for (all, one) in all.iter_mut().zip([&petals, &heart]) {
            all.add(one, pose);
        }
    }
    let [petals, hearts] = all;
    let [petals, hearts, leaves] = cluster.fitted([petals, hearts, leaves(&cluster)]);
    vec![
        Part::new("petals", petals, &solid.finish),
        Part::new("hearts", hearts, "").painted(HEART),
        Part::new("leaves", leaves, "").painted(LEAF),
    ]
}

/// Two rings of five petals about +Y, the inner one steeper.
fn corolla(bloom: f64) -> Mesh {
    let mut mesh = Mesh::default();
    let rings = [(0.5, 0.36, 0.22, 0.0), (0.36, 0.3, 0.75, PI / 5.0)];
    for (length, width, rise, turn) in rings {
        let petal = petal(bloom * length, bloom * width, rise);
        for number in 0..5 {
            mesh.add(&petal, &DAffine3::from_rotation_y(turn + TAU * f64::from(number) / 5.0));
        }
    }
    mesh
}

/// A petal along +Z: narrow at its foot, broad towards its tip, its rim a little up.
fn petal(length: f64, width: f64, rise: f64) -> Mesh {
    blade(length, |share| width * (0.18 + 0.82 * (PI * (0.9 * share).powf(0.8) + 0.05).sin().max(0.0).powf(0.7)), rise)
}

/// A leaf along +Z: broadest in its middle, pointed.
fn leaf(length: f64) -> Mesh {
    blade(length, |share| 0.42 * length * (0.12 + 0.88 * (PI * share.powf(0.85)).sin().max(0.0)), 0.1)
}

/// A blade along +Z whose width is given by the share of its length; it rises by `rise` of its length and is cupped.
fn blade(length: f64, width: impl Fn(f64) -> f64, rise: f64) -> Mesh {
    let thickness = (0.05 * length).clamp(0.4, 1.0);
    let row = |step: u32| {
        let share = f64::from(step) / 7.0;
        let half = (width(share) - thickness).max(0.2) / 2.0;
        let along = (length - thickness / 2.0) * share;
        let up = rise * length * share * (1.6 - 0.6 * share);
        let place = |s: i32| {
            let s = f64::from(s) / 2.0;
            DVec3::new(s * half, up + 0.35 * half * s * s, along)
        };
        (-2..=2).rev().map(place).collect::<Vec<_>>()
    };
    sheet(&(0..=7).map(row).collect::<Vec<_>>(), thickness)
}

/// The flat ball in the middle of a bloom.
fn heart(bloom: f64) -> Mesh {
    let mut mesh = Mesh::default();
    mesh.add(&sphere(0.1 * bloom), &DAffine3::from_translation(DVec3::Y * (0.1 * bloom)));
    mesh
}

/// A green cushion under the blooms, and leaves round its foot.
fn leaves(cluster: &Cluster) -> Mesh {
    let (wide, high) = (0.72 * cluster.radius, 0.7 * cluster.tall);
    let cushion: Vec<DVec2> = std::iter::once(DVec2::ZERO).chain(dome(wide, high, 0.0)).collect();
    let mut mesh = lathe(&cushion);
    let count = (cluster.radius / 4.0).round().clamp(5.0, 11.0);
    let one = leaf(0.55 * cluster.radius);
    for number in 0..count as u32 {
        let turn = DAffine3::from_rotation_y(TAU * f64::from(number) / count + 0.3);
        mesh.add(
            &one,
            &(turn * DAffine3::from_translation(DVec3::new(0.0, 0.06 * cluster.tall, 0.45 * cluster.radius))),
        );
    }
    mesh
}

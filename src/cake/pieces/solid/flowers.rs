//! A cluster of flowers: a dome of simple blooms with leaves round its foot.

use std::f64::consts::{PI, TAU};
use std::sync::Arc;

use glam::{DAffine3, DQuat, DVec2, DVec3};

use super::super::Part;
use crate::art::Colour;
use crate::design::model::pieces::Solid;
use crate::shapes::Mesh;
use crate::shapes::build::{dome, lathe, lathe_in, sheet};

const LEAF: Colour = Colour::new(0x6f, 0x8f, 0x58);
const HEART: Colour = Colour::new(0xe9, 0xc4, 0x5a);

/// From one bloom of a spiral to the next: the golden angle.
const GOLDEN: f64 = 2.399_963_229_728_653;

/// A bloom stands so high, as a share of its width.
const STANDS: f64 = 0.45;

/// The cluster's measures, mm.
struct Cluster {
    radius: f64,
    tall: f64,
    bloom: f64,
    count: u32,
    /// How flat a bloom is pressed: 1 as it grows, less where the cluster is lower than a bloom stands.
    flat: f64,
}

impl Cluster {
    fn of(solid: &Solid) -> Self {
        let (radius, tall) = (solid.across.as_mm() / 2.0, solid.height.as_mm());
        let single = radius < 12.5;
        let bloom = if single { 2.0 * radius } else { (1.2 * radius).clamp(12.0, 22.0) };
        // A dome's area, roughly, over the share of a bloom that is not covered by its neighbours.
        let area = PI * radius * (radius + tall);
        let count = if single { 1.0 } else { (area / (0.62 * bloom * bloom)).round().clamp(4.0, 60.0) };
        Self { radius, tall, bloom, count: count as u32, flat: (tall / (STANDS * bloom)).min(1.0) }
    }

    /// How thick its blades are at most.
    fn thickest(&self) -> f64 {
        0.2 * self.tall
    }

    /// Where each bloom sits and looks to: a golden spiral from the dome's top down.
    fn blooms(&self, &Dome { wide, high, lift }: &Dome) -> Vec<DAffine3> {
        let pose = |number: u32| {
            let share = (f64::from(number) + 0.25) / f64::from(self.count);
            let up = if self.count > 1 { 1.0 - 0.85 * share } else { 1.0 };
            let (sin, cos) = (GOLDEN * f64::from(number)).sin_cos();
            let round = (1.0 - up * up).max(0.0).sqrt();
            let at = DVec3::new(wide * round * sin, lift + high * up, wide * round * cos);
            // In a cluster lower than a bloom is wide, blooms look up: there is no room beneath them to lean.
            let steep = round / wide.max(1.0) * (self.tall / self.bloom).min(1.0).powi(2);
            let look = DVec3::new(sin * steep, up / high.max(1.0), cos * steep).normalize_or(DVec3::Y);
            let turn = DQuat::from_rotation_arc(DVec3::Y, look) * DQuat::from_rotation_y(1.3 * f64::from(number));
            DAffine3::from_rotation_translation(turn, at)
        };
        (0..self.count).map(pose).collect()
    }

    /// The dome on which blooms fill the space they are given.
    fn dome(&self, corolla: &Mesh) -> Dome {
        let mut dome = Dome { wide: self.radius - self.bloom / 2.0, high: self.tall - self.bloom / 3.0, lift: 0.0 };
        for _ in 0..8 {
            let blooms = self.blooms(&dome);
            let places = blooms.iter().flat_map(|pose| corolla.positions.iter().map(|&at| pose.transform_point3(at)));
            let (out, low, up) = places.fold((0.0_f64, self.tall, 0.0_f64), |(out, low, up), at| {
                (out.max(at.x.hypot(at.z)), low.min(at.y), up.max(at.y))
            });
            dome.wide = if self.count > 1 { (dome.wide + self.radius - out).max(0.0) } else { 0.0 };
            dome.high = (dome.high + self.tall - up + low.min(dome.lift)).max(0.0);
            dome.lift = (dome.lift - low).max(0.0);
        }
        dome
    }
}

/// The dome on which blooms sit: half its width, its height, and how far its foot lies above the seat; mm.
struct Dome {
    wide: f64,
    high: f64,
    lift: f64,
}

pub(super) fn parts(solid: &Solid) -> Vec<Part> {
    let cluster = Cluster::of(solid);
    let (petals, heart) = (Arc::new(corolla(&cluster)), Arc::new(heart(&cluster)));
    let dome = cluster.dome(&petals);
    let blooms = cluster.blooms(&dome).into_iter().zip(1..).flat_map(|(pose, number)| {
        let petals = Part::new(format!("petals {number}"), petals.clone(), &solid.finish);
        let heart = Part::new(format!("heart {number}"), heart.clone(), "").painted(HEART);
        [petals, heart].map(|part| part.at(pose))
    });
    blooms.chain([Part::new("leaves", leaves(&cluster, &dome), "").painted(LEAF)]).collect()
}

/// Two rings of five petals about +Y, the inner one steeper.
fn corolla(cluster: &Cluster) -> Mesh {
    let (bloom, flat) = (cluster.bloom, cluster.flat);
    let mut mesh = Mesh::default();
    let rings = [(0.5, 0.36, 0.22, 0.0), (0.36, 0.3, 0.75, PI / 5.0)];
    for (length, width, rise, turn) in rings {
        let blade = Blade { length: bloom * length, rise: flat * rise, thickest: cluster.thickest() };
        let petal = petal(&blade, bloom * width);
        for number in 0..5 {
            mesh.add(&petal, &DAffine3::from_rotation_y(turn + TAU * f64::from(number) / 5.0));
        }
    }
    mesh
}

/// A petal along +Z: narrow at its foot, broad towards its tip, its rim a little up.
fn petal(petal: &Blade, width: f64) -> Mesh {
    blade(petal, |share| width * (0.18 + 0.82 * (PI * (0.9 * share).powf(0.8) + 0.05).sin().max(0.0).powf(0.7)))
}

/// A leaf along +Z: broadest in its middle, pointed.
fn leaf(leaf: &Blade) -> Mesh {
    blade(leaf, |share| 0.5 * leaf.length * (0.12 + 0.88 * (PI * share.powf(0.85)).sin().max(0.0)))
}

/// A petal or leaf, mm: it rises by `rise` of its length.
struct Blade {
    length: f64,
    rise: f64,
    thickest: f64,
}

/// A blade along +Z whose width is given by the share of its length, a little cupped.
fn blade(&Blade { length, rise, thickest }: &Blade, width: impl Fn(f64) -> f64) -> Mesh {
    let thickness = (0.05 * length).clamp(0.4, 1.0).min(thickest);
    let cupped = 0.35_f64.min(rise);
    let row = |step: u32| {
        let share = f64::from(step) / 8.0;
        let half = (width(share) - thickness).max(0.2) / 2.0;
        let along = (length - thickness / 2.0) * share;
        let up = rise * length * share * (1.6 - 0.6 * share);
        let place = |s: i32| {
            let s = f64::from(s) / 2.0;
            DVec3::new(s * half, up + cupped * half * s * s, along)
        };
        (-2..=2).rev().map(place).collect::<Vec<_>>()
    };
    sheet(&(0..=8).map(row).collect::<Vec<_>>(), thickness)
}

/// The flat ball in the middle of a bloom.
fn heart(cluster: &Cluster) -> Mesh {
    let size = 0.1 * cluster.bloom;
    let ball = (0..=8).map(|step| DVec2::from_angle(PI * (f64::from(step) / 8.0 - 0.5)) * size);
    lathe_in(&ball.map(|at| DVec2::new(at.x, cluster.flat * (at.y + 0.9 * size))).collect::<Vec<_>>(), 16)
}

/// A green cushion under the blooms, and leaves round its foot.
fn leaves(cluster: &Cluster, space: &Dome) -> Mesh {
    let cushion = dome(
        (0.9 * space.wide).max(0.3 * cluster.radius),
        (0.9 * (space.high + space.lift)).clamp(0.2 * cluster.tall, cluster.tall),
        0.0,
    );
    let mut mesh = lathe(&std::iter::once(DVec2::ZERO).chain(cushion).collect::<Vec<_>>());
    let count = (cluster.radius / 3.5).round().clamp(5.0, 11.0);
    let length = 0.62 * cluster.radius;
    let rise = 0.1_f64.min(0.5 * cluster.tall / length);
    let one = leaf(&Blade { length, rise, thickest: cluster.thickest() });
    for number in 0..count as u32 {
        let turn = DAffine3::from_rotation_y(TAU * f64::from(number) / count + 0.3);
        let out = DVec3::new(0.0, 0.06 * cluster.tall, 0.38 * cluster.radius);
        mesh.add(&one, &(turn * DAffine3::from_translation(out)));
    }
    mesh
}

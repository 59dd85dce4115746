//! A bow: loops and tails of ribbon paste, gathered under a knot.
//!
//! Seen along the side, one loop is a teardrop: up and out from the knot, round, and back along the seat. The same curve
//! gives the mesh and the length that is cut.
//!
//! ```text
//!        _____
//!      /       \          z out
//!   [o]         |         |
//!      \_______/          o--- r from the knot
//!   ============ seat
//! ```

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use glam::{DAffine3, DVec2, DVec3};

use super::measures::{add, hull};
use super::{Cut, Hold, Part, PieceMeasure, PieceSize, Posture};
use crate::design::model::pieces::{Bow, TailCut};
use crate::measure::Length;
use crate::shapes::Mesh;
use crate::shapes::build::{loft, sheet};

/// Steps along a loop and a tail.
const STEPS: u32 = 40;

/// Steps across the ribbon.
const ACROSS: u32 = 12;

/// The ribbon under the knot, as a share of its width.
const GATHERED: f64 = 0.45;

/// Most loops or tails that are built.
const MOST: u32 = 24;

/// The bow's own measures, mm.
struct Plan {
    width: f64,
    thickness: f64,
    /// How far the middle of the knot's ribbon lies from the seat.
    knot: f64,
    loop_length: f64,
    tail_length: f64,
    cut: TailCut,
}

impl Plan {
    fn of(bow: &Bow) -> Self {
        let (thickness, loop_length) = (bow.thickness.as_mm(), bow.loop_length.as_mm());
        Self {
            width: bow.ribbon.as_mm(),
            thickness,
            knot: thickness / 2.0 + 0.77 * LOWER * loop_length,
            loop_length,
            tail_length: bow.tail_length.as_mm(),
            cut: bow.cut,
        }
    }

    /// A place on a loop's middle line: from the knot and out of the seat.
    fn loop_at(&self, share: f64) -> DVec2 {
        let (turn, reach) = ((TAU * share).sin(), (PI * share).sin());
        let swell = if share < 0.5 { UPPER } else { LOWER };
        let end = self.loop_length - self.thickness / 2.0;
        DVec2::new(end * reach * reach, self.knot + swell * self.loop_length * turn * reach)
    }

    /// A place on a tail's middle line.
    fn tail_at(&self, share: f64) -> DVec2 {
        let down = soft_step(share / 0.35);
        let wave = (1.5 * TAU * share).sin().powi(2) * 0.05 * self.tail_length * down;
        let seat = self.thickness / 2.0;
        DVec2::new(self.tail_length * share, seat + (self.knot - seat) * (1.0 - down) + wave)
    }

    /// Half the ribbon's width, so far from the knot as a share of `whole`.
    fn half_width(&self, from_knot: f64, whole: f64) -> f64 {
        let open = soft_step(from_knot / (0.6 * whole).max(1e-6));
        ((GATHERED + (1.0 - GATHERED) * open) * self.width - self.thickness).max(0.1) / 2.0
    }

    /// How far a fold stands out of the ribbon's middle surface.
    fn fold(&self, from_knot: f64, whole: f64, across: f64) -> f64 {
        let gathered = 1.0 - soft_step(from_knot / (0.75 * whole).max(1e-6));
        0.06 * self.width * gathered * (TAU * across).cos()
    }

    /// Share of a tail's length that is left at this place across it, from -1 to 1.
    fn tail_end(&self, across: f64) -> f64 {
        let deep = match self.cut {
            TailCut::Straight => 0.0,
            TailCut::Slant => 0.3 * self.width * (1.0 + across),
            TailCut::Notch => 0.45 * self.width * (1.0 - across.abs()),
        };
        (1.0 - deep / self.tail_length.max(1e-6)).max(0.3)
    }

    fn loop_mesh(&self) -> Mesh {
        let shares = |step: u32| f64::from(step) / f64::from(STEPS);
        let row = |step: u32| {
            let (before, after) = (self.loop_at(shares(step) - 1e-4), self.loop_at(shares(step) + 1e-4));
            let out = (after - before).perp().normalize_or_zero();
            let at = self.loop_at(shares(step));
            across().map(move |s| {
                let middle = at + out * self.fold(at.x, self.loop_length, s / 2.0);
                DVec3::new(middle.x, s * self.half_width(at.x, self.loop_length), middle.y)
            })
        };
        let inside = |step: u32| row(step).collect::<Vec<_>>();
        sheet(&(0..=STEPS).map(inside).collect::<Vec<_>>(), self.thickness)
    }

    fn tail_mesh(&self) -> Mesh {
        let row = |step: u32| {
            let share = f64::from(step) / f64::from(STEPS);
            let place = move |s: f64| {
                let at = self.tail_at(share * (self.tail_end(s) - self.thickness / 2.0 / self.tail_length.max(1e-6)));
                let fold = self.fold(at.x, self.tail_length, s / 2.0);
                DVec3::new(at.x, s * self.half_width(at.x, self.tail_length), at.y + fold)
            };
            across().map(place).collect::<Vec<_>>()
        };
        sheet(&(0..=STEPS).map(row).collect::<Vec<_>>(), self.thickness)
    }

    /// Half the knot: along the ribbon, across it, out of the seat.
    fn knot_half(&self) -> DVec3 {
        let out = (self.knot + 1.4 * self.thickness + 0.1 * self.width) / 2.0;
        DVec3::new(0.29 * self.width, 0.31 * self.width, out)
    }

    /// A pillow round the gathered ribbon, with two soft folds round it.
    fn knot_mesh(&self) -> Mesh {
        let half = self.knot_half();
        let round = |value: f64, power: f64| value.abs().powf(power).copysign(value);
        let ring = |step: u32| {
            let angle = PI * f64::from(step) / f64::from(STEPS / 2) - FRAC_PI_2;
            let along = round(angle.sin(), 0.55);
            if step == 0 || step == STEPS / 2 {
                return vec![DVec3::new(half.x * along, 0.0, half.z)];
            }
            let wide = round(angle.cos(), 0.55) * (1.0 - 0.04 * (2.0 * PI * along).cos().powi(2));
            let at = |turn: u32| {
                let (sin, cos) = (TAU * f64::from(turn) / 40.0).sin_cos();
                let around = DVec2::new(round(cos, 0.8) * half.y, round(sin, 0.8) * half.z) * wide;
                DVec3::new(half.x * along, around.x, half.z + around.y)
            };
            (0..40).map(at).collect()
        };
        loft(&(0..=STEPS / 2).map(ring).collect::<Vec<_>>())
    }
}

/// Shares of the loop's length that it swells from and to its seat.
const UPPER: f64 = 0.42;
const LOWER: f64 = 0.16;

/// From 0 to 1 without a corner at either end.
fn soft_step(share: f64) -> f64 {
    let share = share.clamp(0.0, 1.0);
    share * share * (3.0 - 2.0 * share)
}

/// Places across the ribbon, from -1 to 1.
fn across() -> impl Iterator<Item = f64> {
    (0..=ACROSS).map(|step| 2.0 * f64::from(step) / f64::from(ACROSS) - 1.0)
}

/// Length of a curve given by its share.
fn length(curve: impl Fn(f64) -> DVec2) -> f64 {
    let at = |step: u32| curve(f64::from(step) / 200.0);
    (0..200).map(|step| at(step).distance(at(step + 1))).sum()
}

/// Direction of each loop: pairs to either side, an odd one upward.
fn loop_poses(count: u32) -> Vec<DAffine3> {
    let pairs = (count / 2).min(MOST / 2);
    let mut poses = Vec::new();
    for pair in 0..pairs {
        let open = if pairs == 1 { 0.12 } else { 1.1 * (f64::from(pair) / f64::from(pairs - 1) - 0.35) };
        poses.extend([open, PI - open].map(DAffine3::from_rotation_z));
    }
    if count % 2 == 1 {
        poses.push(DAffine3::from_rotation_z(FRAC_PI_2));
    }
    poses
}

/// Direction of each tail, downward.
fn tail_poses(count: u32) -> Vec<DAffine3> {
    let count = count.min(MOST);
    let spread = (0.85 * (f64::from(count) - 1.0)).clamp(0.0, 2.0);
    let share = |tail: u32| if count > 1 { f64::from(tail) / f64::from(count - 1) - 0.5 } else { 0.1 };
    (0..count).map(|tail| DAffine3::from_rotation_z(spread.max(1.0) * share(tail) - FRAC_PI_2)).collect()
}

/// Corners of what loops, tails and knot cover, in the frame of a side.
fn corners(bow: &Bow) -> Vec<DVec2> {
    let half = bow.ribbon.as_mm() / 2.0;
    let strip = |pose: DAffine3, length: f64| {
        let ends = [(0.4 * length, half), (0.4 * length, -half), (length, half), (length, -half)];
        ends.map(|(x, y)| pose.transform_point3(DVec3::new(x, y, 0.0)).truncate())
    };
    let loops = loop_poses(bow.loops).into_iter().flat_map(|pose| strip(pose, bow.loop_length.as_mm()));
    let tails = tail_poses(bow.tails).into_iter().flat_map(|pose| strip(pose, bow.tail_length.as_mm()));
    let knot = Plan::of(bow).knot_half();
    let knot = [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)].map(|(x, y)| DVec2::new(x * knot.x, y * knot.y));
    loops.chain(tails).chain(knot).collect()
}

pub(super) fn measure(bow: &Bow, posture: Posture) -> PieceMeasure {
    let plan = Plan::of(bow);
    let strips = strips(bow, &plan);
    let mut volumes = Vec::new();
    for cut in &strips {
        let volume = cut.length.as_mm() * cut.width.as_mm() * cut.thickness.as_mm() * f64::from(cut.count);
        add(&mut volumes, &bow.finish, volume);
    }
    let corners = corners(bow);
    let low = corners.iter().copied().fold(DVec2::MAX, DVec2::min);
    let high = corners.iter().copied().fold(DVec2::MIN, DVec2::max);
    let [wide, tall] = (high - low).to_array().map(Length::mm);
    let layers = 0.5 * plan.thickness * f64::from(bow.loops.clamp(1, MOST).div_ceil(2) - 1);
    let swell = plan.knot + 0.77 * UPPER * plan.loop_length + plan.thickness / 2.0 + layers;
    let swell = if bow.loops > 0 { swell } else { 0.0 };
    let reach = Length::mm(swell.max(2.0 * plan.knot_half().z));
    PieceMeasure {
        size: match posture {
            Posture::OnTop => PieceSize { width: wide, height: reach, depth: tall },
            Posture::OnSide => PieceSize { width: wide, height: tall, depth: reach },
        },
        reach,
        volumes,
        footprint: hull(corners.into_iter().map(|at| posture.on_seat(at)).collect()),
        cuts: strips,
        ..PieceMeasure::default()
    }
}

/// The strips that are cut: what is gathered under the knot is cut at its full width.
fn strips(bow: &Bow, plan: &Plan) -> Vec<Cut> {
    let strip = |what: &'static str, length: f64, count: u32| Cut {
        what: what.into(),
        length: Length::mm(length),
        width: bow.ribbon,
        thickness: bow.thickness,
        count,
        finish: bow.finish.clone(),
    };
    let half = plan.knot_half();
    // Ramanujan's first approximation of an ellipse's perimeter.
    let around = PI * (3.0 * (half.y + half.z) - ((3.0 * half.y + half.z) * (half.y + 3.0 * half.z)).sqrt());
    let knot = Cut { width: bow.ribbon * 0.58, ..strip("knot", around, 1) };
    vec![
        strip("loop", length(|share| plan.loop_at(share)), bow.loops.min(MOST)),
        strip("tail", length(|share| plan.tail_at(share)), bow.tails.min(MOST)),
        knot,
    ]
}

pub(super) fn parts(bow: &Bow, posture: Posture) -> Vec<Part> {
    let plan = Plan::of(bow);
    let part = |name: String, mesh: &std::sync::Arc<Mesh>, pose: DAffine3| {
        Part::new(name, mesh.clone(), &bow.finish).at(posture.laid() * pose).held(Hold::Soft)
    };
    let (one_loop, tail) = (plan.loop_mesh().into(), plan.tail_mesh().into());
    let tails = tail_poses(bow.tails).into_iter().zip(0_u32..).map(|(pose, number)| {
        // One tail lies over the other where they cross.
        let lift = DAffine3::from_translation(DVec3::Z * (0.2 * plan.thickness * f64::from(number)));
        part(format!("tail {}", number + 1), &tail, lift * pose)
    });
    let loops = loop_poses(bow.loops).into_iter().zip(0_u32..).map(|(pose, number)| {
        let lift = DAffine3::from_translation(DVec3::Z * (0.5 * plan.thickness * f64::from(number / 2)));
        part(format!("loop {}", number + 1), &one_loop, lift * pose)
    });
    let knot = part("knot".into(), &plan.knot_mesh().into(), DAffine3::IDENTITY);
    tails.chain(loops).chain([knot]).collect()
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
            thickness: Length::mm(2.5),
            finish: "sea".into(),
        }
    }

    #[test]
    fn bows_are_closed_and_as_heavy_as_their_strips() {
        for (loops, cut) in [(2, TailCut::Slant), (1, TailCut::Straight), (5, TailCut::Notch)] {
            let bow = bow(loops, cut);
            for posture in [Posture::OnTop, Posture::OnSide] {
                let measured = measure(&bow, posture);
                let parts = parts(&bow, posture);
                // The mesh is drawn narrower under the knot, where the strip is gathered in folds.
                trial::agree(&measured, &parts, 0.2);
                let (low, high) = trial::bounds(&parts);
                assert!(low.dot(posture.out()) > -1.0, "{low}");
                assert!((high.dot(posture.out()) - measured.reach.as_mm()).abs() < 2.5, "{high} {:?}", measured.reach);
            }
        }
    }

    #[test]
    fn a_loop_is_cut_longer_than_there_and_back() {
        let measured = measure(&bow(2, TailCut::Straight), Posture::OnSide);
        let one = measured.cuts.iter().find(|cut| cut.what == "loop").unwrap();
        assert!(one.count == 2 && one.length.as_mm() > 2.0 * 48.0 && one.length.as_mm() < 3.0 * 48.0);
    }
}

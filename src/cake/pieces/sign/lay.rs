//! How the strips of a sign lie: in a wave, their ends curled up.
//!
//! ```text
//!    _                                        _
//!   ( \                                      / )      curl: the ends roll up and inward
//!    \_\__---__---__----------__---__---____/_/       wave: down at both ends
//!   ========================================= seat
//!      <------------ width seen ------------>
//! ```

use std::f64::consts::{PI, TAU};

use glam::{DVec2, DVec3};

/// One wave is about so long, mm.
const WAVE: f64 = 55.0;

/// A wave rises by at most this share of its length: steeper paste falls over.
const STEEPEST: f64 = 0.3;

/// The tightest bend of a wave's middle line, in half thicknesses: at one, its inner face would have no length left.
const TIGHTEST_WAVE: f64 = 1.2;

/// A curled end rolls through this turn, radians.
const ROLLED: f64 = 1.3 * PI;

/// Rolling in, an end draws nearer to the middle of its roll by this share.
const TIGHTER: f64 = 0.15;

/// The tightest roll, in thicknesses of all strips: its front must not meet itself.
const TIGHTEST: f64 = 2.0;

/// A wave or a roll within this of what was asked for is what was asked for, mm.
const SAME: f64 = 0.05;

/// Widest step from one place of the line to the next, mm and radians.
const STEP: f64 = 2.5;
const TURN: f64 = 0.12;

/// What a line of strips is laid in, mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Manner {
    /// From end to end as it is seen.
    pub width: f64,
    /// How high its waves rise.
    pub wave: f64,
    /// How high its ends roll up.
    pub curl: f64,
    /// Of all strips together.
    pub thickness: f64,
}

/// The line on which strips keep their length: half their thickness from their back.
pub(super) struct Lay {
    /// How far along it each place lies, from its middle; where it is (along, out); the way out of the strip.
    places: Vec<(f64, DVec2, DVec2)>,
    half: f64,
    rolled: f64,
    /// What was asked for and what it is, where strips so thick bend no further: wave, curl.
    pub eased: [Option<[f64; 2]>; 2],
}

impl Lay {
    pub fn of(manner: &Manner) -> Self {
        let middle = manner.thickness / 2.0;
        let least = TIGHTEST * manner.thickness;
        // Two rolls that take more than half the width leave no sign.
        let rolls = manner.curl > 0.0 && 4.0 * least < manner.width;
        let radius = if rolls { (manner.curl / 2.0).clamp(least, manner.width / 4.0) } else { 0.0 };
        let flat = manner.width - 2.0 * radius;
        let wave = manner.wave.min(highest_wave(flat, middle));
        let right = half_line(flat, (wave, middle), radius);
        let left = right.iter().skip(1).rev().map(|at| DVec2::new(-at.x, at.y));
        let line: Vec<DVec2> = left.chain(right.iter().copied()).collect();
        let eased = [(manner.wave, wave), (manner.curl, 2.0 * radius)];
        let eased = eased.map(|(asked, drawn)| ((asked - drawn).abs() > SAME).then_some([asked, drawn]));
        Self { rolled: 2.0 * radius, eased, ..Self::through(&line, middle) }
    }

    /// How much of its width its curled ends take, mm.
    pub fn rolled(&self) -> f64 {
        self.rolled
    }

    fn through(line: &[DVec2], half: f64) -> Self {
        let steps = line.iter().zip(line.iter().skip(1)).map(|(a, b)| a.distance(*b));
        let whole: f64 = steps.clone().sum();
        let mut run = -whole / 2.0;
        let runs: Vec<f64> = std::iter::once(run)
            .chain(steps.map(|step| {
                run += step;
                run
            }))
            .collect();
        let before = line.first().into_iter().chain(line);
        let after = line.iter().skip(1).chain(line.last());
        let outs = before.zip(after).map(|(a, b)| (*b - *a).normalize_or(DVec2::X).perp());
        Self {
            places: runs.into_iter().zip(line).zip(outs).map(|((run, at), out)| (run, *at, out)).collect(),
            half,
            rolled: 0.0,
            eased: [None; 2],
        }
    }

    /// From end to end along the line.
    pub fn length(&self) -> f64 {
        self.places.last().map_or(0.0, |(run, ..)| 2.0 * run)
    }

    /// Where it must be able to bend.
    pub fn folds(&self) -> Vec<f64> {
        self.places.iter().map(|(run, ..)| *run).collect()
    }

    /// Where a place of the flat strips lies: x along them, z from their back.
    pub fn place(&self, flat: DVec3) -> DVec3 {
        let (at, out) = self.at(flat.x);
        let place = at + out * (flat.z - self.half);
        DVec3::new(place.x, flat.y, place.y)
    }

    fn at(&self, along: f64) -> (DVec2, DVec2) {
        let next =
            self.places.partition_point(|(run, ..)| *run < along).clamp(1, self.places.len().saturating_sub(1).max(1));
        let (Some(before), Some(after)) = (self.places.get(next - 1), self.places.get(next)) else {
            return (DVec2::new(along, self.half), DVec2::Y);
        };
        let share = (along - before.0) / (after.0 - before.0).max(1e-12);
        (before.1.lerp(after.1, share), before.2.lerp(after.2, share.clamp(0.0, 1.0)).normalize_or(DVec2::Y))
    }

    /// Length of a line `out` mm from the back, between two readings.
    pub fn run(&self, out: f64, (from, to): (f64, f64)) -> f64 {
        let inner = self.folds().into_iter().filter(|at| *at > from && *at < to);
        let places: Vec<DVec3> = std::iter::once(from)
            .chain(inner)
            .chain([to])
            .map(|along| self.place(DVec3::new(along, 0.0, out)))
            .collect();
        places.iter().zip(places.iter().skip(1)).map(|(a, b)| a.distance(*b)).sum()
    }

    /// How far it comes out of the seat, as thick as `thickness`.
    pub fn reach(&self, thickness: f64) -> f64 {
        let faces = [0.0, thickness];
        let places = self.places.iter().flat_map(|(run, ..)| faces.map(|out| self.place(DVec3::new(*run, 0.0, out)).z));
        places.fold(0.0, f64::max)
    }
}

/// Length of one wave of so long a line.
fn period(flat: f64) -> f64 {
    flat / (flat / WAVE).round().max(1.0)
}

/// How high the waves of a strip rise at most. The radius of `h/2 · (1 − cos 2πx/p)` at its crest is `2 (p/2π)² / h`.
fn highest_wave(flat: f64, middle: f64) -> f64 {
    let period = period(flat);
    (STEEPEST * period).min(2.0 * (period / TAU).powi(2) / (TIGHTEST_WAVE * middle).max(1e-9))
}

/// The right half of the line, from its middle to its end.
fn half_line(flat: f64, (wave, middle): (f64, f64), radius: f64) -> Vec<DVec2> {
    let period = period(flat);
    let lift = |x: f64| middle + wave / 2.0 * (1.0 - (TAU * (x + flat / 2.0) / period).cos());
    let steps = if wave > 0.0 { (flat / 2.0 / STEP.min(period / 24.0)).ceil().clamp(1.0, 4000.0) as u32 } else { 1 };
    let along = |step: u32| flat / 2.0 * f64::from(step) / f64::from(steps);
    let level = (0..=steps).map(|step| DVec2::new(along(step), lift(along(step))));
    let turns = if radius > 0.0 { (ROLLED / TURN).ceil() as u32 } else { 0 };
    let roll = (1..=turns).map(|step| {
        let share = f64::from(step) / f64::from(turns);
        let (sin, cos) = (ROLLED * share).sin_cos();
        // On the strips' neutral line, which lies inside the outer face.
        let reach = (radius - middle) * (1.0 - TIGHTER * share * share);
        DVec2::new(flat / 2.0 + reach * sin, radius - reach * cos)
    });
    level.chain(roll).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn manner(wave: f64, curl: f64) -> Manner {
        Manner { width: 120.0, wave, curl, thickness: 4.0 }
    }

    #[test]
    fn a_flat_strip_is_as_long_as_it_is_wide() {
        let flat = Lay::of(&manner(0.0, 0.0));
        assert!((flat.length() - 120.0).abs() < 1e-9 && (flat.reach(4.0) - 4.0).abs() < 1e-9);
        assert!(flat.place(DVec3::new(31.0, 2.0, 1.0)).distance(DVec3::new(31.0, 2.0, 1.0)) < 1e-9);
    }

    #[test]
    fn a_curled_end_rolls_up_inside_its_width() {
        let curled = Lay::of(&manner(0.0, 20.0));
        // Two rolls of 1.3 half turns on a mean radius of 8 mm, drawn in by a twentieth, take longer than the 20 mm they show.
        assert!(curled.length() > 100.0 + 2.0 * 0.9 * ROLLED * 8.0 && curled.length() < 100.0 + 2.0 * ROLLED * 8.0);
        assert!((curled.reach(4.0) - 20.0).abs() < 1.5, "{}", curled.reach(4.0));
        let widest = curled.folds().into_iter().map(|at| curled.place(DVec3::new(at, 0.0, 0.0)).x).fold(0.0, f64::max);
        assert!((widest - 60.0).abs() < 0.5, "{widest}");
        // Its front is shorter, its back longer.
        let half = curled.length() / 2.0;
        assert!(curled.run(0.0, (-half, half)) > curled.length() && curled.run(4.0, (-half, half)) < curled.length());
    }

    #[test]
    fn a_wave_is_longer_and_starts_on_the_seat() {
        let wave = Lay::of(&manner(6.0, 0.0));
        // Speed √(1 + f'²) along x, by Simpson's rule.
        let speed = |x: f64| (1.0 + (6.0 / 2.0 * TAU / 60.0 * (TAU * x / 60.0).sin()).powi(2)).sqrt();
        let weight = |step: u32| if step == 0 || step == 600 { 1.0 } else { 2.0 + 2.0 * f64::from(step % 2) };
        let exact: f64 = (0..=600).map(|step| weight(step) * speed(0.2 * f64::from(step))).sum::<f64>() * 0.2 / 3.0;
        assert!((wave.length() / exact - 1.0).abs() < 1e-3, "{} {exact}", wave.length());
        let half = wave.length() / 2.0;
        assert!(wave.place(DVec3::new(half, 0.0, 0.0)).z.abs() < 0.05);
    }
}

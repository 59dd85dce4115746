//! The ribbon of a bow: how a loop and a tail run, and how the ribbon lies across.
//!
//! Frame of a loop or a tail: x from the knot outward, y across the ribbon, z out of the seat; mm.

use std::f64::consts::{PI, TAU};

use glam::{DVec2, DVec3};

use crate::design::model::pieces::{Bow, TailCut};
use crate::measure::Length;
use crate::shapes::Mesh;
use crate::shapes::build::gathered_sheet;

/// Steps along a loop and a tail.
const STEPS: u32 = 38;

/// Steps across the ribbon.
const ACROSS: u32 = 20;

/// The ribbon under the knot, as a share of its width.
const GATHERED: f64 = 0.42;

/// Shares of the loop's length that it swells from and to its seat.
const UPPER: f64 = 0.40;
const LOWER: f64 = 0.15;

/// The greatest value of `sin 2πs · sin² πs`, at s = 1/3.
const SWELL: f64 = 0.649_519_052_838_329;

/// Paste folds into loops no shorter than so many thicknesses: the tip of a loop's lower half has a radius of 0.107 of its length.
const SHORTEST_LOOP: f64 = 7.0;

/// A ribbon is gathered into loops no shorter than this share of its width.
const WIDEST: f64 = 2.0 / 3.0;

/// What is narrower than so many thicknesses is no ribbon: its knot would be thicker than wide.
const NARROWEST: f64 = 4.0;

/// The rims of a loop lie so far inside its middle, as a share of its relief.
const BULGE: f64 = 0.09;

/// A tail lies in waves that so thick paste bends to: at its full liveliness from this many thicknesses on.
const LIVELY: f64 = 10.0;

/// A bow's ribbon, mm.
pub(super) struct Ribbon {
    pub width: f64,
    pub thickness: f64,
    /// How far the middle of the gathered ribbon lies from the seat.
    pub knot: f64,
    loop_length: f64,
    tail_length: f64,
    cut: TailCut,
    /// What was asked for and what it is, where paste so thick is no ribbon or bends no further: width, loop.
    pub eased: [Option<[f64; 2]>; 2],
}

impl Ribbon {
    pub fn of(bow: &Bow) -> Self {
        let thickness = bow.thickness.as_mm();
        let asked = [bow.ribbon, bow.loop_length].map(Length::as_mm);
        let width = asked[0].max(NARROWEST * thickness);
        let loop_length = asked[1].max(SHORTEST_LOOP * thickness).max(WIDEST * width);
        let eased = |asked: f64, drawn: f64| (asked < drawn).then_some([asked, drawn]);
        Self {
            width,
            thickness,
            knot: thickness / 2.0 + LOWER * loop_length + BULGE / 3.0 * width.min(loop_length),
            loop_length,
            tail_length: bow.tail_length.as_mm(),
            cut: bow.cut,
            eased: [eased(asked[0], width), eased(asked[1], loop_length)],
        }
    }

    /// A place on a loop's middle line: from the knot and out of the seat.
    pub fn loop_at(&self, share: f64) -> DVec2 {
        let (turn, reach) = ((TAU * share).sin(), (PI * share).sin().powi(2));
        let swell = if share < 0.5 { UPPER } else { LOWER } * self.loop_length / SWELL;
        let end = (self.loop_length - self.thickness / 2.0).max(0.0);
        DVec2::new(end * reach, self.knot + swell * turn * reach)
    }

    /// A place on a tail's middle line: from the knot, across and out of the seat. It comes down to the seat, lies in
    /// waves, sways a little, and its end looks up.
    pub fn tail_at(&self, (share, outer): (f64, f64)) -> DVec3 {
        let (seat, length) = (self.thickness / 2.0, self.tail_length);
        let lively = 0.05 * length * (length / (LIVELY * self.thickness).max(1e-9)).min(1.0);
        // A short tail doesn't come down all the way: the step's tightest radius is 0.02 of length² over height.
        let drop = (self.knot - seat).min(0.02 * length * length / (0.8 * self.thickness).max(1e-9));
        let down = soft_step(share / 0.35);
        let wave = (1.5 * TAU * share).sin().powi(2) * lively * down;
        let curl = lively * soft_step((share - 0.72) / 0.28).powi(2);
        let sway = 0.05 * length * (PI * share.min(1.0)).sin() * outer;
        DVec3::new(length * share, sway, self.knot - drop * down + wave + curl)
    }

    /// The middle surface of a loop, row by row from the knot round and back.
    pub fn loop_rows(&self, outer: f64) -> Vec<Vec<DVec3>> {
        let row = |step: u32| {
            let share = f64::from(step) / f64::from(STEPS);
            let (before, after) = (self.loop_at(share - 1e-4), self.loop_at(share + 1e-4));
            let out = (after - before).perp().normalize_or_zero();
            let at = self.loop_at(share);
            let reach = at.x / self.loop_length.max(1e-9);
            // The end of a loop is the narrowest view of a strip that bulges.
            let half = self.half_width(reach) * (1.0 - 0.08 * soft_step((reach - 0.7) / 0.3));
            let place = move |s: f64| {
                let relief = self.relief(self.loop_length);
                // About its mean, so that the strip keeps its length.
                let bulge = -BULGE * relief * (s * s - 1.0 / 3.0) * soft_step(reach / 0.6);
                let middle = at + out * (relief * fold((reach, 0.9), s * outer) + bulge);
                DVec3::new(middle.x, s * half, middle.y)
            };
            across().map(place).collect()
        };
        (0..=STEPS).map(row).collect()
    }

    /// The middle surface of a tail, row by row from the knot to its end.
    pub fn tail_rows(&self, outer: f64) -> Vec<Vec<DVec3>> {
        let row = |step: u32| {
            let share = f64::from(step) / f64::from(STEPS);
            let place = move |s: f64| {
                let rim = self.thickness / 2.0 / self.tail_length.max(1e-9);
                let at = self.tail_at((share * (self.tail_end(s * outer) - rim).max(0.01), outer));
                let reach = at.x / self.tail_length.max(1e-9);
                let relief = self.relief(self.tail_length);
                let bulge = 0.05 * relief * (1.0 - s * s) * soft_step(reach / 0.4);
                at + DVec3::new(0.0, s * self.half_width(reach), relief * fold((reach, 0.65), s * outer) + bulge)
            };
            across().map(place).collect()
        };
        (0..=STEPS).map(row).collect()
    }

    /// Half the ribbon's width, so far from the knot as a share of the whole.
    fn half_width(&self, reach: f64) -> f64 {
        let open = soft_step(reach / 0.55);
        ((GATHERED + (1.0 - GATHERED) * open) * self.width - self.thickness).max(0.2 * self.width) / 2.0
    }

    /// What folds and bulges are a share of: the ribbon's width, or less where it is wider than what it lies along is long.
    fn relief(&self, length: f64) -> f64 {
        self.width.min(length)
    }

    /// Share of a tail's length that is left at this place across it, from -1 (inner edge) to 1 (outer edge).
    fn tail_end(&self, across: f64) -> f64 {
        let share = match self.cut {
            TailCut::Straight => 0.0,
            TailCut::Slant => (1.0 - across) / 2.0,
            TailCut::Notch => 1.0 - across.abs(),
        };
        1.0 - share * self.end_cut() / self.tail_length.max(1e-9)
    }

    /// How deep the end of a tail is cut, at its deepest; it leaves a good part of the tail.
    pub fn end_cut(&self) -> f64 {
        let deep = match self.cut {
            TailCut::Straight => 0.0,
            TailCut::Slant => 0.64,
            TailCut::Notch => 0.5,
        };
        (deep * self.width).min(0.7 * self.tail_length)
    }

    /// The ribbon over the rows of its middle surface.
    pub fn mesh(&self, rows: &[Vec<DVec3>]) -> Mesh {
        gathered_sheet(rows, &self.thicknesses(rows))
    }

    /// How thick it is at each row: where it is gathered, its folds make it thicker, so that it keeps the section of the strip it
    /// is made of.
    pub fn thicknesses(&self, rows: &[Vec<DVec3>]) -> Vec<f64> {
        let section = self.width * self.thickness;
        let last = rows.len().saturating_sub(1);
        let middle = |number: usize| {
            rows.get(number.min(last)).and_then(|row| row.get(row.len() / 2)).copied().unwrap_or_default()
        };
        let thickness = |(number, row): (usize, &Vec<DVec3>)| {
            // A cut end runs aslant: what counts is how wide the ribbon is across itself.
            let along = (middle(number + 1) - middle(number.saturating_sub(1))).normalize_or_zero();
            let steps = row.iter().zip(row.iter().skip(1)).map(|(a, b)| *b - *a);
            let wide: f64 = steps.map(|step| step.reject_from_normalized(along).length()).sum();
            // The rims are half round: section = wide · t + π/4 · t².
            let thick = ((wide * wide + PI * section).sqrt() - wide) * 2.0 / PI;
            thick.min(2.5 * self.thickness)
        };
        rows.iter().enumerate().map(thickness).collect()
    }

    /// How much a cut end takes off each tail, mm²: a slant or a notch takes half of its box.
    pub fn cut_away(&self) -> f64 {
        self.end_cut() * self.width / 2.0
    }

    /// Length of a loop's strip.
    pub fn loop_strip(&self) -> f64 {
        length(|share| self.loop_at(share).extend(0.0))
    }

    /// Length of a tail's strip, at its longest edge.
    pub fn tail_strip(&self) -> f64 {
        length(|share| self.tail_at((share, 1.0)))
    }
}

/// How far a fold stands out of the ribbon's middle surface, as a share of its relief: rounded ridges with creases between,
/// deepest under the knot; the middle ones run on furthest.
fn fold((reach, fades): (f64, f64), across: f64) -> f64 {
    let left = 1.0 - soft_step(reach / (fades * (1.0 - 0.45 * across.abs())).max(0.05));
    let ridge = (1.35 * PI * (across + 0.14)).sin().abs() - 2.0 / PI;
    0.13 * left * ridge
}

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
fn length(curve: impl Fn(f64) -> DVec3) -> f64 {
    let at = |step: u32| curve(f64::from(step) / 400.0);
    (0..400).map(|step| at(step).distance(at(step + 1))).sum()
}

//! From where people look at the cake.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use glam::DVec2;

use crate::design::model::Viewing;
use crate::shapes::bearing;

/// Azimuths in which all of them look, in steps of equal weight.
const AZIMUTHS: u32 = 32;
/// One of them, of the sine of the azimuth over its greatest, which runs from -1 to 1.
const STEP: f64 = 2.0 / AZIMUTHS as f64;
/// Eye levels in between the lowest and the highest.
pub(super) const LEVELS: usize = 5;

/// The eyes of all onlookers.
#[derive(Clone, Debug)]
pub(super) struct Eyes {
    /// Bearing of the middle of them, radians.
    front: f64,
    /// To either side of it, radians, at most a quarter turn.
    spread: f64,
    /// How far a sight line rises towards each eye level, over its way ahead.
    pub slopes: [f64; LEVELS],
    /// Every azimuth, as it counts where all of its step is faced.
    whole: Vec<Glance>,
}

/// One azimuth to look along.
#[derive(Clone, Copy, Debug)]
pub(super) struct Glance {
    /// Towards the eye, unit, in the cake's plan (x, z).
    pub towards: DVec2,
    /// Its share of all sight lines.
    pub weight: f64,
    /// Which step of azimuths, where all of it is faced: then it is the same for every place.
    pub step: Option<usize>,
}

impl Eyes {
    pub fn new(viewing: &Viewing) -> Self {
        let [low, high] = viewing.down.map(crate::measure::Angle::as_radians);
        let mut slopes = [0.0; LEVELS];
        for (slope, number) in slopes.iter_mut().zip(0_u32..) {
            *slope = (low + (high - low) * (f64::from(number) + 0.5) / LEVELS as f64).tan();
        }
        let (front, spread) = (viewing.front.as_radians(), viewing.spread.as_radians().min(FRAC_PI_2));
        let whole = (0..AZIMUTHS as usize).map(|number| {
            let middle = (number as f64 + 0.5) * STEP - 1.0;
            let towards = bearing(front + (middle * spread.sin()).asin());
            Glance { towards, weight: STEP / 2.0, step: Some(number) }
        });
        Self { front, spread, slopes, whole: whole.collect() }
    }

    /// The azimuths in steps of equal weight.
    pub fn steps(&self) -> &[Glance] {
        &self.whole
    }

    /// The azimuths from which a place is faced that looks along any of `normals` (bearings, radians).
    ///
    /// Weighted by the cosine, the sine of the azimuth is evenly spread; so it is cut into even steps, and a step that is
    /// faced in part counts with exactly that part: seen as the whole step beside it is, where there is one.
    pub fn glances(&self, normals: &[f64]) -> Vec<Glance> {
        let width = self.spread.sin();
        let mut glances = Vec::with_capacity(AZIMUTHS as usize + 1);
        for (from, to) in self.faced(normals) {
            let first = glances.len();
            let (from, to) = (from.sin() / width, to.sin() / width);
            for (whole, number) in self.whole.iter().zip(0_u32..) {
                let start = f64::from(number) * STEP - 1.0;
                let (low, high) = (from.max(start), to.min(start + STEP));
                if high - low > STEP - 1e-12 {
                    glances.push(*whole);
                } else if high - low > 1e-9 {
                    let towards = bearing(self.front + ((low + high) / 2.0 * width).asin());
                    glances.push(Glance { towards, weight: (high - low) / 2.0, step: None });
                }
            }
            join_parts(&mut glances, first);
        }
        glances
    }

    /// Stretches of azimuth from the front, radians, that don't overlap.
    fn faced(&self, normals: &[f64]) -> Vec<(f64, f64)> {
        let spread = self.spread;
        let mut stretches: Vec<(f64, f64)> = normals
            .iter()
            .map(|normal| (normal - self.front + PI).rem_euclid(TAU) - PI)
            .flat_map(|off| [-TAU, 0.0, TAU].map(|turn| off + turn))
            .map(|off| ((off - FRAC_PI_2).max(-spread), (off + FRAC_PI_2).min(spread)))
            .filter(|(from, to)| from < to)
            .collect();
        stretches.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut apart: Vec<(f64, f64)> = Vec::with_capacity(stretches.len());
        for (from, to) in stretches {
            match apart.last_mut() {
                Some(last) if from <= last.1 => last.1 = last.1.max(to),
                _ => apart.push((from, to)),
            }
        }
        apart
    }
}

/// Of the glances from `first` on, one stretch in order, gives the weight of a step in part at either end to the whole step
/// beside it.
fn join_parts(glances: &mut Vec<Glance>, first: usize) {
    if let [.., Glance { step: Some(_), weight, .. }, Glance { step: None, weight: part, .. }] =
        glances.get_mut(first..).unwrap_or_default()
    {
        *weight += *part;
        glances.pop();
    }
    if let [Glance { step: None, weight: part, .. }, Glance { step: Some(_), weight, .. }, ..] =
        glances.get_mut(first..).unwrap_or_default()
    {
        *weight += *part;
        glances.remove(first);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_faced_counts_by_the_cosine() {
        let eyes = Eyes::new(&Viewing::default());
        let spread = 70.0_f64.to_radians();
        for degrees in (-180..=180).step_by(5) {
            let off = f64::from(degrees).to_radians();
            let faced: f64 = eyes.glances(&[off]).iter().map(|glance| glance.weight).sum();
            // ∫ cos a da over |a| ≤ spread, |a − off| < 90°, over the same without the second condition.
            let (low, high) = ((off - FRAC_PI_2).clamp(-spread, spread), (off + FRAC_PI_2).clamp(-spread, spread));
            let expected = (high.sin() - low.sin()) / (2.0 * spread.sin());
            assert!((faced - expected).abs() < 1e-12, "{degrees}: {faced} {expected}");
        }
    }

    #[test]
    fn a_corner_is_seen_from_both_its_sides_once() {
        let eyes = Eyes::new(&Viewing::default());
        let weight = |normals: &[f64]| eyes.glances(normals).iter().map(|glance| glance.weight).sum::<f64>();
        let (right, left) = (135.0_f64.to_radians(), -135.0_f64.to_radians());
        assert!((weight(&[right, left]) - weight(&[right]) - weight(&[left])).abs() < 1e-12);
        assert!((weight(&[0.0, FRAC_PI_2]) - 1.0).abs() < 1e-12);
    }
}

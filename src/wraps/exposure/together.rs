//! The exposures of many seams of one course at once, shared out among the processors.

use std::thread;

use glam::DVec2;

use super::curtain::Curtain;
use super::eyes::Glance;
use super::onlookers::CourseSight;
use super::seam_line::SeamLine;
use super::solids::Thing;
use super::sweep::Sweep;

/// More threads than this gain nothing.
const MOST_THREADS: usize = 8;

/// All that is to be looked at. Each glance at a seam has a number.
struct Looks<'a> {
    sight: &'a CourseSight<'a>,
    things: Vec<&'a Thing>,
    /// For each step of azimuths the seams that face all of it.
    swept: Vec<Vec<(usize, DVec2)>>,
    /// Steps that are faced in part: each has an azimuth of its own.
    alone: Vec<(usize, DVec2, Glance)>,
}

/// The exposure of each seam.
pub(super) fn together(sight: &CourseSight<'_>, seams: &[SeamLine]) -> Vec<f64> {
    let glances: Vec<Vec<Glance>> = seams.iter().map(|seam| sight.eyes().glances(&seam.normals)).collect();
    let things = sight.solids().all().iter().filter(|thing| sight.may_be_hidden_by(thing)).collect();
    let swept = vec![Vec::new(); sight.eyes().steps().len()];
    let mut looks = Looks { sight, things, swept, alone: Vec::new() };
    let each =
        || seams.iter().zip(&glances).flat_map(|(seam, glances)| glances.iter().map(|glance| (seam.at, *glance)));
    for (number, (at, glance)) in each().enumerate() {
        match glance.step.and_then(|step| looks.swept.get_mut(step)) {
            Some(seams) => seams.push((number, at)),
            None => looks.alone.push((number, at, glance)),
        }
    }
    // Added up in the order of the glances, whoever looked: the same to the last bit on any machine.
    let mut shares = vec![0.0; each().count()];
    for (number, share) in looks.shared_out() {
        if let Some(slot) = shares.get_mut(number) {
            *slot = share;
        }
    }
    let mut shares = shares.into_iter();
    let sum = |glances: &Vec<Glance>| -> f64 {
        let seen = glances.iter().zip(shares.by_ref()).map(|(glance, share)| glance.weight * share);
        seen.sum::<f64>() + 0.0
    };
    glances.iter().map(sum).collect()
}

impl Looks<'_> {
    /// What share of its seam each glance sees, by its number.
    fn shared_out(&self) -> Vec<(usize, f64)> {
        let threads = thread::available_parallelism().map_or(1, std::num::NonZero::get).min(MOST_THREADS);
        thread::scope(|scope| {
            let others: Vec<_> = (1..threads).map(|part| scope.spawn(move || self.part(part, threads))).collect();
            let mut seen = self.part(0, threads);
            for (other, part) in others.into_iter().zip(1..) {
                // Nothing in it panics; if anything did, this would do its share.
                seen.extend(other.join().unwrap_or_else(|_| self.part(part, threads)));
            }
            seen
        })
    }

    fn part(&self, part: usize, parts: usize) -> Vec<(usize, f64)> {
        let eyes = self.sight.eyes();
        let mut seen = Vec::new();
        for (step, seams) in eyes.steps().iter().zip(&self.swept).skip(part).step_by(parts) {
            let mut sweep = Sweep::new(seams, self.sight.heights(), step.towards, &eyes.slopes);
            for thing in &self.things {
                sweep.shade(thing);
            }
            seen.extend(sweep.seen());
        }
        for &(number, at, glance) in self.alone.iter().skip(part).step_by(parts) {
            let curtain = Curtain::new((at, self.sight.heights()), glance.towards, &eyes.slopes);
            seen.push((number, self.sight.left(&curtain)));
        }
        seen
    }
}

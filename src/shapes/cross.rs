//! Where a straight line in the plan crosses an outline.

use std::f64::consts::TAU;

use glam::DVec2;

use super::outline::{Outline, Side};

impl Outline {
    /// Does a place lie inside? In a cleft, the outward side of the nearest place of the outline does not tell.
    pub(super) fn encloses(&self, place: DVec2) -> bool {
        // A direction in which no outline has a corner just there.
        let chords = self.chords(place, DVec2::from_angle(0.735_1));
        chords.first().is_some_and(|chord| chord.0 == 0.0)
    }

    /// The stretches of a line that lie inside the outline, as distances (mm) ahead of `from` along the unit vector
    /// `towards`: each from where it enters, or from 0 where the line starts inside, to where it leaves; in order.
    #[must_use]
    pub fn chords(&self, from: DVec2, towards: DVec2) -> Vec<(f64, f64)> {
        let mut chords = Vec::new();
        self.each_chord((from, towards), |enters, leaves| chords.push((enters, leaves)));
        chords
    }

    /// The same, told one by one: nothing is kept.
    pub fn each_chord(&self, (from, towards): (DVec2, DVec2), mut tell: impl FnMut(f64, f64)) {
        let mut crossings = Crossings::default();
        for side in self.sides() {
            cross(side, from, towards, &mut crossings);
        }
        // A line that ends outside has crossed an odd number of times only if it started inside.
        if crossings.count % 2 == 1 {
            crossings.add(0.0);
        }
        let mut enters = None;
        crossings.in_order(|at| match enters.take() {
            Some(start) => tell(start, at),
            None => enters = Some(at),
        });
    }
}

/// Where a line crosses an outline: a few places at hand, more of them in a list.
#[derive(Default)]
struct Crossings {
    few: [f64; 8],
    count: usize,
    all: Vec<f64>,
}

impl Crossings {
    fn add(&mut self, at: f64) {
        match self.few.get_mut(self.count) {
            Some(slot) => *slot = at,
            None => {
                if self.all.is_empty() {
                    self.all.extend(self.few);
                }
                self.all.push(at);
            }
        }
        self.count += 1;
    }

    fn in_order(&mut self, tell: impl FnMut(f64)) {
        let places =
            if self.all.is_empty() { self.few.get_mut(..self.count).unwrap_or_default() } else { &mut self.all };
        places.sort_unstable_by(f64::total_cmp);
        places.iter().copied().for_each(tell);
    }
}

/// Adds where a line crosses one side, ahead of its start. A side's second end belongs to the next.
fn cross(side: &Side, from: DVec2, towards: DVec2, crossings: &mut Crossings) {
    match *side {
        Side::Line { from: first, to: last } => {
            let (before, after) = (towards.perp_dot(first - from), towards.perp_dot(last - from));
            if (before >= 0.0) != (after >= 0.0) {
                let ahead = (first - from).lerp(last - from, before / (before - after)).dot(towards);
                if ahead > 0.0 {
                    crossings.add(ahead);
                }
            }
        }
        Side::Arc { centre, radius, start, sweep } => {
            let middle = (centre - from).dot(towards);
            let half = radius * radius - (from + towards * middle).distance_squared(centre);
            if half < 0.0 {
                return;
            }
            for ahead in [middle - half.sqrt(), middle + half.sqrt()].into_iter().filter(|ahead| *ahead > 0.0) {
                let away = from + towards * ahead - centre;
                let whole = sweep.abs() >= TAU;
                if whole || ((away.x.atan2(away.y) - start) * sweep.signum()).rem_euclid(TAU) < sweep.abs() {
                    crossings.add(ahead);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shapes::forms;

    #[test]
    fn a_chord_runs_from_side_to_side() {
        let round = forms::round(100.0);
        let chord = |from: DVec2, towards: DVec2| round.chords(from, towards.normalize());
        // 30 mm beside the middle of a circle of 50: 2·40 long.
        let found = chord(DVec2::new(30.0, -100.0), DVec2::Y);
        assert!((found[0].0 - 60.0).abs() < 1e-9 && (found[0].1 - 140.0).abs() < 1e-9 && found.len() == 1);
        assert!((chord(DVec2::new(30.0, 0.0), DVec2::Y)[0].1 - 40.0).abs() < 1e-9);
        assert!(chord(DVec2::new(60.0, -100.0), DVec2::Y).is_empty());
        assert!(chord(DVec2::new(0.0, 60.0), DVec2::Y).is_empty());
    }

    #[test]
    fn chords_of_every_outline_lie_inside() {
        for outline in
            [forms::rectangle(90.0, 60.0, 8.0), forms::oval(120.0, 70.0), forms::heart(110.0), forms::petal(6, 100.0)]
        {
            let mut several = 0;
            for step in 0..200 {
                let turn = f64::from(step) * 0.618;
                let (towards, beside) = (DVec2::from_angle(turn), DVec2::from_angle(turn).perp());
                let from = beside * (f64::from(step) * 0.7).sin() * 45.0 - towards * 200.0;
                let chords = outline.chords(from, towards);
                several += usize::from(chords.len() > 1);
                let inside = |at: f64| chords.iter().any(|&(enters, leaves)| (enters..leaves).contains(&at));
                for at in (0..400).map(|at| f64::from(at) + 0.123) {
                    let beyond = outline.beyond(from + towards * at);
                    assert!(beyond.abs() < 1e-6 || (beyond < 0.0) == inside(at), "{step} {at} {beyond}");
                }
            }
            assert!(several == 0 || !outline.is_convex());
        }
    }
}

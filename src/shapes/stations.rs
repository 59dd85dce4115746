//! Stations: places round an outline, close enough together that straight pieces between them look and measure round.
//!
//! Everything that follows the side (its wall, a band, a print, a rope) is a cross-section carried from station to station,
//! so all of them bend at the same places and none cuts through another.

use glam::DVec2;

use super::offset::steps;
use super::outline::{Outline, Side, bearing, outward_of};

/// Furthest that a straight piece may run from the true curve, mm.
const TOLERANCE: f64 = 0.02;
/// Longest straight piece, mm: keeps light and pictures even along straight sides.
const LONGEST: f64 = 12.0;
/// Turn between two neighbouring stations at a sharp corner, radians.
const FAN_STEP: f64 = 0.2;
/// A round corner turns by less than this; what turns further is a curve of its own, radians.
const WIDEST_CORNER: f64 = 2.5;
/// A turn below this is a curve cut into pieces, not a corner, radians.
const SMOOTH: f64 = 0.2;

/// A place round the outline, with how a cross-section is set up there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    /// Reading from front centre to the right, 0..L (or beyond, for a stretch over the back).
    pub along: f64,
    /// On the outline, mm.
    pub point: DVec2,
    /// Unit normal for the light.
    pub outward: DVec2,
    /// Where a place 1 mm further out lies, from `point`.
    pub out: DVec2,
    /// What happens further in.
    inside: Inside,
}

/// Going in from a round corner, its stations draw together; past its middle they go on as one, as a sharp corner does.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Inside {
    /// How far in the stations meet, mm.
    room: f64,
    /// Where they meet.
    hub: DVec2,
    /// From there, where a place 1 mm further in lies.
    beyond: DVec2,
}

impl Inside {
    const STRAIGHT: Self = Self { room: f64::INFINITY, hub: DVec2::ZERO, beyond: DVec2::ZERO };

    /// Of a corner that turns from one outward normal to another: a mitre reaches 1/cos(turn/2), held to three times, so
    /// that a cusp stays near the cake.
    fn corner(hub: DVec2, room: f64, (first, last, turn): (DVec2, DVec2, f64)) -> Self {
        Self { room, hub, beyond: -mitre(first, last, turn) }
    }

    /// Of a side: a tight round corner draws together, everything else has room.
    fn of(side: &Side) -> Self {
        match *side {
            Side::Arc { centre, radius, start, sweep } if sweep > 0.0 && sweep < WIDEST_CORNER => {
                Self::corner(centre, radius, (bearing(start), bearing(start + sweep), sweep))
            }
            _ => Self::STRAIGHT,
        }
    }
}

fn mitre(first: DVec2, last: DVec2, turn: f64) -> DVec2 {
    (first + last).normalize_or_zero() / (turn / 2.0).cos().max(1.0 / 3.0)
}

impl Station {
    /// The place `out` mm outside the outline; negative: inside.
    #[must_use]
    pub fn place(&self, out: f64) -> DVec2 {
        if out >= 0.0 {
            self.point + self.out * out
        } else if -out < self.inside.room {
            self.point + self.outward * out
        } else {
            self.inside.hub + self.inside.beyond * (-out - self.inside.room)
        }
    }
}

impl Outline {
    /// Stations once round, from front centre to front centre again; the last is the first with another reading.
    #[must_use]
    pub fn stations(&self) -> Vec<Station> {
        let mut stations = Vec::new();
        let insides = self.insides();
        let before = insides.iter().cycle().skip(insides.len().saturating_sub(1));
        for (((side, start), joint), (before, inside)) in
            self.sides_with_starts().zip(self.joints()).zip(before.zip(&insides))
        {
            let at = |distance: f64, inside: Inside| plain(side, (distance, start), inside);
            if joint.turn.abs() > 1e-9 {
                stations.extend(corner(side.first(), start, (joint.arriving, joint.leaving, joint.turn)));
            } else {
                // The place where a round corner ends belongs to it too, so that it draws together with the others.
                stations.push(at(0.0, if before.room < inside.room { *before } else { *inside }));
            }
            let length = side.length();
            let count = steps(side, TOLERANCE).max((length / LONGEST).ceil().max(1.0) as u32);
            stations.extend((1..count).map(|step| at(length * f64::from(step) / f64::from(count), *inside)));
        }
        if let Some(first) = stations.first().copied() {
            stations.push(Station { along: self.perimeter(), ..first });
        }
        stations
    }

    /// What happens inside each side; a round corner in front, split there, is taken as one.
    fn insides(&self) -> Vec<Inside> {
        let mut insides: Vec<Inside> = self.sides().iter().map(Inside::of).collect();
        if let (Some(Side::Arc { centre, radius, sweep, .. }), Some(Side::Arc { centre: other, start, sweep: run, .. })) =
            (self.sides().first(), self.sides().last())
            && centre.distance(*other) < 1e-9
            && self.sides().len() > 1
        {
            let whole = Side::Arc { centre: *centre, radius: *radius, start: *start, sweep: run + sweep };
            let inside = Inside::of(&whole);
            for end in [0, insides.len() - 1] {
                if let Some(slot) = insides.get_mut(end) {
                    *slot = inside;
                }
            }
        }
        insides
    }

    /// Stations for what stands `out` mm out: those that would cross one another in a cleft are left out.
    #[must_use]
    pub fn stations_out(&self, out: f64) -> Vec<Station> {
        let mut stations = self.stations();
        let around = self.perimeter();
        for joint in self.joints().filter(|joint| joint.turn < -SMOOTH) {
            let (first, last) = (outward_of(joint.arriving), outward_of(joint.leaving));
            let meet = self.at(joint.start).point + mitre(first, last, joint.turn) * out;
            stations.retain(|station| {
                let past = (station.along - joint.start + around / 2.0).rem_euclid(around) - around / 2.0;
                let beyond = station.place(out) - meet;
                // Only what lies near the cleft can cross it: a quarter round of the standing-out distance and some.
                past.abs() < 1e-6
                    || past.abs() > 4.0 * out
                    || (past > 0.0 && beyond.dot(joint.leaving) > 0.0)
                    || (past < 0.0 && beyond.dot(joint.arriving) < 0.0)
            });
        }
        stations
    }

    /// Stations of the stretch from one reading to another further right, with one at each end, for what stands `out` mm out.
    #[must_use]
    pub fn stretch(&self, (from, to): (f64, f64), out: f64) -> Vec<Station> {
        let around = self.perimeter();
        let once = self.stations_out(out);
        let turns = [-2.0, -1.0, 0.0, 1.0, 2.0];
        let inner = turns.iter().flat_map(|turn| {
            once.iter().skip(1).map(move |station| Station { along: station.along + turn * around, ..*station })
        });
        let mut stations = vec![self.station(from)];
        stations.extend(inner.filter(|station| station.along > from + 1e-6 && station.along < to - 1e-6));
        stations.push(self.station(to));
        stations
    }

    fn station(&self, along: f64) -> Station {
        let spot = self.at(along);
        Station { along, point: spot.point, outward: spot.outward, out: spot.outward, inside: Inside::STRAIGHT }
    }
}

fn plain(side: &Side, (distance, start): (f64, f64), inside: Inside) -> Station {
    let spot = side.at(distance);
    Station { along: start + distance, point: spot.point, outward: spot.outward, out: spot.outward, inside }
}

/// The stations at a corner: one that shares its light on a gentle turn, a fan on a sharp one that stands out, two that
/// share their place in a cleft.
fn corner(point: DVec2, along: f64, (before, after, turn): (DVec2, DVec2, f64)) -> Vec<Station> {
    let (first, last) = (outward_of(before), outward_of(after));
    let mitre = mitre(first, last, turn);
    let inside = Inside::corner(point, 0.0, (first, last, turn));
    let make = |outward: DVec2, out: DVec2| Station { along, point, outward, out, inside };
    if turn.abs() < SMOOTH {
        return vec![make((first + last).normalize_or_zero(), mitre)];
    }
    if turn < 0.0 {
        return vec![make(first, mitre), make(last, mitre)];
    }
    let steps = (turn / FAN_STEP).ceil().max(1.0) as u32;
    let fan = (0..=steps).map(|step| {
        let away = DVec2::from_angle(-turn * f64::from(step) / f64::from(steps)).rotate(first);
        make(away, away)
    });
    fan.collect()
}

//! All seams of a course looked at along one azimuth at once.
//!
//! Their curtains are parallel: sorted by how far they hang aside, each face is asked only for those that cut it, without
//! a search, and its corners are placed once for all of them. Whole patches of a mesh are passed over where they look away, or
//! where all behind them is hidden already; and of one that looks to the eye only the rim is cut.
//!
//! ```text
//!   seams in order, aside ->
//!   |  |  |  |  |  |  |  |
//!   |  | /\  |  |  |  |  |     this face is cut by two of them
//!   |  |/  \ |  |  |  |  |
//!   |  |----\|  |  |  |  |
//! ```

use std::ops::Range;

use glam::{DAffine3, DVec2, DVec3};

use super::comb::Comb;
use super::curtain::{Curtain, cut};
use super::eyes::LEVELS;
use super::solids::Thing;
use crate::shapes::solid::{Skin, Solid};

/// Seams in the order in which they hang aside.
#[derive(Debug)]
pub(super) struct Sweep<'a> {
    slopes: &'a [f64; LEVELS],
    towards: DVec2,
    rows: Vec<Row<'a>>,
    /// How far aside each of them hangs once more, to be searched.
    asides: Vec<f64>,
    /// Corners of one patch as seen from here, kept to be filled again.
    placed: Vec<Corner>,
}

/// A corner of a mesh as seen along the azimuth.
#[derive(Clone, Copy, Debug)]
struct Corner {
    /// How far aside it lies, and where (mm ahead, mm up).
    aside: f64,
    at: DVec2,
    /// How many seams hang no further aside than it lies: between those of its corners a face is cut.
    rank: usize,
}

/// One seam.
#[derive(Debug)]
struct Row<'a> {
    /// How far aside it hangs, and how far ahead, mm.
    aside: f64,
    ahead: f64,
    curtain: Curtain<'a>,
    comb: Comb,
    /// Whether the patch in hand may hide anything of it.
    asked: bool,
    /// Where its curtain cuts the rim of the patch in hand: how often, and the first two places.
    rim: (u8, [DVec2; 2]),
    number: usize,
}

/// The azimuth in the frame of a body: along it, level; square to it; up. And where the frame's own origin lies in these.
struct Seen {
    axes: [DVec3; 3],
    origin: DVec3,
}

impl Seen {
    fn new(towards: DVec2, pose: &DAffine3) -> Self {
        let back = pose.matrix3.transpose();
        let [ahead, across] = [towards, DVec2::new(towards.y, -towards.x)].map(|way| DVec3::new(way.x, 0.0, way.y));
        let origin = pose.translation;
        Self {
            axes: [ahead, across, DVec3::Y].map(|axis| back * axis),
            origin: DVec3::new(ahead.dot(origin), across.dot(origin), origin.y),
        }
    }

    /// A place of the body: mm ahead, aside, up.
    fn place(&self, at: DVec3) -> DVec3 {
        let [ahead, across, up] = self.axes;
        DVec3::new(at.dot(ahead), at.dot(across), at.dot(up)) + self.origin
    }

    /// The box about a box of the body: from so far ahead, aside and up to so far.
    fn about(&self, (low, high): (DVec3, DVec3)) -> (DVec3, DVec3) {
        let (middle, half) = (self.place((low + high) / 2.0), (high - low) / 2.0);
        let [ahead, across, up] = self.axes;
        let reach = DVec3::new(half.dot(ahead.abs()), half.dot(across.abs()), half.dot(up.abs()));
        (middle - reach, middle + reach)
    }
}

impl<'a> Sweep<'a> {
    /// Seams (each with its number, its place in plan) of such heights, looked at from `towards` (plan, unit).
    pub fn new(seams: &[(usize, DVec2)], heights: (f64, f64), towards: DVec2, slopes: &'a [f64; LEVELS]) -> Self {
        let across = DVec2::new(towards.y, -towards.x);
        let row = |&(number, at): &(usize, DVec2)| Row {
            aside: at.dot(across),
            ahead: at.dot(towards),
            curtain: Curtain::new((at, heights), towards, slopes),
            comb: Comb::new(heights),
            asked: false,
            rim: (0, [DVec2::ZERO; 2]),
            number,
        };
        let mut rows: Vec<Row> = seams.iter().map(row).collect();
        rows.sort_by(|a, b| a.aside.total_cmp(&b.aside));
        let asides = rows.iter().map(|row| row.aside).collect();
        Self { slopes, towards, rows, asides, placed: Vec::new() }
    }

    /// The share of each seam that is left in sight, with its number.
    pub fn seen(&self) -> impl Iterator<Item = (usize, f64)> {
        self.rows.iter().map(|row| (row.number, row.comb.seen()))
    }

    /// The seams that hang between two distances aside.
    fn between(&self, (left, right): (f64, f64)) -> Range<usize> {
        let first = self.asides.partition_point(|&aside| aside < left);
        let count = self.asides.get(first..).unwrap_or_default().partition_point(|&aside| aside <= right);
        first..first + count
    }

    /// Hides from every seam what stands before it.
    pub fn shade(&mut self, thing: &Thing) {
        let seen = Seen::new(self.towards, &DAffine3::IDENTITY);
        let about = seen.about((thing.standing.low, thing.standing.high));
        let range = self.between((about.0.y - 1e-6, about.1.y + 1e-6));
        if let Solid::Skin(skin) = &*thing.standing.solid {
            if self.ask(range, about) {
                self.shade_skin(skin, &thing.standing.pose);
            }
        } else {
            let rows = self.rows.get_mut(range).unwrap_or_default();
            for row in rows.iter_mut().filter(|row| !row.comb.is_hidden()) {
                thing.shade(&mut row.comb, &row.curtain);
            }
        }
    }

    /// Marks the seams of a range of which what is in a box (ahead, aside, up) may hide anything; whether there are any.
    fn ask(&mut self, range: Range<usize>, (low, high): (DVec3, DVec3)) -> bool {
        let mut any = false;
        for row in self.rows.get_mut(range).unwrap_or_default() {
            let (near, far) = (low.x - row.ahead, high.x - row.ahead);
            let shadow = |slope: f64| (low.z - far * slope, high.z - near.max(0.0) * slope);
            row.asked = far >= 0.0 && row.comb.shows(self.slopes, shadow);
            any |= row.asked;
        }
        any
    }

    /// The same for a mesh: its shadow is that of all edges at which a curtain cuts it. A sight line that meets a closed mesh
    /// leaves it through a face that looks to the eye, so the others need not be cut.
    fn shade_skin(&mut self, skin: &Skin, pose: &DAffine3) {
        let seen = Seen::new(self.towards, pose);
        let [least, .., most] = self.slopes.map(|slope| seen.axes[0] + seen.axes[2] * slope);
        let patches = skin.patches();
        for patch in patches.iter() {
            if patch.looks_away(least) && patch.looks_away(most) {
                continue;
            }
            let about = seen.about(patch.bounds);
            let range = self.between((about.0.y, about.1.y));
            if range.is_empty() || !self.ask(range.clone(), about) {
                continue;
            }
            let is_seen_whole = patch.looks_to(least) && patch.looks_to(most);
            self.placed.clear();
            self.place(patches.on_rim(patch), &seen, range.clone());
            if is_seen_whole && !self.shade_by_rim(patches.rim(patch), (range.clone(), about.0.x)) {
                continue;
            }
            let inner = patches.corners(patch).get(self.placed.len()..).unwrap_or_default();
            self.place(inner, &seen, range);
            for &face in patches.faces(patch) {
                self.shade_face(face);
            }
        }
    }

    /// Places corners of a patch; all seams that hang between any two of them are of its range.
    fn place(&mut self, corners: &[DVec3], seen: &Seen, range: Range<usize>) {
        let Self { asides, placed, .. } = self;
        let (first, beside) = (range.start, asides.get(range).unwrap_or_default());
        placed.extend(corners.iter().map(|&at| {
            let at = seen.place(at);
            let rank = first + beside.partition_point(|&aside| aside <= at.y);
            Corner { aside: at.y, at: DVec2::new(at.x, at.z), rank }
        }));
    }

    /// Hides what a patch hides of which every face looks to every eye, from its rim alone: along the line at which a curtain
    /// cuts it the shadow only rises, so where the rim is cut twice it reaches from the one cut to the other. Whether a seam is
    /// left to be asked: of which the rim is cut more often, or before which the patch (from so far ahead) stands only in part.
    fn shade_by_rim(&mut self, rim: &[[u16; 2]], (range, ahead): (Range<usize>, f64)) -> bool {
        for row in self.rows.get_mut(range.clone()).unwrap_or_default() {
            row.rim.0 = 0;
        }
        for edge in rim {
            let [Some(a), Some(b)] = edge.map(|end| self.placed.get(usize::from(end)).copied()) else { continue };
            for row in self.rows.get_mut(a.rank.min(b.rank)..a.rank.max(b.rank)).unwrap_or_default() {
                let share = (row.aside - a.aside) / (b.aside - a.aside);
                if let Some(slot) = row.rim.1.get_mut(usize::from(row.rim.0)) {
                    *slot = a.at.lerp(b.at, share) - DVec2::X * row.ahead;
                }
                row.rim.0 = row.rim.0.saturating_add(1);
            }
        }
        let mut is_left = false;
        for row in self.rows.get_mut(range).unwrap_or_default().iter_mut().filter(|row| row.asked) {
            if row.rim.0 == 2 && ahead >= row.ahead {
                row.comb.hide_edge(self.slopes, row.rim.1);
            }
            row.asked = row.rim.0 > 2 || (row.rim.0 == 2 && ahead < row.ahead);
            is_left |= row.asked;
        }
        is_left
    }

    fn shade_face(&mut self, face: [u16; 3]) {
        let corner = |number: u16| self.placed.get(usize::from(number)).copied();
        let [Some(a), Some(b), Some(c)] = face.map(corner) else { return };
        let [least, .., most] = *self.slopes;
        if looks_away([a, b, c], least) && looks_away([a, b, c], most) {
            return;
        }
        let range = a.rank.min(b.rank).min(c.rank)..a.rank.max(b.rank).max(c.rank);
        for row in self.rows.get_mut(range).unwrap_or_default().iter_mut().filter(|row| row.asked) {
            let from_row = |corner: Corner| (corner.aside - row.aside, corner.at - DVec2::X * row.ahead);
            if let Some(edge) = cut([a, b, c].map(from_row)) {
                row.comb.hide_edge(self.slopes, edge);
            }
        }
    }
}

/// Whether a face, anticlockwise seen from outside, looks away from an eye that sight lines of a slope come from.
fn looks_away([a, b, c]: [Corner; 3], slope: f64) -> bool {
    let from_a = |corner: Corner| (corner.aside - a.aside, corner.at - a.at);
    let (one, other) = (from_a(b), from_a(c));
    // Aside, ahead and up are a left-handed frame: outward is the product turned round.
    let ahead = one.1.y * other.0 - one.0 * other.1.y;
    let up = one.0 * other.1.x - one.1.x * other.0;
    ahead + up * slope >= 0.0
}

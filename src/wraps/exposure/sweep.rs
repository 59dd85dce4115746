//! All seams of a course looked at along one azimuth at once.
//!
//! Their curtains are parallel: sorted by how far they hang aside, each triangle is asked only for those that cut it, without
//! a search, and its corners are placed once for all of them.
//!
//! ```text
//!   seams in order, aside ->
//!   |  |  |  |  |  |  |  |
//!   |  | /\  |  |  |  |  |     this triangle is cut by two of them
//!   |  |/  \ |  |  |  |  |
//!   |  |----\|  |  |  |  |
//! ```

use std::ops::Range;

use glam::{DVec2, DVec3};

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
    /// Corners of one mesh as seen from here, kept to be filled again.
    placed: Vec<Corner>,
}

/// A corner of a mesh as seen along the azimuth.
#[derive(Clone, Copy, Debug)]
struct Corner {
    /// How far aside it lies, and where (mm ahead, mm up).
    aside: f64,
    at: DVec2,
    /// How many seams hang no further aside than it lies: between those of its corners a triangle is cut.
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
    /// Whether the solid in hand may hide anything of it.
    asked: bool,
    number: usize,
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
            number,
        };
        let mut rows: Vec<Row> = seams.iter().map(row).collect();
        rows.sort_by(|a, b| a.aside.total_cmp(&b.aside));
        Self { slopes, towards, rows, placed: Vec::new() }
    }

    /// The share of each seam that is left in sight, with its number.
    pub fn seen(&self) -> impl Iterator<Item = (usize, f64)> {
        self.rows.iter().map(|row| (row.number, row.comb.seen()))
    }

    /// The seams that hang between two distances aside.
    fn between(&self, (left, right): (f64, f64)) -> Range<usize> {
        let first = self.rows.partition_point(|row| row.aside < left);
        let count = self.rows.get(first..).unwrap_or_default().partition_point(|row| row.aside <= right);
        first..first + count
    }

    /// Hides from every seam what stands before it.
    pub fn shade(&mut self, thing: &Thing) {
        let (low, high) = (thing.standing.low, thing.standing.high);
        let (middle, half) = ((low + high) / 2.0, (high - low) / 2.0);
        let across = DVec3::new(self.towards.y, 0.0, -self.towards.x);
        let (aside, reach) = (middle.dot(across), half.dot(across.abs()) + 1e-6);
        let range = self.between((aside - reach, aside + reach));
        let Some(rows) = self.rows.get_mut(range) else { return };
        if let Solid::Skin(skin) = &*thing.standing.solid {
            let mut any = false;
            for row in rows {
                row.asked =
                    row.curtain.reaches(low, high) && row.comb.shows(self.slopes, row.curtain.shadow(low, high));
                any |= row.asked;
            }
            if any {
                self.shade_skin(skin, thing);
            }
        } else {
            for row in rows.iter_mut().filter(|row| !row.comb.is_hidden()) {
                thing.shade(&mut row.comb, &row.curtain);
            }
        }
    }

    /// The same for a mesh: its shadow is that of all edges at which a curtain cuts it.
    fn shade_skin(&mut self, skin: &Skin, thing: &Thing) {
        let mesh = skin.mesh();
        let pose = thing.standing.pose;
        let towards = self.towards;
        self.placed.clear();
        self.placed.extend(mesh.positions.iter().map(|&at| {
            let at = pose.transform_point3(at);
            let plan = DVec2::new(at.x, at.z);
            let aside = plan.x * towards.y - plan.y * towards.x;
            let rank = self.rows.partition_point(|row| row.aside <= aside);
            Corner { aside, at: DVec2::new(plan.dot(towards), at.y), rank }
        }));
        for &[a, b, c] in &mesh.triangles {
            let corner = |number: u32| self.placed.get(number as usize);
            let (Some(a), Some(b), Some(c)) = (corner(a), corner(b), corner(c)) else { continue };
            let range = a.rank.min(b.rank).min(c.rank)..a.rank.max(b.rank).max(c.rank);
            for row in self.rows.get_mut(range).unwrap_or_default().iter_mut().filter(|row| row.asked) {
                let from_row = |corner: &Corner| (corner.aside - row.aside, corner.at - DVec2::X * row.ahead);
                if let Some(edge) = cut([a, b, c].map(from_row)) {
                    row.comb.hide_edge(self.slopes, edge);
                }
            }
        }
        for row in &mut self.rows {
            row.asked = false;
        }
    }
}

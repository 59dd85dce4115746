//! The line at one height through a grid of heights, by marching from cell to cell (Lorensen and Cline, 1987, in the plane).
//!
//! ```text
//!     o   o   o      o outside, # inside
//!       ,-*-,        *  where the line passes between two cells
//!     o * # * o
//!       '-*-'        The march keeps the figure at its right hand, from one such place to the next.
//! ```

use glam::DVec2;

use super::super::region::Ring;
use super::heights::Heights;

/// Where the line passes: from a cell inside to its neighbour outside, which lies to the left (0), above, right or below (3).
#[derive(Clone, Copy, PartialEq, Eq)]
struct Crossing {
    inside: usize,
    way: usize,
}

/// The rings at the level, in pixels, y up.
pub(super) fn rings(heights: &Heights) -> Vec<Ring> {
    let mut march = March { heights, passed: vec![0; heights.values.len().div_ceil(64)] };
    let mut rings = Vec::new();
    for (at, pair) in heights.values.array_windows().enumerate() {
        let &[before, here] = pair;
        // Every ring has a place where it is entered from the left.
        if before < heights.level && here >= heights.level && !march.has_passed(at + 1) {
            rings.push(march.round(Crossing { inside: at + 1, way: 0 }));
        }
    }
    rings
}

struct March<'a> {
    heights: &'a Heights,
    /// One bit for each cell: its crossing to the left is in a ring already.
    passed: Vec<u64>,
}

impl March<'_> {
    fn has_passed(&self, at: usize) -> bool {
        self.passed.get(at / 64).is_some_and(|bits| bits >> (at % 64) & 1 == 1)
    }

    /// Once round, from a crossing back to it.
    fn round(&mut self, start: Crossing) -> Ring {
        let (mut ring, mut here) = (Ring::new(), start);
        loop {
            if here.way == 0
                && let Some(bits) = self.passed.get_mut(here.inside / 64)
            {
                *bits |= 1 << (here.inside % 64);
            }
            ring.push(self.place(here));
            here = self.next(here);
            if here == start {
                return ring;
            }
        }
    }

    fn height(&self, at: usize) -> u16 {
        self.heights.values.get(at).copied().unwrap_or(0)
    }

    fn is_inside(&self, at: usize) -> bool {
        self.height(at) >= self.heights.level
    }

    /// The neighbour of a cell. The rim is outside, so that no neighbour of a cell inside is off the grid.
    fn beside(&self, at: usize, way: usize) -> usize {
        match way % 4 {
            0 => at.wrapping_sub(1),
            1 => at.wrapping_sub(self.heights.columns),
            2 => at + 1,
            _ => at + self.heights.columns,
        }
    }

    fn next(&self, Crossing { inside, way }: Crossing) -> Crossing {
        let turn = (way + 1) % 4;
        let (outside, ahead) = (self.beside(inside, way), self.beside(inside, turn));
        let across = self.beside(ahead, way);
        let joins = match (self.is_inside(ahead), self.is_inside(across)) {
            (true, crosses) => crosses,
            (false, false) => false,
            // Two cells inside meet at a corner: they are one if the middle between all four is inside.
            (false, true) => {
                let four = [inside, outside, ahead, across].map(|at| u32::from(self.height(at)));
                four.iter().sum::<u32>() >= 4 * u32::from(self.heights.level)
            }
        };
        if joins {
            Crossing { inside: across, way: (turn + 2) % 4 }
        } else if self.is_inside(ahead) {
            Crossing { inside: ahead, way }
        } else {
            Crossing { inside, way: turn }
        }
    }

    /// Where the height between the two cells is the level's.
    fn place(&self, Crossing { inside, way }: Crossing) -> DVec2 {
        let outside = self.beside(inside, way);
        let [high, low] = [inside, outside].map(|at| f64::from(self.height(at)));
        let share = (high - self.heights.line) / (high - low).max(1.0);
        let at = self.middle(inside).lerp(self.middle(outside), share);
        DVec2::new(at.x, -at.y) * self.heights.cell as f64 + DVec2::Y * self.heights.picture_height
    }

    /// Middle of a cell, cells from the picture's upper left, y down: the rim is one cell wide.
    fn middle(&self, at: usize) -> DVec2 {
        let (column, row) = (at % self.heights.columns, at / self.heights.columns);
        DVec2::new(column as f64 - 0.5, row as f64 - 0.5)
    }
}

//! Whether a course can be cut with every wish kept, whatever it costs.

use super::lattice::Lattice;
use super::path::Line;

/// Is there a cutting without a seam where none should be and without a strip below the least width?
pub(in crate::wraps) fn possible(lattice: &Lattice) -> bool {
    let line = Line::new(lattice);
    let (first, last) = lattice.first_seams();
    (first..=last).filter(|&start| line.may_end(start)).any(|start| line.leads(start, start + lattice.count_around()))
}

impl Line<'_> {
    /// May a strip end at a stop?
    fn may_end(&self, stop: usize) -> bool {
        self.seam_cost(stop).is_some_and(|seam| seam.broken == 0)
    }

    /// Do strips lead from one stop to another?
    fn leads(&self, start: usize, end: usize) -> bool {
        // Of each stop from the start on: how many up to there can be reached.
        let mut reached = vec![1_usize];
        // The rightmost stop that is at least the least width to the left.
        let mut wide_enough = start;
        for stop in start + 1..=end {
            while wide_enough < stop && self.width(wide_enough + 1, stop) >= self.least() {
                wide_enough += 1;
            }
            let up_to =
                |stop: usize| stop.checked_sub(start).and_then(|index| reached.get(index).copied()).unwrap_or(0);
            let first = self.first(stop).max(start);
            let before = if first > start { up_to(first - 1) } else { 0 };
            let is_wide = self.width(wide_enough, stop) >= self.least();
            let reachable = is_wide && self.may_end(stop) && first <= wide_enough && up_to(wide_enough) > before;
            let count = reached.last().copied().unwrap_or(0) + usize::from(reachable);
            if stop == end {
                return reachable;
            }
            reached.push(count);
        }
        false
    }
}

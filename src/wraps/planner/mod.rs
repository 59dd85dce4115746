//! Where the seams fall: the exact optimum on a lattice of places.
//!
//! In: a [`Lattice`], whole numbers only (printed µm, milliardths of a seam in full view), so that equal plans cost exactly
//! the same however the cake is turned. Out: the [`Cutting`] of least [`Cost`]. `lattice` says what a cutting costs, `path`
//! finds the best one of so many strips from a given seam, [`best`] tries numbers of strips and first seams.
//!
//! ```text
//!   places   |   .   .   o   .   .   .   x   x   x   .   .   |   .: may hold a seam  x: should not  o: pinned
//!   strips   |-----------|---------------------------|-------|
//! ```
//!
//! Of cuttings that cost the same, that is best whose seam nearest the front is furthest from it; then the one of fewer strips,
//! the one whose seams lie nearer the back, the one of more even strips. So no tie ever puts a seam before the customer.
//!
//! Two facts make it fast. A strip's cost is a convex function of its width, so of two best cuttings with as many strips
//! the seam-by-seam left ones and the seam-by-seam right ones are best cuttings too: best cuttings from neighbouring first
//! seams need not cross, and each is sought between those already found (divide and conquer on the first seam; within one
//! layer the same holds for the best previous seam: the "monotone minima" of totally monotone matrices, Aggarwal, Klawe,
//! Moran, Shor and Wilber 1987, Algorithmica 2). And two neighbouring strips that one sheet holds are never better than one,
//! so that there are at most twice as many strips as fit end to end.

#[cfg(test)]
mod brute;
mod lattice;
mod path;
mod possible;
#[cfg(test)]
mod tests;

pub(super) use lattice::{Cutting, FULL_VIEW, Lattice, Place, Prices, WISH};
pub(super) use possible::possible;

use path::{Line, Path};

/// The cutting of least cost; `None` only where a gap between two places is longer than a strip.
pub(super) fn best(lattice: &Lattice) -> Option<Cutting> {
    let line = Line::new(lattice);
    let mut best: Option<Cutting> = None;
    for strips in lattice.numbers_of_strips() {
        let least = lattice.least_cost(strips);
        if best.as_ref().is_some_and(|best| best.cost.broken == 0 && least > best.cost.sum) {
            continue;
        }
        let Some(path) = of_number(lattice, &line, strips) else { continue };
        let found = lattice.cutting(&path.stops, path.cost, strips);
        if best.as_ref().is_none_or(|best| found.cost < best.cost) {
            best = Some(found);
        }
    }
    best
}

/// The best cutting into so many strips.
fn of_number(lattice: &Lattice, line: &Line, strips: usize) -> Option<Path> {
    let (first, last) = lattice.first_seams();
    let around = lattice.count_around();
    let path = |start: usize, between: (Option<&Path>, Option<&Path>)| {
        let ends = (start, start + around);
        line.path(strips, ends, between)
    };
    let low = path(first, (None, None));
    if last == first {
        return low;
    }
    let high = path(last, (low.as_ref(), None));
    let mut best = None;
    // Stretches of first seams still to be tried, each between two that have been.
    let mut open = vec![((first, low.clone()), (last, high.clone()))];
    keep(&mut best, low);
    keep(&mut best, high);
    while let Some((low, high)) = open.pop() {
        if high.0 - low.0 < 2 {
            continue;
        }
        let middle = usize::midpoint(low.0, high.0);
        let found = path(middle, (low.1.as_ref(), high.1.as_ref()));
        keep(&mut best, found.clone());
        // Where none leads from the middle, its neighbours are bounded as it was.
        let (left, right) = (found.clone().or_else(|| high.1.clone()), found.or_else(|| low.1.clone()));
        open.push((low, (middle, left)));
        open.push(((middle, right), high));
    }
    best
}

fn keep(best: &mut Option<Path>, found: Option<Path>) {
    if let Some(found) = found
        && best.as_ref().is_none_or(|best| found.cost < best.cost)
    {
        *best = Some(found);
    }
}

//! Every cutting of a small lattice, tried one by one.

use super::lattice::{Cost, Cutting, Lattice};

/// The cost of a cutting, reckoned from its definition; `None` where a strip is too long.
pub(super) fn cost_of(lattice: &Lattice, seams: &[usize]) -> Option<Cost> {
    let places = &lattice.places;
    let mut ends: Vec<i64> = seams.iter().map(|&seam| places[seam].run).collect();
    match lattice.round {
        Some(round) => ends.push(ends[0] + round),
        None => {
            ends.insert(0, places[0].run);
            ends.push(places[places.len() - 1].run);
        }
    }
    let widths: Vec<i64> = ends.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let strips = widths.iter().map(|&width| lattice.strip(width));
    let joins = seams.iter().map(|&seam| lattice.seam(&places[seam]));
    let cost = strips.chain(joins).sum::<Cost>() + lattice.number(widths.len());
    let last = widths.len() - 1;
    let longer = |at: usize| if at == last && lattice.round.is_none() { lattice.last_longer } else { 0 };
    widths.iter().enumerate().all(|(at, &width)| width <= lattice.longest + longer(at)).then_some(cost)
}

/// The best cutting.
pub(super) fn best(lattice: &Lattice) -> Option<Cutting> {
    let closed = lattice.round.is_some();
    let count = lattice.places.len();
    let inner: Vec<usize> = if closed { (0..count).collect() } else { (1..count - 1).collect() };
    let mut best: Option<Cutting> = None;
    for chosen in 0_u32..1 << inner.len() {
        let is_chosen = |bit: usize| chosen >> bit & 1 == 1;
        let seams: Vec<usize> = (0..inner.len()).filter(|&bit| is_chosen(bit)).map(|bit| inner[bit]).collect();
        if (closed && seams.is_empty())
            || inner.iter().any(|place| lattice.places[*place].pinned && !seams.contains(place))
        {
            continue;
        }
        let Some(cost) = cost_of(lattice, &seams) else { continue };
        if best.as_ref().is_none_or(|best| cost < best.cost) {
            best = Some(Cutting { seams, cost });
        }
    }
    best
}

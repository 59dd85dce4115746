//! The best cutting into so many strips from one place to another, seam by seam.

use super::lattice::{Cost, Lattice};

/// Where the strips begin and end, from the first to the last, and what they cost without what their number costs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Path {
    pub stops: Vec<usize>,
    pub cost: Cost,
}

/// A lattice unrolled: twice round a closed one, so that every cutting is a way to the right.
#[derive(Debug)]
pub(super) struct Line<'a> {
    lattice: &'a Lattice,
    stops: Vec<Stop>,
}

#[derive(Clone, Copy, Debug)]
struct Stop {
    run: i64,
    seam: Cost,
    /// The leftmost stop from which one strip reaches here: not too long, and over no pin.
    first: usize,
}

/// The best ways to the stops of one layer, the first of which is `start`.
struct Layer {
    start: usize,
    /// Cost, and the stop before; `None` where no way leads.
    ways: Vec<Option<(Cost, usize)>>,
}

impl<'a> Line<'a> {
    pub fn new(lattice: &'a Lattice) -> Self {
        let places = &lattice.places;
        let second = lattice.round.into_iter().flat_map(|round| places.iter().map(move |place| (place, round)));
        let unrolled = places.iter().map(|place| (place, 0)).chain(second);
        let open_end = lattice.round.is_none().then(|| places.len().saturating_sub(1));
        let mut stops: Vec<Stop> = Vec::with_capacity(2 * places.len());
        let (mut first, mut pin) = (0, 0);
        for (index, (place, further)) in unrolled.enumerate() {
            let run = place.run + further;
            while first < index && stops.get(first).is_some_and(|stop| run - stop.run > lattice.longest) {
                first += 1;
            }
            let end = open_end == Some(index) || (open_end.is_some() && index == 0);
            let seam = if end { Cost::default() } else { lattice.seam(place) };
            if open_end == Some(index) {
                let longest = lattice.longest + lattice.last_longer;
                first = stops.partition_point(|stop| run - stop.run > longest);
            }
            stops.push(Stop { run, seam, first: first.max(pin) });
            if place.pinned {
                pin = index;
            }
        }
        Self { lattice, stops }
    }

    /// What a seam at a stop costs.
    pub fn seam_cost(&self, stop: usize) -> Option<Cost> {
        self.stops.get(stop).map(|stop| stop.seam)
    }

    /// The leftmost stop from which one strip reaches a stop.
    pub fn first(&self, stop: usize) -> usize {
        self.stops.get(stop).map_or(usize::MAX, |stop| stop.first)
    }

    /// Printed length between two stops; below zero when the second lies left of the first.
    pub fn width(&self, left: usize, right: usize) -> i64 {
        let run = |stop: usize| self.stops.get(stop).map_or(0, |stop| stop.run);
        run(right) - run(left)
    }

    /// The least width of a strip.
    pub const fn least(&self) -> i64 {
        self.lattice.least
    }

    /// The best way in so many strips from one stop to another, between two ways that it need not cross.
    pub fn path(
        &self,
        strips: usize,
        (start, end): (usize, usize),
        (left, right): (Option<&Path>, Option<&Path>),
    ) -> Option<Path> {
        let windows = self.windows(strips, (start, end), (left, right))?;
        let mut layers = vec![Layer { start, ways: vec![Some((Cost::default(), start))] }];
        for &(low, high) in windows.iter().skip(1) {
            let before = layers.last()?;
            let mut layer = Layer { start: low, ways: vec![None; high + 1 - low] };
            self.fill((before, &mut layer), (low, high), (before.start, before.start + before.ways.len() - 1));
            layers.push(layer);
        }
        let mut at = end;
        let (cost, _) = layers.last()?.way(end)?;
        let mut stops = vec![end];
        for layer in layers.iter().skip(1).rev() {
            at = layer.way(at)?.1;
            stops.push(at);
        }
        stops.reverse();
        Some(Path { stops, cost })
    }

    /// Between which stops each strip may end, the start included.
    fn windows(
        &self,
        strips: usize,
        (start, end): (usize, usize),
        (left, right): (Option<&Path>, Option<&Path>),
    ) -> Option<Vec<(usize, usize)>> {
        let mut near = vec![end];
        for _ in 0..strips {
            let before = near.last().and_then(|&stop| self.stops.get(stop))?.first;
            near.push(before.max(start));
        }
        near.reverse();
        if near.first() != Some(&start) {
            return None;
        }
        let mut far = start;
        let mut windows = vec![(start, start)];
        for (layer, &near) in near.iter().enumerate().take(strips).skip(1) {
            // Short of the end, which a last strip may reach from further away than its neighbours are reached.
            let short = self.stops.get(..end)?;
            far = short.partition_point(|stop| stop.first <= far).checked_sub(1)?.min(end.checked_sub(strips - layer)?);
            let bound = |path: Option<&Path>| path.and_then(|path| path.stops.get(layer).copied());
            let low = near.max(start + layer).max(bound(left).unwrap_or(0));
            let high = far.min(bound(right).unwrap_or(usize::MAX));
            if low > high {
                return None;
            }
            windows.push((low, high));
        }
        windows.push((end, end));
        Some(windows)
    }

    /// Finds the best way to each stop of a layer: that to the middle one first, then those to its left from no further
    /// right, those to its right from no further left.
    fn fill(&self, (before, layer): (&Layer, &mut Layer), (low, high): (usize, usize), from: (usize, usize)) {
        let middle = usize::midpoint(low, high);
        let Some(stop) = self.stops.get(middle) else { return };
        let mut best: Option<(Cost, usize)> = None;
        for previous in from.0.max(stop.first)..=from.1.min(middle.saturating_sub(1)) {
            let way = before.way(previous).zip(self.stops.get(previous));
            let Some(((cost, _), begin)) = way else { continue };
            let cost = cost + self.lattice.strip(stop.run - begin.run);
            if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, previous));
            }
        }
        if let Some(slot) = layer.ways.get_mut(middle - layer.start) {
            *slot = best.map(|(cost, previous)| (cost + stop.seam, previous));
        }
        let split = |otherwise: usize| best.map_or(otherwise, |(_, previous)| previous);
        if low < middle {
            self.fill((before, &mut *layer), (low, middle - 1), (from.0, split(from.1)));
        }
        if middle < high {
            self.fill((before, layer), (middle + 1, high), (split(from.0), from.1));
        }
    }
}

impl Layer {
    fn way(&self, stop: usize) -> Option<(Cost, usize)> {
        stop.checked_sub(self.start).and_then(|index| self.ways.get(index).copied().flatten())
    }
}

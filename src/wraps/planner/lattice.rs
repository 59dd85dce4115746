//! What is to be cut, and what a cutting costs.

use std::iter::Sum;
use std::ops::Add;

/// What a seam in full view costs.
pub(in crate::wraps) const FULL_VIEW: f64 = 1e12;
/// So many strips more than the fewest are tried at most: exact where up to forty strips cover the course end to end.
const MOST_MORE: usize = 40;
/// What a broken wish counts: a seam where none should be, or a strip that lacks its whole least width.
pub(in crate::wraps) const WISH: i64 = 1_000_000_000;

/// A place that may hold a seam.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(in crate::wraps) struct Place {
    /// Printed length from the lattice's first end, µm; grows from place to place.
    pub run: i64,
    /// Cost of a seam here.
    pub seam: i64,
    /// No seam should be here.
    pub barred: bool,
    /// A seam must be here.
    pub pinned: bool,
    /// How near it is to the front, so steeply that of several seams the one nearest the front counts; decides between
    /// cuttings of equal cost.
    pub front: i64,
    /// How far it is from the back; decides between cuttings that are equal in all that and in their number of strips.
    pub off_back: i64,
}

/// What strips cost, by their number and width.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(in crate::wraps) struct Prices {
    /// α: of each strip.
    pub strip: i64,
    /// β: of each µm that a strip lacks to the comfortable width.
    pub sliver: i64,
    /// γ: of each sheet begun.
    pub sheet: i64,
    /// Strips that one sheet holds.
    pub strips_on_sheet: usize,
}

/// A course to be cut.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in crate::wraps) struct Lattice {
    /// From left to right. Of an open stretch the first and the last are its ends, which are no seams.
    pub places: Vec<Place>,
    /// Printed length once round, µm; `None` for an open stretch.
    pub round: Option<i64>,
    /// Longest strip without its overlap, µm.
    pub longest: i64,
    /// How much longer the last strip of an open stretch may be, which has no overlap, µm.
    pub last_longer: i64,
    /// Least width of a strip without its overlap, µm.
    pub least: i64,
    /// A strip that covers at least so much is no sliver, µm.
    pub comfortable: i64,
    /// What strips cost.
    pub prices: Prices,
}

/// The cost of a cutting: the first figure that differs decides.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::wraps) struct Cost {
    /// Broken wishes: seams where none should be, and widths below the least as shares of it.
    pub broken: i64,
    /// The stated cost.
    pub sum: i64,
    /// How near the seams are to the front: less where the one nearest to it is further from it.
    pub front: i64,
    /// Number of strips.
    pub strips: usize,
    /// How far the seams are from the back, together.
    pub off_back: i64,
    /// Sum of the squares of the widths, µm²: least when all are even.
    pub uneven: i64,
}

impl Add for Cost {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            broken: self.broken + other.broken,
            sum: self.sum + other.sum,
            front: self.front + other.front,
            strips: self.strips + other.strips,
            off_back: self.off_back + other.off_back,
            uneven: self.uneven + other.uneven,
        }
    }
}

impl Sum for Cost {
    fn sum<I: Iterator<Item = Self>>(costs: I) -> Self {
        costs.fold(Self::default(), Add::add)
    }
}

/// A course, cut.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in crate::wraps) struct Cutting {
    /// Which places hold a seam, from left to right.
    pub seams: Vec<usize>,
    /// What it costs.
    pub cost: Cost,
}

impl Lattice {
    /// Printed length of the whole, µm.
    pub fn length(&self) -> i64 {
        let ends = self.places.first().zip(self.places.last());
        self.round.unwrap_or_else(|| ends.map_or(0, |(first, last)| last.run - first.run))
    }

    /// The cost of a seam at a place.
    pub fn seam(&self, place: &Place) -> Cost {
        Cost {
            broken: if place.barred && !place.pinned { WISH } else { 0 },
            sum: place.seam,
            front: place.front,
            off_back: place.off_back,
            ..Cost::default()
        }
    }

    /// The cost of a strip of a width without its overlap, µm: convex in the width.
    pub fn strip(&self, width: i64) -> Cost {
        Cost {
            broken: (WISH / self.least.max(1)).max(1) * (self.least - width).max(0),
            sum: self.prices.sliver * (self.comfortable - width).max(0),
            uneven: width * width,
            ..Cost::default()
        }
    }

    /// What so many strips cost by their number alone.
    pub fn number(&self, strips: usize) -> Cost {
        let sheets = strips.div_ceil(self.prices.strips_on_sheet.max(1));
        Cost { sum: self.prices.strip * strips as i64 + self.prices.sheet * sheets as i64, strips, ..Cost::default() }
    }

    /// No cutting into so many strips costs less than this, wishes apart.
    pub(super) fn least_cost(&self, strips: usize) -> i64 {
        let seams = if self.round.is_some() { strips } else { strips.saturating_sub(1) };
        let free = self.places.iter().map(|place| place.seam).min().unwrap_or(0);
        self.number(strips).sum + free * seams as i64
    }

    /// From as many strips as fit end to end to as many as can be of use: two neighbours about a seam that is not pinned
    /// are together longer than the longest, or one strip would be better.
    pub(super) fn numbers_of_strips(&self) -> std::ops::RangeInclusive<usize> {
        let (length, longest) = (self.length(), self.longest.max(1));
        let fewest = (length - self.last_longer + longest - 1) / longest;
        let pins = self.places.iter().filter(|place| place.pinned).count();
        let (fewest, most) = (fewest.max(1) as usize, (2 * length / longest) as usize + pins + 1);
        fewest..=most.min(fewest + pins + MOST_MORE)
    }

    /// The places among which the first seam lies, as first and last: the first pin, or any run of one longest strip.
    pub(super) fn first_seams(&self) -> (usize, usize) {
        let Some(_) = self.round else { return (0, 0) };
        if let Some(pin) = self.places.iter().position(|place| place.pinned) {
            return (pin, pin);
        }
        let first = self.places.first().map_or(0, |place| place.run);
        let within = self.places.iter().take_while(|place| place.run <= first + self.longest).count();
        // All of (first, first + longest]; the whole course where that is shorter.
        if within == self.places.len() { (0, within.saturating_sub(1)) } else { (1, within.saturating_sub(1).max(1)) }
    }

    /// How many places further a cutting ends than it begins.
    pub(super) fn count_around(&self) -> usize {
        if self.round.is_some() { self.places.len() } else { self.places.len().saturating_sub(1) }
    }

    /// A cutting from the stops of a path.
    pub(super) fn cutting(&self, stops: &[usize], cost: Cost, strips: usize) -> Cutting {
        let count = self.places.len().max(1);
        let inner = if self.round.is_some() { stops.len() } else { stops.len().saturating_sub(1) };
        let mut seams: Vec<usize> = stops.iter().take(inner).skip(1).map(|stop| stop % count).collect();
        seams.sort_unstable();
        Cutting { seams, cost: cost + self.number(strips) }
    }
}

//! What to say when no cutting keeps every wish: which limit stops it, and the nearest changes that would let it be made.

use super::lay::{Laid, MOST_STRIPS, Spot};
use super::plan::Planned;
use super::planner::{Lattice, WISH, possible};
use crate::findings::{Code, Finding, Place};
use crate::measure::{Length, Unit, show_length};

/// The finding on a wrap whose best cutting still breaks a wish; `None` where it keeps all.
pub(super) fn impossible(planned: &Planned, (place, unit): (&Place, Unit)) -> Option<Finding> {
    if planned.cutting.cost.broken == 0 && !planned.is_beyond_any_sheet() {
        return None;
    }
    let says = Says { laid: &planned.laid, unit };
    let lattice = &planned.lattice;
    let longer = longer_sheet(planned);
    let mends = [
        longer.map(|by| format!("take a sheet that prints {} longer", says.at_least(by))),
        pin_to_drop(lattice, &planned.laid).map(|spot| format!("drop the pin at {}", says.place(spot))),
        says.seams_to_allow(planned),
        narrower(lattice).and_then(|least| says.at_most(least)),
    ];
    let mends: Vec<String> = mends.into_iter().flatten().collect();
    let mend = if mends.is_empty() { "lift some of these limits".to_owned() } else { mends.join(", or ") };
    let finding = Finding::new(Code::NoSeamPlan, place, says.limit(planned), mend);
    Some(longer.map_or_else(|| finding.clone(), |by| finding.clone().by(Length::mm(by))))
}

impl Planned {
    /// The sheet yields so little that the course was cut as if it yielded more.
    fn is_beyond_any_sheet(&self) -> bool {
        self.longest() * MOST_STRIPS as f64 <= self.laid.length
    }

    /// Longest strip that the sheet yields, its overlap taken off, mm.
    fn longest(&self) -> f64 {
        self.ways.iter().map(|way| way.longest).fold(0.0, f64::max) - self.laid.overlap
    }
}

/// How much longer a sheet would do with everything else kept, mm.
fn longer_sheet(planned: &Planned) -> Option<f64> {
    let longest = |longest: i64| Lattice { longest, ..planned.lattice.clone() };
    let have = (planned.longest() * 1e3) as i64;
    let needed = first_that(have, planned.lattice.length(), |micro| possible(&longest(micro)))?;
    (needed > have).then(|| (needed - have) as f64 / 1e3)
}

/// The widest least strip that would do with everything else kept, mm.
fn narrower(lattice: &Lattice) -> Option<f64> {
    let narrower = |by: i64| Lattice { least: lattice.least - by, ..lattice.clone() };
    let by = first_that(0, lattice.least - 1, |by| possible(&narrower(by)))?;
    Some((lattice.least - by) as f64 / 1e3)
}

/// The first pin that would do to drop.
fn pin_to_drop<'a>(lattice: &Lattice, laid: &'a Laid) -> Option<&'a Spot> {
    let pins = laid.spots.iter().enumerate().filter(|(_, spot)| spot.pinned);
    let without = |at: usize| {
        let mut lattice = lattice.clone();
        if let Some(place) = lattice.places.get_mut(at) {
            place.pinned = false;
        }
        lattice
    };
    pins.into_iter().find(|&(at, _)| possible(&without(at))).map(|(_, spot)| spot)
}

/// The least whole number between two for which something holds that then holds for all larger ones.
fn first_that(least: i64, most: i64, holds: impl Fn(i64) -> bool) -> Option<i64> {
    let (mut low, mut high) = (least, most);
    if low > high || !holds(high) {
        return None;
    }
    while high - low > 1 {
        let middle = i64::midpoint(low, high);
        if holds(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(high)
}

/// Places and lengths of one wrap in words.
struct Says<'a> {
    laid: &'a Laid,
    unit: Unit,
}

impl Says<'_> {
    fn length(&self, mm: f64) -> String {
        show_length(Length::mm(mm), self.unit)
    }

    fn place(&self, spot: &Spot) -> String {
        self.length(self.laid.reading(spot.along))
    }

    /// A length rounded up to what a ruler shows.
    fn at_least(&self, mm: f64) -> String {
        let step = self.step();
        self.length((mm / step - 0.005).ceil() * step)
    }

    /// A narrower least strip, rounded down to what a ruler shows; nothing where that is nothing.
    fn at_most(&self, mm: f64) -> Option<String> {
        let step = self.step();
        let shown = (mm / step + 0.005).floor() * step;
        (shown > 0.0).then(|| format!("allow strips of {}", self.length(shown)))
    }

    fn step(&self) -> f64 {
        if self.unit == Unit::Inch { 25.4 / 16.0 } else { 1.0 }
    }

    /// Where the best cutting puts seams that should not be there, if that is all that is wrong with it.
    fn seams_to_allow(&self, planned: &Planned) -> Option<String> {
        let spots = self.laid.chosen(&planned.cutting);
        let places: Vec<String> =
            spots.filter(|spot| spot.barred && !spot.pinned).map(|spot| self.place(spot)).collect();
        let is_all = planned.cutting.cost.broken == WISH * places.len() as i64;
        (is_all && !places.is_empty() && !planned.is_beyond_any_sheet())
            .then(|| format!("allow a seam at {} inside the stretch without seams", places.join(" and ")))
    }

    /// Which limit stops it.
    fn limit(&self, planned: &Planned) -> String {
        let (laid, longest) = (self.laid, planned.longest());
        let yields = self.length(longest.max(0.0));
        if longest < laid.least || planned.is_beyond_any_sheet() {
            let less = if laid.overlap > 0.0 { ", once the overlap is taken off" } else { "" };
            let least = self.length(laid.least);
            return format!("its sheet yields strips of up to {yields}{less}; a strip should have at least {least}");
        }
        if !laid.spots.iter().any(Spot::may_hold_a_seam) {
            return format!("no seam may fall anywhere on the course; a strip from its sheet covers {yields} of it");
        }
        let (barred, close) = (self.widest_bar(), self.closest_pins());
        if let Some((left, right, width)) = barred.filter(|bar| bar.2 > longest + 0.002) {
            let (left, right, width) = (self.place(left), self.place(right), self.length(width));
            return format!(
                "no seam may fall between {left} and {right}, {width} of print; a strip from its sheet covers {yields}"
            );
        }
        let least = self.length(laid.least);
        if let Some((left, right, width)) = close.filter(|pins| pins.2 < laid.least - 0.002) {
            let (left, right, width) = (self.place(left), self.place(right), self.length(width));
            return format!(
                "the seams at {left} and {right} are only {width} apart; a strip should have at least {least}"
            );
        }
        let asked = match (laid.spots.iter().any(|spot| spot.pinned), laid.spots.iter().any(|spot| spot.barred)) {
            (true, true) => "the pins and the stretches without seams",
            (true, false) => "the pins",
            (false, true) => "the stretches without seams",
            (false, false) => "the course",
        };
        format!("strips between {least} and {yields} do not fit {asked}")
    }

    /// The two neighbouring places that may hold a seam with the most print between them.
    fn widest_bar(&self) -> Option<(&Spot, &Spot, f64)> {
        self.neighbours(Spot::may_hold_a_seam).max_by(|a, b| a.2.total_cmp(&b.2))
    }

    /// The two neighbouring fixed places, pins or ends, with the least print between them.
    fn closest_pins(&self) -> Option<(&Spot, &Spot, f64)> {
        self.neighbours(|spot| spot.pinned).min_by(|a, b| a.2.total_cmp(&b.2))
    }

    /// Neighbours among some of the places, the ends of an open stretch always among them, with the print between.
    fn neighbours(&self, is_one: impl Fn(&Spot) -> bool) -> impl Iterator<Item = (&Spot, &Spot, f64)> {
        let (closed, last) = (self.laid.closed, self.laid.spots.len().saturating_sub(1));
        let spots: Vec<&Spot> = (self.laid.spots.iter().enumerate())
            .filter(|&(at, spot)| is_one(spot) || (!closed && (at == 0 || at == last)))
            .map(|(_, spot)| spot)
            .collect();
        let round = spots.first().zip(spots.last()).filter(|_| closed).map(|(&first, &last)| (last, first));
        let pairs: Vec<(&Spot, &Spot)> =
            spots.iter().copied().zip(spots.iter().copied().skip(1)).chain(round).collect();
        let length = self.laid.length;
        pairs.into_iter().map(move |(left, right)| {
            let between = right.run - left.run;
            (left, right, if between <= 0.0 { between + length } else { between })
        })
    }
}

//! A wrap laid out as places that may hold a seam: every millimetre or sixteenth of an inch round the course, with the pins,
//! the corners and the ends of the stretches without seams among them.

use glam::DVec2;

use super::planner::{Cutting, FULL_VIEW, Lattice, Place, Prices};
use super::way::Way;
use super::weights::Weights;
use crate::cake::{CakeCourse, CakeTier, lines_out};
use crate::design::model::{Design, Wrap};
use crate::measure::Unit;
use crate::shapes::{Outline, Ruler, bearing};

/// Most steps of the lattice; on courses longer than this many steps they are wider.
const MOST_STEPS: f64 = 6_000.0;
/// Most strips end to end; a sheet that would need more is a mistake.
pub(super) const MOST_STRIPS: i64 = 500;
/// How often nearness to the front doubles from the back to the front.
const FRONT_DOUBLES: f64 = 50.0;
/// Readings nearer to one another than this are one place, mm.
const SAME: f64 = 0.01;

/// What a wrap lies on: its tier, its course, and the wrap itself.
pub(super) type On<'a> = (&'a CakeTier, &'a CakeCourse, &'a Wrap);

/// Tells for readings how far a seam at each is seen, 0 to 1.
pub(super) type Exposures<'a> = &'a dyn Fn(&[f64]) -> Vec<f64>;

/// One place that may hold a seam.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spot {
    /// Reading within the course: from its left end to its right end.
    pub along: f64,
    /// Printed length from the left end, mm.
    pub run: f64,
    /// From how many sight lines a seam here is seen, 0 to 1.
    pub exposure: f64,
    /// On a sharp vertical corner.
    pub corner: bool,
    /// Inside a stretch without seams.
    pub barred: bool,
    /// A seam is pinned here.
    pub pinned: bool,
}

/// A wrap laid out.
#[derive(Debug)]
pub(super) struct Laid {
    /// Printed length, without overlaps, mm.
    pub length: f64,
    /// Printed height, mm.
    pub height: f64,
    /// All round; else an open stretch, whose first and last place are its ends.
    pub closed: bool,
    /// From left to right.
    pub spots: Vec<Spot>,
    /// Pinned places outside the course.
    pub outside: Vec<f64>,
    /// How much each strip runs under the next, mm.
    pub overlap: f64,
    /// Least width of a strip without its overlap, mm.
    pub least: f64,
    /// What its seams are weighed by.
    pub weights: Weights,
    span: (f64, f64),
    around: f64,
    back: f64,
}

impl Spot {
    /// Nothing speaks against a seam here.
    pub(super) const fn may_hold_a_seam(&self) -> bool {
        self.pinned || !self.barred
    }
}

impl Laid {
    /// Lays out a wrap; `exposures` tells for readings how far a seam there is seen.
    pub(super) fn new((tier, course, wrap): On<'_>, design: &Design, exposures: Exposures<'_>) -> Self {
        let weights = Weights::of(&design.planning);
        let mut laid = Self {
            length: course.length.as_mm(),
            height: course.height(),
            closed: wrap.stretch.is_none(),
            spots: Vec::new(),
            outside: Vec::new(),
            overlap: wrap.overlap.as_mm(),
            least: wrap.least_strip.map_or(weights.least_strip, crate::measure::Length::as_mm),
            weights,
            span: course.span,
            around: tier.outline.perimeter(),
            back: back(&tier.outline, design.viewing.front.as_radians() - tier.turn.as_radians()),
        };
        let bars = bars(wrap);
        let corners = tier.outline.draped_corners(weights.corner_turn, weights.corner_radius);
        let readings = laid.readings((wrap, &bars, &corners), design.unit);
        let ruler = Ruler::new(&tier.outline, lines_out(&course.kind).0);
        let whole = ruler.at(laid.span.1) - ruler.at(laid.span.0);
        // Through clefts the whole is shorter than its parts; each part takes its share.
        let share = if whole > 0.0 { laid.length / whole } else { 1.0 };
        let is_among = |list: &[f64], along: f64| list.iter().any(|&other| laid.apart(other, along) < SAME);
        let pins: Vec<f64> = wrap.pins.iter().map(|pin| pin.as_mm()).collect();
        let spot = |(&along, exposure): (&f64, f64)| Spot {
            along,
            run: (ruler.at(along) - ruler.at(laid.span.0)) * share,
            exposure: round_exposure(exposure),
            corner: is_among(&corners, along),
            barred: bars.iter().any(|&bar| laid.is_inside(along, bar)),
            pinned: is_among(&pins, along),
        };
        laid.spots = readings.iter().zip(exposures(&readings)).map(spot).collect();
        laid.outside = pins.iter().copied().filter(|&pin| laid.within(pin).is_none()).collect();
        laid
    }

    /// A reading brought into the course by whole turns; `None` outside an open stretch or at its ends.
    pub(super) fn within(&self, along: f64) -> Option<f64> {
        let (from, to) = self.span;
        let further = (along - from).rem_euclid(self.around);
        // Of a closed course the left end is the right one.
        let further = if self.closed && further < SAME { self.around } else { further };
        (self.closed || (further > SAME && further < to - from - SAME)).then_some(from + further)
    }

    /// The places that a cutting chose.
    pub(super) fn chosen<'a>(&'a self, cutting: &'a Cutting) -> impl Iterator<Item = &'a Spot> + Clone {
        cutting.seams.iter().filter_map(|&place| self.spots.get(place))
    }

    /// The reading at a printed length from the left end, mm.
    pub(super) fn along(&self, run: f64) -> f64 {
        let right = self.spots.partition_point(|spot| spot.run < run);
        let end = |index: Option<usize>| index.and_then(|index| self.spots.get(index));
        let left = end(right.checked_sub(1)).map_or((self.span.0, 0.0), |spot| (spot.along, spot.run));
        let right = end(Some(right)).map_or((self.span.1, self.length), |spot| (spot.along, spot.run));
        let share = (run - left.1) / (right.1 - left.1).max(f64::MIN_POSITIVE);
        left.0 + (right.0 - left.0) * share.clamp(0.0, 1.0)
    }

    /// Once round the tape, mm.
    pub(super) const fn around(&self) -> f64 {
        self.around
    }

    /// A reading of the course as the tape shows it, in (-L/2, L/2].
    pub(super) fn reading(&self, along: f64) -> f64 {
        let round = along.rem_euclid(self.around);
        if round > self.around / 2.0 { round - self.around } else { round }
    }

    /// How far two readings are apart, the shorter way round.
    pub(super) fn apart(&self, one: f64, other: f64) -> f64 {
        let further = (one - other).rem_euclid(self.around);
        further.min(self.around - further)
    }

    /// Where the seams may be, from left to right: the lattice with the places that must be on it.
    fn readings(&self, (wrap, bars, corners): (&Wrap, &[(f64, f64)], &[f64]), unit: Unit) -> Vec<f64> {
        let (from, to) = self.span;
        let step = if unit == Unit::Inch { 25.4 / 16.0 } else { 1.0 };
        // An even number of them, so that front centre and back are both places.
        let count = (((to - from) / step).min(MOST_STEPS) / 2.0).round().max(1.0) * 2.0;
        let regular = (0..=count as u32).map(|n| from + (to - from) * f64::from(n) / count);
        let regular = regular.skip(usize::from(self.closed)).map(|along| (along, 2));
        let pins = wrap.pins.iter().filter_map(|pin| Some((self.within(pin.as_mm())?, 0)));
        let ends = bars.iter().flat_map(|&(left, right)| [left, right]).chain(corners.iter().copied());
        let ends = ends.filter_map(|end| Some((self.within(end)?, 1)));
        let mut readings: Vec<(f64, u8)> = regular.chain(pins).chain(ends).collect();
        readings.sort_by(|a, b| a.0.total_cmp(&b.0));
        // Of two that are one place, the more particular one stays; the ends of an open stretch do in any case.
        let mut kept: Vec<(f64, u8)> = Vec::with_capacity(readings.len());
        for next in readings {
            match kept.last_mut() {
                Some(last) if next.0 - last.0 < SAME => {
                    if next.1 < last.1 {
                        *last = next;
                    }
                }
                _ => kept.push(next),
            }
        }
        kept.into_iter().map(|(along, _)| along).collect()
    }

    fn is_inside(&self, along: f64, (left, right): (f64, f64)) -> bool {
        let further = (along - left).rem_euclid(self.around);
        right - left > self.around + SAME || (further > SAME / 2.0 && further < right - left - SAME / 2.0)
    }

    /// The whole numbers that the planner reckons with, for strips that lie on the sheet in this way.
    pub(super) fn lattice(&self, way: Way) -> Lattice {
        let micro = |mm: f64| (mm * 1e3).round() as i64;
        let cost = |share: f64| (share * FULL_VIEW).round() as i64;
        let round = self.closed.then(|| micro(self.length));
        let (length, comfortable) = (micro(self.length), micro(self.weights.comfortable));
        Lattice {
            places: self.spots.iter().map(|spot| self.place(spot)).collect(),
            round,
            // One µm more, for what rounding may add.
            longest: (micro(way.longest - self.overlap) + 1).max(length / MOST_STRIPS + 1),
            last_longer: if self.closed { 0 } else { micro(self.overlap) },
            least: micro(self.least).max(1),
            comfortable,
            prices: Prices {
                strip: cost(self.weights.strip),
                sliver: cost(self.weights.sliver) / comfortable.max(1),
                sheet: cost(self.weights.waste),
                strips_on_sheet: way.rows as usize,
            },
        }
    }

    fn place(&self, spot: &Spot) -> Place {
        let bonus = if spot.corner { self.weights.corner } else { 0.0 };
        Place {
            run: (spot.run * 1e3).round() as i64,
            seam: ((spot.exposure - bonus) * FULL_VIEW).round() as i64,
            barred: spot.barred,
            pinned: spot.pinned,
            front: self.front(spot.along),
            off_back: self.off_back(spot.along),
        }
    }

    /// How near a place is to the front: twice as much for every fiftieth of the way from the back, so that a seam nearer
    /// the front by a tenth of the way outweighs thirty others. The sum over 500 seams still is a whole number.
    fn front(&self, along: f64) -> i64 {
        let (far, half) = (self.tenths_off_back(along), (self.around * 5.0).max(1.0));
        (FRONT_DOUBLES * (far as f64 / half).min(1.0)).exp2() as i64
    }

    /// How far a place is from the back, tenths of a mm: equal for mirrored places, whatever rounding did to them.
    fn tenths_off_back(&self, along: f64) -> i64 {
        (self.apart(along, self.back) * 10.0).round() as i64
    }

    /// How far a place is from the back: the square of the distance, so that two seams lie evenly about it; a hair more on one
    /// side of it than on the other, so that of two mirrored plans always the same one is chosen.
    pub(super) fn off_back(&self, along: f64) -> i64 {
        let distance = self.tenths_off_back(along);
        let is_beyond = (along - self.back).rem_euclid(self.around) < self.around / 2.0;
        distance * distance * 1024 + if is_beyond { distance * distance } else { 0 }
    }

    /// The share of a sheet's printable area that the whole course takes.
    pub(super) fn sheets(&self, printable: [f64; 2]) -> f64 {
        self.length * self.height / printable.iter().product::<f64>().max(1.0)
    }
}

/// An exposure to a hundredth: a difference of fewer sight lines than that is no reason to move a seam.
pub(super) fn round_exposure(exposure: f64) -> f64 {
    (exposure * 100.0).round().max(0.0) / 100.0 + 0.0
}

/// The stretches without seams, as readings from and to.
fn bars(wrap: &Wrap) -> Vec<(f64, f64)> {
    let free = wrap.join_free.map(|free| (free.centre - free.width / 2.0, free.centre + free.width / 2.0));
    free.into_iter().chain(wrap.forbid.iter().copied()).map(|(from, to)| (from.as_mm(), to.as_mm())).collect()
}

/// The reading that faces away from the customers, who stand at a bearing (radians) from the tier's front.
fn back(outline: &Outline, customers: f64) -> f64 {
    let half = outline.perimeter() / 2.0;
    if customers == 0.0 {
        return half;
    }
    let away = bearing(customers + std::f64::consts::PI);
    let off = |along: f64| -> f64 { outline.at(along).point.normalize_or(DVec2::Y).dot(away) };
    let steps = (0..720).map(|n| f64::from(n) * half / 360.0);
    steps.max_by(|&a, &b| off(a).total_cmp(&off(b))).unwrap_or(half)
}

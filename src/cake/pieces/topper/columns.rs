//! Where a pick fits: the inside of a figure along upright lines.
//!
//! ```text
//!    lines     | | | | |
//!          ____|_|_|_|_|____
//!         |    | | | | |  __|      a pick takes as many lines as it is wide; what all of them have inside, from the
//!         |____| | | | | |         lowest on, is how deep it can go
//!              |_|_|_|_|_|
//!                 ||  pick
//! ```

use glam::DVec2;

use crate::art::Region;

/// Lines are so far apart, mm: finer than anybody sets a stick.
const STEP: f64 = 0.25;
/// Most lines to either side.
const MOST_LINES: f64 = 1000.0;

/// Where a pick goes in, and how much there is to hold it, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Socket {
    /// Where it has paste all round.
    pub foot: f64,
    /// From there to where it would come out again.
    pub room: f64,
}

/// Stretches inside a figure, from below.
type Spans = Vec<(f64, f64)>;

/// The inside of a figure along upright lines, counted from the one through its middle.
pub(super) struct Columns {
    middle: f64,
    step: f64,
    /// Lines on either side.
    reach: i64,
    /// From left to right; where each crosses the figure's rim, from below.
    lines: Vec<Vec<f64>>,
}

impl Columns {
    /// Lines through a figure, the first one at `middle`.
    pub fn of(region: &Region, middle: f64) -> Self {
        let (low, high) = region.bounds().unwrap_or_default();
        let half = (middle - low.x).max(high.x - middle).max(0.0);
        let step = STEP.max(half / MOST_LINES);
        let reach = (half / step).ceil() as i64;
        let mut columns = Self { middle, step, reach, lines: vec![Vec::new(); 2 * reach as usize + 1] };
        region.edges().for_each(|edge| columns.cross(edge));
        for line in &mut columns.lines {
            line.sort_by(f64::total_cmp);
        }
        columns
    }

    fn cross(&mut self, (from, to): (DVec2, DVec2)) {
        let (left, right) = (from.x.min(to.x), from.x.max(to.x));
        let first = ((left - self.middle) / self.step).floor() as i64;
        let last = ((right - self.middle) / self.step).ceil() as i64;
        for line in first.max(-self.reach)..=last.min(self.reach) {
            let x = self.place(line);
            // Half open, so that a corner is counted once.
            if left <= x && x < right {
                let y = from.y + (to.y - from.y) * (x - from.x) / (to.x - from.x);
                if let Some(crossings) = self.lines.get_mut((line + self.reach) as usize) {
                    crossings.push(y);
                }
            }
        }
    }

    /// Where a line is.
    pub fn place(&self, line: i64) -> f64 {
        self.middle + line as f64 * self.step
    }

    /// The line nearest to a distance from the middle.
    pub fn line(&self, off: f64) -> i64 {
        (off / self.step).round() as i64
    }

    /// All lines, from the one nearest to `wanted` on; of two equally near, the right one first.
    pub fn from(&self, wanted: i64) -> impl Iterator<Item = i64> + use<> {
        let reach = self.reach;
        let outward = (0..=2 * reach).flat_map(move |off| [wanted + off, wanted - off]);
        outward
            .filter(move |line| line.abs() <= reach)
            .scan(None, |last, line| {
                let again = *last == Some(line);
                *last = Some(line);
                Some((!again).then_some(line))
            })
            .flatten()
    }

    /// What is inside along every line that something `across` (mm) takes about one, and the lowest place of the figure
    /// on them.
    fn inside(&self, line: i64, across: f64) -> (Spans, f64) {
        let half = (across / 2.0 / self.step).ceil() as i64;
        let (mut common, mut lowest) = (vec![(f64::MIN, f64::MAX)], f64::MAX);
        for beside in line - half..=line + half {
            let crossings = usize::try_from(beside + self.reach).ok().and_then(|at| self.lines.get(at));
            let crossings = crossings.map(Vec::as_slice).unwrap_or_default();
            lowest = crossings.first().copied().unwrap_or(f64::MAX).min(lowest);
            common = both(&common, crossings);
        }
        (common, lowest)
    }

    /// What a pick finds that comes up along a line; `None` where it would first go past an edge, or meets nothing.
    pub fn socket(&self, line: i64, across: f64) -> Option<Socket> {
        let (inside, lowest) = self.inside(line, across);
        let &(foot, top) = inside.first()?;
        // Where the rim rises more than twice its width across a pick, it stands beside the figure there, not in it.
        (foot - lowest <= 2.0 * across).then_some(Socket { foot, room: top - foot })
    }

    /// The place nearest to one that has `cover` (mm) of the figure all round: where a pin goes in from behind.
    pub fn nearest(&self, to: DVec2, cover: f64) -> Option<DVec2> {
        let mut best: Option<(f64, DVec2)> = None;
        for line in self.from(self.line(to.x - self.middle)) {
            let x = self.place(line);
            if best.is_some_and(|(off, _)| off <= (x - to.x).abs()) {
                break;
            }
            let (inside, _) = self.inside(line, 2.0 * cover);
            let spans = inside.iter().map(|(low, high)| (low + cover, high - cover)).filter(|(low, high)| low <= high);
            let places = spans.map(|(low, high)| DVec2::new(x, to.y.clamp(low, high)));
            let here = places.map(|at| (at.distance(to), at)).min_by(|one, other| one.0.total_cmp(&other.0));
            best = best.into_iter().chain(here).min_by(|one, other| one.0.total_cmp(&other.0));
        }
        best.map(|(_, at)| at)
    }
}

/// What lies in given stretches and inside by these crossings.
fn both(spans: &[(f64, f64)], crossings: &[f64]) -> Spans {
    let inside = crossings.as_chunks::<2>().0.iter();
    let common = inside.flat_map(|&[low, high]| spans.iter().map(move |span| (span.0.max(low), span.1.min(high))));
    common.filter(|(low, high)| low < high).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cross() -> Region {
        // A trunk 6 wide and 30 high under a bar 40 wide and 10 high, with a hole 4 wide on its left arm.
        let trunk = Region::rectangle(6.0, 30.0, 0.0).moved(DVec2::Y * 15.0);
        let bar = Region::rectangle(40.0, 10.0, 0.0).moved(DVec2::Y * 35.0);
        let mut rings = trunk.union(&bar).rings;
        rings.extend(Region::rectangle(4.0, 4.0, 0.0).moved(DVec2::new(-12.0, 35.0)).rings);
        Region::from_paths_even_odd(&rings)
    }

    #[test]
    fn a_pick_goes_as_deep_as_its_whole_width_is_inside() {
        let columns = Columns::of(&cross(), 0.0);
        assert_eq!(columns.socket(0, 3.0), Some(Socket { foot: 0.0, room: 40.0 }));
        // Half beside the trunk it would come up along it.
        assert_eq!(columns.socket(columns.line(3.0), 3.0), None);
        let arm = columns.socket(columns.line(10.0), 3.0).unwrap();
        assert!((arm.foot - 30.0).abs() < 1e-6 && (arm.room - 10.0).abs() < 1e-6);
        // Under the hole.
        let holed = columns.socket(columns.line(-12.0), 3.0).unwrap();
        assert!((holed.room - 3.0).abs() < 1e-6, "{holed:?}");
        assert_eq!(columns.socket(columns.line(25.0), 3.0), None);
        // A stalk thinner than the pick holds nothing.
        assert_eq!(columns.socket(0, 8.0), None);
    }

    #[test]
    fn a_round_or_pointed_foot_still_takes_a_pick() {
        let disc = Columns::of(&Region::disc(20.0), 0.0).socket(0, 3.0).unwrap();
        assert!(disc.foot + 20.0 < 0.1 && disc.room > 39.8, "{disc:?}");
        let corners = [(0.0, 0.0), (30.0, 30.0), (0.0, 60.0), (-30.0, 30.0)];
        let diamond = Region::from_paths_non_zero(&[corners.map(DVec2::from).to_vec()]);
        let pointed = Columns::of(&diamond, 0.0).socket(0, 3.0).unwrap();
        assert!((pointed.foot - 1.5).abs() < 0.01 && (pointed.room - 57.0).abs() < 0.02, "{pointed:?}");
    }

    #[test]
    fn lines_are_tried_from_the_wanted_one_outward() {
        let columns = Columns::of(&Region::rectangle(1.0, 1.0, 0.0), 0.0);
        assert_eq!(columns.from(0).collect::<Vec<_>>(), [0, 1, -1, 2, -2]);
        assert_eq!(columns.from(1).collect::<Vec<_>>(), [1, 2, 0, -1, -2]);
        assert_eq!(Columns::of(&Region::default(), 0.0).from(0).collect::<Vec<_>>(), [0]);
    }

    #[test]
    fn a_pin_from_behind_goes_where_there_is_paste_all_round() {
        let ring =
            Region::from_paths_even_odd(&[Region::disc(30.0).rings.remove(0), Region::disc(20.0).rings.remove(0)]);
        let at = Columns::of(&ring, 0.0).nearest(DVec2::ZERO, 1.0).unwrap();
        assert!((at.length() - 21.0).abs() < 0.3, "{at}");
        assert_eq!(Columns::of(&cross(), 0.0).nearest(DVec2::new(0.0, 20.0), 1.0), Some(DVec2::new(0.0, 20.0)));
        assert_eq!(Columns::of(&Region::default(), 0.0).nearest(DVec2::ZERO, 1.0), None);
    }
}

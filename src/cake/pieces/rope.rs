//! A free line: a rolled rope, a flat band or a row of touching pearls, along a line, a ring or an edge.

use std::f64::consts::{PI, TAU};

use glam::{DAffine3, DVec2, DVec3};

use super::ball;
use super::measures::{circle, hull};
use super::{Bend, Cut, CutEnd, Hold, Part, PieceMeasure, PieceSize, Posture, Shortfall, Site, Stock};
use crate::art::{Join, Region};
use crate::design::model::pieces::{Rope, RopeLine, RopeSection};
use crate::measure::Length;
use crate::shapes::Outline;
use crate::shapes::build::{Cutout, prism, tidy, tube, tube_round};

/// Greatest length of a face along a bent rope, mm.
const FACET: f64 = 2.5;

/// More pearls or faces than this are no line that anybody lays.
const MOST: f64 = 20_000.0;

/// A line along an edge is drawn so near (mm) to it.
const NEAR: f64 = 0.01;

/// Radius of the edges of a band, mm.
const SOFT: f64 = 0.5;

/// The tightest bend of a line, in its half widths: at one, its inner side would have no length left.
const TIGHTEST: f64 = 1.1;

/// What follows an edge goes round its corners so wide, in its thicknesses, where there is room.
const EASY: f64 = 0.8;

/// The middle line of a rope, in the frame of a side (x to the right, y up), mm.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Run {
    /// Its places in order.
    pub places: Vec<DVec2>,
    /// Whether the last place joins the first.
    pub closed: bool,
    /// What was asked for and what it is, where paste so wide bends no further: how deep it hangs, or how wide its ring is.
    pub eased: Option<[f64; 2]>,
}

impl Run {
    fn of(rope: &Rope, posture: Posture, site: &dyn Site) -> Self {
        match rope.line {
            RopeLine::Straight { length, sag } => {
                let (half, asked) = (length.as_mm() / 2.0, sag.as_mm());
                // At its lowest place a parabola of half span a and depth h has the radius a²/2h.
                let deepest = half * half / (2.0 * tightest(rope));
                Self::hanging(length.as_mm(), asked.min(deepest)).eased(asked, deepest)
            }
            RopeLine::Ring(across) => {
                let (asked, least) = (across.as_mm(), 2.0 * tightest(rope));
                let ring = Self::ring(asked.max(least) / 2.0);
                Self { eased: (asked < least).then_some([asked, least]), ..ring }
            }
            RopeLine::Edge(inside) => Self::along_edge(rope, posture, (site, inside.as_mm())).unwrap_or_default(),
        }
    }

    /// The same line, told that it hangs less deep than asked.
    fn eased(self, asked: f64, deepest: f64) -> Self {
        Self { eased: (asked > deepest).then_some([asked, deepest]), ..self }
    }

    /// A parabola from end to end, as a rope hangs that is not too slack; straight without a sag.
    fn hanging(length: f64, sag: f64) -> Self {
        let steps = if sag > 0.0 { ((length + 2.0 * sag) / FACET).ceil().clamp(8.0, MOST) as u32 } else { 1 };
        let place = |step: u32| {
            let share = 2.0 * f64::from(step) / f64::from(steps) - 1.0;
            DVec2::new(share * length / 2.0, -sag * (1.0 - share * share))
        };
        Self { places: (0..=steps).map(place).collect(), ..Self::default() }
    }

    /// A regular polygon as long as the circle.
    fn ring(radius: f64) -> Self {
        let steps = (radius * TAU / FACET).ceil().clamp(48.0, MOST) as u32;
        let step = TAU / f64::from(steps);
        let reach = radius * (step / 2.0) / (step / 2.0).sin();
        let place = |number: u32| DVec2::from_angle(step * f64::from(number)) * reach;
        Self { places: (0..steps).map(place).collect(), closed: true, eased: None }
    }

    /// Along an edge, round its corners as wide as is easy, or as there is room. Round a side: from the back to the back.
    fn along_edge(rope: &Rope, posture: Posture, (site, inside): (&dyn Site, f64)) -> Option<Self> {
        if let Some(around) = site.around(rope.diameter.as_mm() / 2.0).filter(|_| posture == Posture::OnSide) {
            return Some(Self::hanging(around, 0.0));
        }
        let edge = site.edge()?;
        let least = tightest(rope).max(0.5);
        let easy = (EASY * rope.diameter.as_mm()).max(least);
        [easy, least].into_iter().find_map(|tight| Self::inside_edge(&edge, inside, tight))
    }

    /// So far inside an edge, its bends no tighter than told; `None` where there is no room for it.
    fn inside_edge(edge: &Outline, inside: f64, tight: f64) -> Option<Self> {
        let line = match inside {
            _ if inside > -tight => {
                let core = edge.offset(-(inside + tight), Join::Round);
                if core.sides().is_empty() {
                    return None;
                }
                core.draped(tight, tight)
            }
            _ => edge.draped(-inside, tight),
        };
        let places: Vec<DVec2> = line.flat(NEAR).into_iter().map(|at| DVec2::new(at.x, -at.y)).collect();
        let mut places = tidy(&places, NEAR);
        places.dedup_by(|next, last| next.distance(*last) < NEAR);
        if places.first().zip(places.last()).is_some_and(|(first, last)| first.distance(*last) < NEAR) {
            places.pop();
        }
        let whole = places.len() > 2 && !line.sides().is_empty();
        whole.then_some(Self { places, closed: true, eased: None })
    }

    fn steps(&self) -> impl Iterator<Item = (DVec2, DVec2)> {
        let count = if self.closed { self.places.len() } else { self.places.len().saturating_sub(1) };
        self.places.iter().copied().zip(self.places.iter().copied().cycle().skip(1)).take(count)
    }

    fn length(&self) -> f64 {
        self.steps().map(|(from, to)| from.distance(to)).sum()
    }

    /// How far a round end of this radius takes the line's end back, so that it ends where the line does.
    fn rounding(&self, radius: f64) -> f64 {
        radius.min(self.length() / 2.0 - 0.005).max(0.0)
    }

    /// The same line, shorter at both ends.
    fn shortened(&self, by: f64) -> Vec<DVec2> {
        let (first, last) = (by, (self.length() - by).max(by + 0.01));
        let inner = self.marks().filter(|(_, at)| *at > first + 1e-6 && *at < last - 1e-6).map(|(place, _)| place);
        std::iter::once(self.at(first)).chain(inner).chain([self.at(last)]).collect()
    }

    /// Its places, each with how far along it lies.
    fn marks(&self) -> impl Iterator<Item = (DVec2, f64)> {
        let mut run = 0.0;
        self.steps().map(move |(from, to)| {
            let here = run;
            run += from.distance(to);
            (from, here)
        })
    }

    /// The place so far along it; beyond its ends it goes straight on.
    fn at(&self, along: f64) -> DVec2 {
        let mut rest = along;
        let mut end = DVec2::ZERO;
        for (from, to) in self.steps() {
            let step = from.distance(to);
            end = from + (to - from) / step.max(1e-12) * rest;
            if rest <= step {
                break;
            }
            rest -= step;
        }
        end
    }

    /// Middles of balls that touch one another, even along the line.
    fn pearls(&self, across: f64) -> Vec<DVec2> {
        let across = across.max(1e-3);
        let length = self.length();
        // On a bend, balls a chord of one diameter apart take a little more of the line; the count leaves room for it.
        let chord = if self.closed { across * (1.0 + self.bend(across)) } else { across };
        let count = (length / chord + 1e-9).floor().clamp(1.0, MOST);
        let step = if self.closed { length / count } else { across };
        let first = if self.closed { 0.0 } else { (length - (count - 1.0) * step) / 2.0 };
        (0..count as u32).map(|number| self.at(first + step * f64::from(number))).collect()
    }

    /// By how much an arc of a ring as long as this line is longer than its chord.
    fn bend(&self, chord: f64) -> f64 {
        let radius = self.length() / TAU;
        let half = (chord / 2.0 / radius).min(1.0).asin();
        half / half.sin().max(1e-9) - 1.0
    }

    /// The two sides of a strip so wide along the line.
    fn sides(&self, width: f64) -> [Vec<DVec2>; 2] {
        let count = self.places.len();
        let normal = |number: usize| {
            let before = if number > 0 {
                number - 1
            } else if self.closed {
                count - 1
            } else {
                0
            };
            let after = if number + 1 < count {
                number + 1
            } else if self.closed {
                0
            } else {
                number
            };
            let [before, after] = [before, after].map(|at| self.places.get(at).copied().unwrap_or_default());
            (after - before).normalize_or(DVec2::X).perp()
        };
        let side = |way: f64| {
            let place = move |(number, at): (usize, &DVec2)| *at + normal(number) * (way * width / 2.0);
            self.places.iter().enumerate().map(place).collect::<Vec<_>>()
        };
        [side(1.0), side(-1.0)]
    }

    /// The figure of a strip so wide along the line.
    fn strip(&self, width: f64) -> Region {
        let [left, right] = self.sides(width);
        if self.closed {
            return Region::from_paths_even_odd(&[left, right]);
        }
        Region::from_paths_non_zero(&[right.into_iter().chain(left.into_iter().rev()).collect()])
    }
}

/// The least radius that a rope's line may have, mm.
fn tightest(rope: &Rope) -> f64 {
    TIGHTEST * section(rope).0 / 2.0
}

/// How wide it is on its seat, and how far it stands out.
fn section(rope: &Rope) -> (f64, f64) {
    let thick = rope.diameter.as_mm();
    match rope.section {
        RopeSection::Round | RopeSection::Pearls => (thick, thick),
        RopeSection::Band(width) => (width.as_mm(), thick),
    }
}

pub(super) fn measure(rope: &Rope, posture: Posture, site: &dyn Site) -> PieceMeasure {
    let run = Run::of(rope, posture, site);
    let (_, thick) = section(rope);
    let covered = covered(rope, &run);
    let (low, high) = covered.iter().fold((DVec2::MAX, DVec2::MIN), |(low, high), at| (low.min(*at), high.max(*at)));
    let [width, tall] = (high - low).max(DVec2::ZERO).to_array().map(Length::mm);
    let reach = Length::mm(thick);
    PieceMeasure {
        size: match posture {
            Posture::OnTop => PieceSize { width, height: reach, depth: tall },
            Posture::OnSide => PieceSize { width, height: tall, depth: reach },
        },
        reach,
        neutral: thick / 2.0,
        volumes: vec![(rope.finish.clone(), volume(rope, &run))],
        footprint: hull(covered.into_iter().map(|at| posture.on_seat(at)).collect()),
        cuts: vec![cut(rope, &run)],
        shortfalls: shortfall(rope, &run).into_iter().collect(),
        run,
        ..PieceMeasure::default()
    }
}

/// No line at all, or one that bends less than was asked.
fn shortfall(rope: &Rope, run: &Run) -> Option<Shortfall> {
    if run.places.is_empty() {
        return Some(Shortfall::NoEdge);
    }
    let [asked, drawn] = run.eased?.map(Length::mm);
    let what = if run.closed { Bend::Ring } else { Bend::Sag };
    Some(Shortfall::Bend { what, asked, drawn, wide: Length::mm(section(rope).0) })
}

/// A ring round it, in the frame of a side.
fn covered(rope: &Rope, run: &Run) -> Vec<DVec2> {
    let wide = section(rope).0;
    let places = match rope.section {
        _ if run.places.is_empty() => return Vec::new(),
        RopeSection::Band(_) => return hull(run.sides(wide).concat()),
        RopeSection::Pearls => run.pearls(wide),
        RopeSection::Round if run.closed => run.places.clone(),
        RopeSection::Round => run.shortened(run.rounding(wide / 2.0)),
    };
    let round = circle(wide / 2.0);
    hull(places.into_iter().flat_map(|at| round.iter().map(move |corner| at + *corner)).collect())
}

fn cut(rope: &Rope, run: &Run) -> Cut {
    let pearls = run.pearls(rope.diameter.as_mm()).len();
    let (what, width, count) = match rope.section {
        RopeSection::Round => ("rope", rope.diameter, 1),
        RopeSection::Pearls => ("pearls", rope.diameter, u32::try_from(pearls).unwrap_or(u32::MAX)),
        RopeSection::Band(width) => ("band", width, 1),
    };
    let length = if rope.section == RopeSection::Pearls { rope.diameter } else { Length::mm(run.length()) };
    Cut {
        what: what.into(),
        length,
        width,
        thickness: rope.diameter,
        count,
        finish: rope.finish.clone(),
        end: CutEnd::Square,
    }
}

/// Section times the length of its middle line (Pappus); an open roll ends in two half balls, mm³.
fn volume(rope: &Rope, run: &Run) -> f64 {
    let thick = rope.diameter.as_mm();
    let round = PI * thick * thick / 4.0;
    match rope.section {
        _ if run.places.is_empty() => 0.0,
        RopeSection::Pearls => run.pearls(thick).len() as f64 * ball::volume(thick),
        RopeSection::Band(width) => width.as_mm() * thick * run.length(),
        RopeSection::Round if run.closed => round * run.length(),
        RopeSection::Round => round * (run.length() - thick).max(0.0) + ball::volume(thick),
    }
}

pub(super) fn parts(rope: &Rope, (posture, run): (Posture, &Run), stock: &mut Stock) -> Vec<Part> {
    let (radius, thick) = (rope.diameter.as_mm() / 2.0, rope.diameter.as_mm());
    let lifted = |places: Vec<DVec2>| places.into_iter().map(|at| at.extend(radius)).collect::<Vec<DVec3>>();
    let mesh = match rope.section {
        _ if run.places.is_empty() => None,
        RopeSection::Pearls => {
            let pearl = |(at, number): (DVec2, u32)| {
                let pose = DAffine3::from_translation(posture.laid().transform_point3(at.extend(radius)));
                Part::ball(format!("pearl {number}"), thick, &rope.finish, stock).at(pose).held(Hold::Placed)
            };
            return run.pearls(thick).into_iter().zip(1..).map(pearl).collect();
        }
        RopeSection::Round if run.closed => Some(tube_round(&lifted(run.places.clone()), radius)),
        RopeSection::Round => Some(tube(&lifted(run.shortened(run.rounding(radius))), radius)),
        RopeSection::Band(width) => prism(&Cutout {
            region: &run.strip(width.as_mm()),
            thickness: thick,
            soft: SOFT.min(thick / 3.0),
            picture: [DVec2::ZERO, DVec2::ONE],
            facet: Cutout::SOFT_FACET,
        }),
    };
    let name = if matches!(rope.section, RopeSection::Band(_)) { "band" } else { "rope" };
    let part = |mesh| Part::new(name, mesh, &rope.finish).at(posture.laid()).held(Hold::Soft);
    mesh.map(part).into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cake::pieces::{Endless, trial};
    use crate::shapes::forms;

    fn rope(line: RopeLine, section: RopeSection) -> Rope {
        Rope { diameter: Length::mm(6.0), line, section, finish: "gold".into() }
    }

    /// A seat with the edge of a square, and a tier's side.
    struct Square;

    impl Site for Square {
        fn ball(&self, at: DVec2, radius: f64) -> Option<DVec3> {
            Some(at.extend(radius))
        }

        fn edge(&self) -> Option<Outline> {
            Some(forms::rectangle(100.0, 100.0, 0.0))
        }

        fn around(&self, out: f64) -> Option<f64> {
            Some(400.0 + TAU * out)
        }
    }

    #[test]
    fn lines_are_as_heavy_as_measured_and_lie_on_their_seat() {
        let straight = |sag| RopeLine::Straight { length: Length::mm(80.0), sag: Length::mm(sag) };
        let edges = [8.0, 0.0, -5.0].map(|inside| RopeLine::Edge(Length::mm(inside)));
        for line in [straight(0.0), straight(20.0), RopeLine::Ring(Length::mm(50.0))].into_iter().chain(edges) {
            for section in [RopeSection::Round, RopeSection::Pearls, RopeSection::Band(Length::mm(10.0))] {
                for posture in [Posture::OnTop, Posture::OnSide] {
                    let rope = rope(line, section);
                    let measured = measure(&rope, posture, &Square);
                    let parts = parts(&rope, (posture, &measured.run), &mut Stock::default());
                    trial::agree(&measured, &parts, 0.02);
                    let (low, high) = trial::bounds(&parts);
                    assert!(low.dot(posture.out()).abs() < 0.1 && (high.dot(posture.out()) - 6.0).abs() < 0.1);
                }
            }
        }
    }

    #[test]
    fn pearls_touch_and_none_overlap() {
        let site = Endless(Posture::OnTop);
        let straight = RopeLine::Straight { length: Length::mm(80.0), sag: Length::ZERO };
        let line = Run::of(&rope(straight, RopeSection::Pearls), Posture::OnTop, &site);
        assert_eq!(line.pearls(6.0).len(), 13);
        let ring = Run::of(&rope(RopeLine::Ring(Length::mm(50.0)), RopeSection::Pearls), Posture::OnTop, &site);
        let ring = ring.pearls(6.0);
        for (one, other) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            assert!((5.999..6.3).contains(&one.distance(*other)), "{}", one.distance(*other));
        }
    }

    #[test]
    fn a_garland_is_cut_as_long_as_its_parabola() {
        let garland = RopeLine::Straight { length: Length::mm(120.0), sag: Length::mm(30.0) };
        let cut =
            measure(&rope(garland, RopeSection::Round), Posture::OnSide, &Endless(Posture::OnSide)).cuts[0].length;
        // Arc of a parabola of span 2a and height h: √(a² + 4h²) + a²/2h · asinh(2h/a).
        let (a, h) = (60.0_f64, 30.0_f64);
        let exact = (a * a + 4.0 * h * h).sqrt() + a * a / (2.0 * h) * (2.0 * h / a).asinh();
        assert!((cut.as_mm() - exact).abs() < 0.05, "{cut:?} {exact}");
    }

    #[test]
    fn an_edge_too_far_inside_leaves_no_line() {
        let measured = measure(&rope(RopeLine::Edge(Length::mm(70.0)), RopeSection::Round), Posture::OnTop, &Square);
        assert_eq!(measured.shortfalls, [Shortfall::NoEdge]);
        assert!(measured.run.places.is_empty() && measured.footprint.is_empty());
    }
}

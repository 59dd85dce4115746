//! Balls of given sizes over a stretch, from a seed, none touching, each where its seat has room for it.
//!
//! Darts are thrown, the largest balls first; a dart that would touch a ball lying there, or that the seat refuses, is thrown
//! again, at most [`TRIES`] times. A grid as wide as the largest ball knows the neighbours in space, so that balls on both sides
//! of a cleft know one another, and the work grows with the number of balls.

use std::collections::HashMap;

use glam::{DAffine3, DVec2, DVec3};

use super::ball;
use super::measures::{hull, rectangle};
use super::{Hold, Part, PieceMeasure, PieceSize, Posture, Shortfall, Site, Stock};
use crate::design::model::pieces::{Over, Scatter};
use crate::measure::Length;

/// Throws for one ball before it is given up.
const TRIES: u32 = 120;

/// Least gap between two balls, mm.
const GAP: f64 = 0.5;

/// One ball of a scatter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thrown {
    /// Its middle: (x, z) on a top, (along, up) on a side; mm.
    pub at: DVec2,
    /// Across, mm.
    pub across: f64,
}

/// A small even generator of numbers: SplitMix64 (Steele, Lea, Flood 2014). The same seed gives the same balls for ever.
struct Dice(u64);

impl Dice {
    /// An even number in 0..1.
    fn throw(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        bits ^= bits >> 31;
        (bits >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// Least and greatest corner of the stretch, mm.
fn stretch(over: &Over) -> [DVec2; 2] {
    let (across, away) = match *over {
        Over::Tape { along, up } => (along, up),
        Over::Plan { x, z } => (x, z),
    };
    let (from, to) = (DVec2::new(across.0.as_mm(), away.0.as_mm()), DVec2::new(across.1.as_mm(), away.1.as_mm()));
    [from.min(to), from.max(to)]
}

/// The balls that found a place, the largest first.
fn thrown(scatter: &Scatter, site: &dyn Site) -> Vec<Thrown> {
    let [low, high] = stretch(&scatter.over);
    let mut sizes: Vec<(f64, u32)> = scatter.sizes.iter().map(|&(size, count)| (size.as_mm(), count)).collect();
    sizes.sort_by(|a, b| b.0.total_cmp(&a.0));
    let widest = sizes.first().map_or(1.0, |&(size, _)| size) + GAP;
    let mut dice = Dice(scatter.seed);
    let mut ground = Ground { cell: widest, cells: HashMap::new(), balls: Vec::new() };
    for (across, count) in sizes {
        let (low, room) = (low + across / 2.0, high - low - across);
        if room.min_element() < 0.0 || !room.is_finite() {
            continue;
        }
        for _ in 0..count {
            let mut free = (0..TRIES).filter_map(|_| {
                let ball = Thrown { at: low + room * DVec2::new(dice.throw(), dice.throw()), across };
                let middle = site.ball(ball.at, across / 2.0)?;
                ground.is_free(middle, &ball).then_some((ball, middle))
            });
            if let Some((ball, middle)) = free.next() {
                ground.lay(ball, middle);
            }
        }
    }
    ground.balls
}

/// The balls that lie already, found by their cell.
struct Ground {
    cell: f64,
    cells: HashMap<[i64; 3], Vec<(DVec3, Thrown)>>,
    balls: Vec<Thrown>,
}

impl Ground {
    fn cell(&self, at: DVec3) -> [i64; 3] {
        (at / self.cell).floor().to_array().map(|value| value as i64)
    }

    /// Balls keep apart on their seat as well as in space: none is tucked under a larger one, where no hand could set it.
    fn is_free(&self, middle: DVec3, ball: &Thrown) -> bool {
        let [x, y, z] = self.cell(middle);
        let around = || -1..=1_i64;
        let near = around().flat_map(|i| around().flat_map(move |j| around().map(move |k| [x + i, y + j, z + k])));
        let mut others = near.filter_map(|cell| self.cells.get(&cell)).flatten();
        others.all(|(place, other)| {
            place.distance(middle).min(other.at.distance(ball.at)) >= (other.across + ball.across) / 2.0 + GAP
        })
    }

    fn lay(&mut self, ball: Thrown, middle: DVec3) {
        self.cells.entry(self.cell(middle)).or_default().push((middle, ball));
        self.balls.push(ball);
    }
}

pub(super) fn measure(scatter: &Scatter, posture: Posture, site: &dyn Site) -> PieceMeasure {
    let balls = thrown(scatter, site);
    let [low, high] = stretch(&scatter.over);
    let [wide, deep] = (high - low).to_array().map(Length::mm);
    let reach = Length::mm(balls.iter().map(|ball| ball.across).fold(0.0, f64::max));
    let asked = scatter.sizes.iter().map(|&(_, count)| count).fold(0, u32::saturating_add);
    let placed = u32::try_from(balls.len()).unwrap_or(u32::MAX);
    PieceMeasure {
        size: match posture {
            Posture::OnTop => PieceSize { width: wide, height: reach, depth: deep },
            Posture::OnSide => PieceSize { width: wide, height: deep, depth: reach },
        },
        reach,
        volumes: vec![(scatter.finish.clone(), balls.iter().map(|ball| ball::volume(ball.across)).sum())],
        footprint: covered(&balls),
        shortfalls: (placed < asked).then_some(Shortfall::Crowded { asked, placed }).into_iter().collect(),
        balls,
        ..PieceMeasure::default()
    }
}

/// A ring round all balls.
fn covered(balls: &[Thrown]) -> Vec<DVec2> {
    hull(balls.iter().flat_map(|ball| rectangle(ball.at - ball.across / 2.0, ball.at + ball.across / 2.0)).collect())
}

/// On a top: in the frame of the seat. On a side: each ball's origin is its place on the tape.
pub(super) fn parts(scatter: &Scatter, (posture, balls): (Posture, &[Thrown]), stock: &mut Stock) -> Vec<Part> {
    let part = |(ball, number): (&Thrown, u32)| {
        let pose = DAffine3::from_translation(posture.place(ball.at, ball.across / 2.0));
        Part::ball(format!("ball {number}"), ball.across, &scatter.finish, stock).at(pose).held(Hold::Placed)
    };
    balls.iter().zip(1..).map(part).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cake::pieces::{Endless, trial};
    use crate::shapes::Outline;

    fn scatter(count: u32, side: f64) -> Scatter {
        let stretch = (Length::mm(-side), Length::mm(side));
        let sizes = vec![(Length::mm(6.0), count), (Length::mm(20.0), 3)];
        let over = Over::Tape { along: stretch, up: stretch };
        Scatter { over, sizes, seed: 7, clear_of_seams: None, finish: "sea".into() }
    }

    #[test]
    fn none_touch_all_lie_inside_and_the_same_seed_gives_the_same() {
        let (scatter, site) = (scatter(60, 60.0), Endless(Posture::OnSide));
        let balls = thrown(&scatter, &site);
        assert_eq!(balls.len(), 63);
        assert_eq!(balls, thrown(&scatter, &site));
        assert_ne!(balls, thrown(&Scatter { seed: 8, ..scatter.clone() }, &site));
        for (number, ball) in balls.iter().enumerate() {
            assert!(ball.at.abs().max_element() <= 60.0 - ball.across / 2.0);
            for other in &balls[number + 1..] {
                assert!(other.at.distance(ball.at) >= (other.across + ball.across) / 2.0);
            }
        }
        let measured = measure(&scatter, Posture::OnSide, &site);
        assert!(measured.shortfalls.is_empty());
        trial::agree(&measured, &parts(&scatter, (Posture::OnSide, &balls), &mut Stock::default()), 0.01);
    }

    #[test]
    fn what_finds_no_place_is_counted() {
        let crowded = measure(&scatter(900, 40.0), Posture::OnTop, &Endless(Posture::OnTop));
        let [Shortfall::Crowded { asked: 903, placed }] = crowded.shortfalls[..] else { panic!("{crowded:?}") };
        assert!(placed > 50 && placed < 200, "{placed}");
    }

    /// A seat that ends at x = 0.
    struct Half;

    impl Site for Half {
        fn ball(&self, at: DVec2, radius: f64) -> Option<DVec3> {
            (at.x >= radius).then(|| at.extend(radius))
        }

        fn edge(&self) -> Option<Outline> {
            None
        }

        fn around(&self, _: f64) -> Option<f64> {
            None
        }
    }

    #[test]
    fn none_lies_where_the_seat_refuses() {
        let balls = thrown(&scatter(60, 60.0), &Half);
        assert!(balls.len() > 50 && balls.iter().all(|ball| ball.at.x >= ball.across / 2.0));
    }

    #[test]
    fn the_dice_are_splitmix() {
        // First output for seed 1234567: 6457827717110365317 (the reference implementation's own test vector).
        let mut dice = Dice(1_234_567);
        assert_eq!(dice.throw(), (6_457_827_717_110_365_317_u64 >> 11) as f64 / (1_u64 << 53) as f64);
    }
}

//! Balls of given sizes over a stretch, from a seed, none touching.
//!
//! Darts are thrown, the largest balls first; a dart that would touch a ball lying there is thrown again, at most
//! [`TRIES`] times. A grid as wide as the largest ball knows the neighbours, so that the work grows with the number of balls.

use std::collections::HashMap;

use glam::{DAffine3, DVec2};

use super::ball;
use super::measures::rectangle;
use super::{Hold, Part, PieceMeasure, PieceSize, Posture, Shortfall, Stock};
use crate::design::model::pieces::{Over, Scatter};
use crate::measure::Length;

/// Throws for one ball before it is given up.
const TRIES: u32 = 120;

/// Least gap between two balls, mm.
const GAP: f64 = 0.5;

/// One ball of a scatter.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Thrown {
    /// Its middle: (x, z) on a top, (along, up) on a side; mm.
    at: DVec2,
    /// Across, mm.
    across: f64,
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
fn thrown(scatter: &Scatter) -> Vec<Thrown> {
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
            let free = (0..TRIES).map(|_| Thrown { at: low + room * DVec2::new(dice.throw(), dice.throw()), across });
            if let Some(ball) = free.into_iter().find(|ball| ground.is_free(ball)) {
                ground.lay(ball);
            }
        }
    }
    ground.balls
}

/// The balls that lie already, found by their cell.
struct Ground {
    cell: f64,
    cells: HashMap<(i64, i64), Vec<Thrown>>,
    balls: Vec<Thrown>,
}

impl Ground {
    fn cell(&self, at: DVec2) -> (i64, i64) {
        let cell = (at / self.cell).floor();
        (cell.x as i64, cell.y as i64)
    }

    fn is_free(&self, ball: &Thrown) -> bool {
        let (column, row) = self.cell(ball.at);
        let near = (-1..=1).flat_map(|right| (-1..=1).map(move |up| (column + right, row + up)));
        let mut others = near.filter_map(|cell| self.cells.get(&cell)).flatten();
        others.all(|other| other.at.distance(ball.at) >= (other.across + ball.across) / 2.0 + GAP)
    }

    fn lay(&mut self, ball: Thrown) {
        self.cells.entry(self.cell(ball.at)).or_default().push(ball);
        self.balls.push(ball);
    }
}

pub(super) fn measure(scatter: &Scatter, posture: Posture) -> PieceMeasure {
    let balls = thrown(scatter);
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
        footprint: rectangle(low, high),
        shortfalls: (placed < asked).then_some(Shortfall::Crowded { asked, placed }).into_iter().collect(),
        ..PieceMeasure::default()
    }
}

/// On a top: in the frame of the seat. On a side: each ball's origin is its place on the tape.
pub(super) fn parts(scatter: &Scatter, posture: Posture, stock: &mut Stock) -> Vec<Part> {
    let balls = thrown(scatter).into_iter().zip(1..);
    balls
        .map(|(ball, number)| {
            let pose = DAffine3::from_translation(posture.place(ball.at, ball.across / 2.0));
            Part::ball(format!("ball {number}"), ball.across, &scatter.finish, stock).at(pose).held(Hold::Placed)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cake::pieces::trial;

    fn scatter(count: u32, side: f64) -> Scatter {
        let stretch = (Length::mm(-side), Length::mm(side));
        let sizes = vec![(Length::mm(6.0), count), (Length::mm(20.0), 3)];
        Scatter { over: Over::Tape { along: stretch, up: stretch }, sizes, seed: 7, finish: "sea".into() }
    }

    #[test]
    fn none_touch_all_lie_inside_and_the_same_seed_gives_the_same() {
        let scatter = scatter(60, 60.0);
        let balls = thrown(&scatter);
        assert_eq!(balls.len(), 63);
        assert_eq!(balls, thrown(&scatter));
        assert_ne!(balls, thrown(&Scatter { seed: 8, ..scatter.clone() }));
        for (number, ball) in balls.iter().enumerate() {
            assert!(ball.at.abs().max_element() <= 60.0 - ball.across / 2.0);
            for other in &balls[number + 1..] {
                assert!(other.at.distance(ball.at) >= (other.across + ball.across) / 2.0);
            }
        }
        let measured = measure(&scatter, Posture::OnSide);
        assert!(measured.shortfalls.is_empty());
        trial::agree(&measured, &parts(&scatter, Posture::OnSide, &mut Stock::default()), 0.01);
    }

    #[test]
    fn what_finds_no_place_is_counted() {
        let crowded = measure(&scatter(900, 40.0), Posture::OnTop);
        let [Shortfall::Crowded { asked: 903, placed }] = crowded.shortfalls[..] else { panic!("{crowded:?}") };
        assert!(placed > 50 && placed < 200, "{placed}");
    }

    #[test]
    fn the_dice_are_splitmix() {
        // First output for seed 1234567: 6457827717110365317 (the reference implementation's own test vector).
        let mut dice = Dice(1_234_567);
        assert_eq!(dice.throw(), (6_457_827_717_110_365_317_u64 >> 11) as f64 / (1_u64 << 53) as f64);
    }
}

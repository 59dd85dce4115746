//! A skin over rings: what a ball, a candle, a rope and a ribbon have in common.

use glam::{DVec2, DVec3};

use super::shell::{Corner, Shell};
use crate::shapes::Mesh;

/// A closed body over rings of equally many places, from the first ring to the last.
///
/// Each ring runs counter-clockwise seen from where the skin goes to. A ring of one place is a pole. An end that is no
/// pole is closed flat, from its middle. Picture places: u once round each ring, v **down** from the last ring (0) to the first (1).
#[must_use]
pub fn loft(rings: &[Vec<DVec3>]) -> Mesh {
    let mut rings = rings.to_vec();
    if let Some(middle) = rings.first().filter(|ring| ring.len() > 1).map(|ring| mean(ring)) {
        rings.insert(0, vec![middle]);
    }
    if let Some(middle) = rings.last().filter(|ring| ring.len() > 1).map(|ring| mean(ring)) {
        rings.push(vec![middle]);
    }
    skin(&rings).mesh()
}

/// A closed ring-shaped body: the last ring joins the first.
#[must_use]
pub fn loft_round(rings: &[Vec<DVec3>]) -> Mesh {
    let mut shell = Shell::default();
    let numbers: Vec<Vec<u32>> = rings.iter().map(|ring| ring.iter().map(|&at| shell.place(at)).collect()).collect();
    let shares = shares(rings.len() + 1);
    let pairs = numbers.iter().zip(numbers.iter().cycle().skip(1)).zip(shares.windows(2));
    for ((low, high), share) in pairs {
        join(&mut shell, [low, high], share);
    }
    shell.mesh()
}

fn skin(rings: &[Vec<DVec3>]) -> Shell {
    let mut shell = Shell::default();
    let numbers: Vec<Vec<u32>> = rings.iter().map(|ring| ring.iter().map(|&at| shell.place(at)).collect()).collect();
    for (pair, share) in numbers.windows(2).zip(shares(rings.len()).windows(2)) {
        if let [low, high] = pair {
            join(&mut shell, [low, high], share);
        }
    }
    shell
}

/// v of each ring, from 1 down to 0.
fn shares(count: usize) -> Vec<f64> {
    let last = count.saturating_sub(1).max(1) as f64;
    (0..count).map(|ring| 1.0 - ring as f64 / last).collect()
}

/// The strip of faces between two rings.
fn join(shell: &mut Shell, [low, high]: [&Vec<u32>; 2], share: &[f64]) {
    let &[below, above] = share else { return };
    let count = low.len().max(high.len());
    let corner = |ring: &[u32], step: usize, v: f64| {
        let place = ring.get(step % ring.len().max(1)).copied().unwrap_or_default();
        Corner { place, uv: DVec2::new(step as f64 / count as f64, v) }
    };
    for step in 0..count {
        let (a, b) = (corner(low, step, below), corner(low, step + 1, below));
        let (c, d) = (corner(high, step + 1, above), corner(high, step, above));
        match (low.len(), high.len()) {
            (1, _) => shell.face([a, c, d]),
            (_, 1) => shell.face([a, b, c]),
            _ => shell.patch([a, b, c, d]),
        }
    }
}

fn mean(ring: &[DVec3]) -> DVec3 {
    ring.iter().sum::<DVec3>() / ring.len().max(1) as f64
}

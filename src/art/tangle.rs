//! How much work it is to find what paths cover, told before the work is begun.
//!
//! The sweep that unites paths looks, at the height of every corner, at every edge that spans this height, and makes a
//! corner of every crossing. Ten thousand long edges crossing everywhere take minutes. Both numbers are estimated from
//! pairs of edges, all of them for few edges, evenly picked ones for many.

use glam::DVec2;

use super::region::{Ring, ring_edges};

/// Crossings that take about a second.
const MAX_CROSSINGS: f64 = 2e5;
/// Edges looked at that take a few seconds.
const MAX_SPANS: f64 = 1e9;
/// Edges that are picked; their pairs take a few milliseconds.
const PICKED: usize = 1500;

/// Whether uniting these paths would take too long to wait for.
pub(super) fn tangled(paths: &[Ring]) -> bool {
    let edges: Vec<(DVec2, DVec2)> = paths.iter().flat_map(|ring| ring_edges(ring)).collect();
    let step = edges.len().div_ceil(PICKED).max(1);
    let pick = |first: usize| edges.iter().skip(first).step_by(step);
    let (mut crossings, mut spans) = (0.0, 0.0);
    for one in pick(0) {
        for other in pick(step / 2) {
            let span = (one.0.y > other.0.y) != (one.1.y > other.0.y);
            spans += f64::from(u8::from(span));
            crossings += f64::from(u8::from(crosses(one, other)));
        }
    }
    let scale = (step * step) as f64;
    crossings * scale / 2.0 > MAX_CROSSINGS || spans * scale > MAX_SPANS
}

/// Whether two edges cross, ends not counted.
fn crosses(&(a, b): &(DVec2, DVec2), &(c, d): &(DVec2, DVec2)) -> bool {
    let side = |from: DVec2, to: DVec2, place: DVec2| (to - from).perp_dot(place - from);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fine_outlines_are_no_tangle_and_a_star_of_many_points_is() {
        let star = |points: u32, skip: u32| -> Ring {
            let turn = std::f64::consts::TAU * f64::from(skip) / f64::from(points);
            (0..points).map(|n| DVec2::from_angle(turn * f64::from(n)) * 100.0).collect()
        };
        assert!(!tangled(&[]) && !tangled(&[star(5, 2)]) && !tangled(&[star(100_000, 1)]));
        // Every edge crosses nearly every other one: n²/2 crossings.
        assert!(!tangled(&[star(501, 250)]) && tangled(&[star(1001, 500)]) && tangled(&[star(50_001, 25_000)]));
    }
}

//! Flat faces with holes, cut into triangles.

use std::collections::BTreeMap;

use earcut::Earcut;
use glam::DVec2;

/// Triangles (numbers into all rings' places, one ring after the other) that fill an outline: the first ring, counter-clockwise,
/// less the others, clockwise.
///
/// `None` where the rings cross or touch, so that no set of triangles closes against every edge of theirs.
#[must_use]
pub fn fill(rings: &[Vec<DVec2>]) -> Option<Vec<[u32; 3]>> {
    let places: Vec<DVec2> = rings.iter().flatten().copied().collect();
    let mut holes = Vec::new();
    let mut total = 0_u32;
    for ring in rings {
        if total > 0 {
            holes.push(total);
        }
        total += u32::try_from(ring.len()).ok()?;
    }
    let mut numbers: Vec<u32> = Vec::new();
    Earcut::new().earcut(places.iter().map(DVec2::to_array), &holes, &mut numbers);
    let mut triangles: Vec<[u32; 3]> = numbers.chunks_exact(3).filter_map(|three| three.try_into().ok()).collect();
    for triangle in &mut triangles {
        if area(&places, *triangle)? < 0.0 {
            triangle.swap(1, 2);
        }
    }
    triangles.retain(|&triangle| !is_flat(&places, triangle));
    mend(&places, &mut triangles, rings)?;
    let covered: f64 = triangles.iter().filter_map(|&triangle| area(&places, triangle)).sum();
    let whole: f64 = rings.iter().map(|ring| twice_area(ring)).sum();
    ((covered - whole).abs() <= 1e-9 * whole.abs().max(1.0)).then_some(triangles)
}

/// Twice a ring's area, positive counter-clockwise.
#[must_use]
pub fn twice_area(ring: &[DVec2]) -> f64 {
    ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| a.perp_dot(*b)).sum()
}

/// Twice a triangle's area.
fn area(places: &[DVec2], [a, b, c]: [u32; 3]) -> Option<f64> {
    let at = |number: u32| places.get(number as usize).copied();
    Some((at(b)? - at(a)?).perp_dot(at(c)? - at(a)?))
}

/// Whether a triangle's places lie on a line.
fn is_flat(places: &[DVec2], triangle: [u32; 3]) -> bool {
    let [a, b, c] = triangle.map(|number| places.get(number as usize).copied().unwrap_or_default());
    let longest = a.distance(b).max(b.distance(c)).max(c.distance(a));
    (b - a).perp_dot(c - a).abs() <= ON_LINE * longest
}

/// A place so near (mm) a line lies on it.
const ON_LINE: f64 = 1e-7;

/// Ear cutting leaves out places that lie on a straight line with their neighbours. Puts them back: each edge that has no
/// partner and passes through such a place is split there.
fn mend(places: &[DVec2], triangles: &mut Vec<[u32; 3]>, rings: &[Vec<DVec2>]) -> Option<()> {
    for _ in 0..=places.len() {
        let open = open_edges(triangles, rings)?;
        let Some((from, to, on)) =
            open.keys().find_map(|&(from, to)| Some((from, to, passed(places, &open, from, to)?)))
        else {
            return open.is_empty().then_some(());
        };
        let split = triangles.iter().position(|&[a, b, c]| [(a, b), (b, c), (c, a)].contains(&(from, to)))?;
        let [a, b, c] = triangles.swap_remove(split);
        let apex = [a, b, c].into_iter().find(|&corner| corner != from && corner != to)?;
        triangles.extend([[from, on, apex], [on, to, apex]]);
    }
    None
}

/// Directed edges of triangles that no triangle and no ring answers; `None` when an edge is used twice.
fn open_edges(triangles: &[[u32; 3]], rings: &[Vec<DVec2>]) -> Option<BTreeMap<(u32, u32), ()>> {
    let mut edges = BTreeMap::new();
    let mut use_edge = |edge: (u32, u32)| edges.insert(edge, ()).is_none().then_some(());
    for &[a, b, c] in triangles {
        for edge in [(a, b), (b, c), (c, a)] {
            use_edge(edge)?;
        }
    }
    let mut first = 0_u32;
    for ring in rings {
        let count = u32::try_from(ring.len()).ok()?;
        for step in 0..count {
            // The wall behind a ring's edge runs the other way.
            use_edge((first + (step + 1) % count, first + step))?;
        }
        first += count;
    }
    let partner = |&(from, to): &(u32, u32)| edges.contains_key(&(to, from));
    Some(edges.keys().filter(|edge| !partner(edge)).map(|&edge| (edge, ())).collect())
}

/// A place with an open edge of its own that lies between the two ends.
fn passed(places: &[DVec2], open: &BTreeMap<(u32, u32), ()>, from: u32, to: u32) -> Option<u32> {
    let at = |number: u32| places.get(number as usize).copied();
    let (start, end) = (at(from)?, at(to)?);
    let along = end - start;
    let ends = open.keys().map(|&(other, _)| other);
    ends.filter(|&other| other != from && other != to).find(|&other| {
        at(other).is_some_and(|place| {
            let share = (place - start).dot(along) / along.length_squared();
            let off = (place - start).perp_dot(along).abs() / along.length();
            share > 0.0 && share < 1.0 && off <= ON_LINE
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(low: f64, high: f64) -> Vec<DVec2> {
        [(low, low), (high, low), (high, high), (low, high)].map(|(x, y)| DVec2::new(x, y)).to_vec()
    }

    #[test]
    fn a_frame_of_places_in_line_is_filled_without_gaps() {
        let mut outer = square(0.0, 9.0);
        outer.insert(1, DVec2::new(3.0, 0.0));
        outer.insert(2, DVec2::new(6.0, 0.0));
        let mut hole = square(3.0, 6.0);
        hole.reverse();
        let triangles = fill(&[outer, hole]).expect("a frame");
        // Euler: a ring-shaped face of n places has n triangles.
        assert_eq!(triangles.len(), 10);
    }

    #[test]
    fn holes_in_line_leave_no_flat_triangles() {
        let holes = (0..12).map(|cell| {
            let low = DVec2::new(f64::from(cell % 4), f64::from(cell / 4)) * 2.1 + 0.7;
            square(0.0, 1.3).into_iter().rev().map(|at| at + low).collect::<Vec<_>>()
        });
        let rings: Vec<Vec<DVec2>> = std::iter::once(square(0.0, 9.7)).chain(holes).collect();
        let places = rings.concat();
        let triangles = fill(&rings).expect("a lattice");
        // Euler: n places and h holes give n + 2h - 2 triangles.
        assert_eq!(triangles.len(), places.len() + 2 * 12 - 2);
        assert!(triangles.iter().all(|&triangle| area(&places, triangle).unwrap() > 1e-7));
    }

    #[test]
    fn crossing_rings_are_refused() {
        let bow_tie = [(0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 3.0)].map(|(x, y)| DVec2::new(x, y)).to_vec();
        assert!(fill(&[bow_tie]).is_none());
        let mut far = square(20.0, 22.0);
        far.reverse();
        assert!(fill(&[square(0.0, 9.0), far]).is_none());
    }
}

//! The figure that a closed surface covers when it is laid flat.
//!
//! The triangles that face the eye are laid flat; edges between two of them cancel out, and what is left are closed rings
//! whose winding is positive wherever the body covers. So a few rings are united instead of thousands of triangles.

use std::collections::{BTreeMap, BTreeSet};

use glam::{DVec2, DVec3};

use crate::art::{Region, Ring};
use crate::shapes::Mesh;

/// What a mesh covers under `flat`, a projection that keeps triangles facing the eye clockwise in a frame with y down.
pub(super) fn silhouette(mesh: &Mesh, flat: impl Fn(DVec3) -> DVec2) -> Region {
    let numbers = merged(&mesh.positions);
    let places: Vec<DVec2> = mesh.positions.iter().map(|&at| flat(at)).collect();
    let mut edges: BTreeMap<(u32, u32), usize> = BTreeMap::new();
    for &corners in &mesh.triangles {
        let [Some(a), Some(b), Some(c)] = corners.map(|corner| places.get(corner as usize).copied()) else { continue };
        // y runs down, so what faces the eye runs the other way round.
        if (b - a).perp_dot(c - a) >= 0.0 {
            continue;
        }
        let [a, b, c] = corners.map(|corner| numbers.get(corner as usize).copied().unwrap_or(corner));
        for edge in [(a, b), (b, c), (c, a)] {
            add(&mut edges, edge);
        }
    }
    let place = |corner: u32| places.get(corner as usize).copied();
    let rings: Vec<Ring> = rings(edges).into_iter().map(|ring| ring.into_iter().filter_map(place).collect()).collect();
    Region::from_paths_non_zero(&rings)
}

/// For each corner the first corner at the very same place.
fn merged(positions: &[DVec3]) -> Vec<u32> {
    let mut first: BTreeMap<[u64; 3], u32> = BTreeMap::new();
    let number = |(number, at): (usize, &DVec3)| {
        // Adding zero makes one zero of both.
        let key = (*at + DVec3::ZERO).to_array().map(f64::to_bits);
        *first.entry(key).or_insert(u32::try_from(number).unwrap_or(u32::MAX))
    };
    positions.iter().enumerate().map(number).collect()
}

/// Adds an edge; one that runs the other way cancels it.
fn add(edges: &mut BTreeMap<(u32, u32), usize>, (from, to): (u32, u32)) {
    if let Some(back) = edges.get_mut(&(to, from)) {
        *back -= 1;
        if *back == 0 {
            edges.remove(&(to, from));
        }
    } else {
        *edges.entry((from, to)).or_default() += 1;
    }
}

/// Chains edges into closed rings. Each corner has as many edges in as out, so every walk comes home.
fn rings(edges: BTreeMap<(u32, u32), usize>) -> Vec<Vec<u32>> {
    let mut leaving: BTreeMap<u32, Vec<u32>> = BTreeMap::new();
    for ((from, to), times) in edges {
        leaving.entry(from).or_default().extend(std::iter::repeat_n(to, times));
    }
    let starts: BTreeSet<u32> = leaving.keys().copied().collect();
    let mut rings = Vec::new();
    for start in starts {
        while let Some(mut next) = leaving.get_mut(&start).and_then(Vec::pop) {
            let mut ring = vec![start];
            while next != start {
                ring.push(next);
                let Some(after) = leaving.get_mut(&next).and_then(Vec::pop) else { break };
                next = after;
            }
            rings.push(ring);
        }
    }
    rings
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A ring of square section lying flat: a body with a hole, and with itself behind itself from the side.
    fn square_ring() -> Mesh {
        let mut mesh = Mesh::default();
        let corner = |turn: u32, reach: f64, up: f64| {
            let direction = DVec2::from_angle(f64::from(turn % 4) * std::f64::consts::FRAC_PI_2);
            DVec3::new(direction.x * reach, up, -direction.y * reach)
        };
        for turn in 0..4 {
            let sides = [(60.0, 0.0), (60.0, 10.0), (40.0, 10.0), (40.0, 0.0)];
            for (number, &(reach, up)) in sides.iter().enumerate() {
                let (next_reach, next_up) = sides[(number + 1) % 4];
                let corners = [
                    corner(turn, reach, up),
                    corner(turn + 1, reach, up),
                    corner(turn + 1, next_reach, next_up),
                    corner(turn, next_reach, next_up),
                ]
                .map(|at| mesh.corner(at, DVec3::Y, DVec2::ZERO));
                mesh.patch(corners);
            }
        }
        mesh
    }

    #[test]
    fn a_hole_stays_open_and_what_lies_behind_is_covered_once() {
        let mesh = square_ring();
        // Squares standing on a corner, 60 and 40 from centre to corner: area 2·r².
        assert!((mesh.volume() - 2.0 * (3600.0 - 1600.0) * 10.0).abs() < 1e-6);
        let above = silhouette(&mesh, |at| DVec2::new(at.x, at.z));
        assert!((above.area() - 2.0 * (3600.0 - 1600.0)).abs() < 1e-3, "{}", above.area());
        let front = silhouette(&mesh, |at| DVec2::new(at.x, -at.y));
        assert!((front.area() - 120.0 * 10.0).abs() < 1e-3, "{}", front.area());
    }
}

//! Flat faces cut across into slabs before they are filled, so that no triangle is wider than its slab and the face can be bent.
//!
//! ```text
//!       plane   plane          Filled as a whole, a strip has slivers from end to end, and every plane at which it is bent
//!    ____|_______|____         cuts every sliver. So its outline gets places where planes cross it, and chords between
//!   /    |       |    \        them close each slab: that is filled by itself.
//!   \____|_______|____/
//! ```

use std::collections::BTreeMap;

use glam::DVec2;

use super::cap::{fill, twice_area};
use super::slice::widest_gap;
use crate::art::Region;

/// Outlines with places where planes square to x cross them.
#[derive(Debug)]
pub(super) struct Slabs {
    /// One a ring: after which of its places, and how far along the edge to the next.
    stops: Vec<Vec<(usize, f64)>>,
    /// What each slab is filled by: a loop and its holes, as numbers of places, ring after ring.
    faces: Vec<Vec<Vec<u32>>>,
}

impl Slabs {
    /// Of outlines (an outer one counter-clockwise and its holes clockwise), cut at most `spacing` apart; one slab for an
    /// infinite spacing, and for outlines that can't be cut.
    pub fn of(rings: &[Vec<DVec2>], spacing: f64) -> Self {
        let planes = planes(rings, spacing);
        Self::cut(rings, &planes).unwrap_or_else(|| Self::whole(rings))
    }

    fn whole(rings: &[Vec<DVec2>]) -> Self {
        let stops: Vec<Vec<(usize, f64)>> =
            rings.iter().map(|ring| (0..ring.len()).map(|edge| (edge, 0.0)).collect()).collect();
        let mut next = 0;
        let loops = stops.iter().map(|ring| {
            let numbers = next..next + ring.len() as u32;
            next = numbers.end;
            numbers.collect()
        });
        Self { faces: vec![loops.collect()], stops }
    }

    fn cut(rings: &[Vec<DVec2>], planes: &[f64]) -> Option<Self> {
        if planes.is_empty() {
            return None;
        }
        let mut edges: Vec<BTreeMap<u32, u32>> = vec![BTreeMap::new(); planes.len() + 1];
        let mut crossings: Vec<Vec<(f64, u32)>> = vec![Vec::new(); planes.len()];
        let (mut stops, mut places) = (Vec::with_capacity(rings.len()), Vec::new());
        for ring in rings {
            let first = places.len() as u32;
            let mut own = Vec::with_capacity(ring.len());
            // The slabs in which the edges after each of its places lie.
            let mut slabs = Vec::with_capacity(ring.len());
            for (edge, (&from, &to)) in ring.iter().zip(ring.iter().cycle().skip(1)).enumerate() {
                let slab = |x: f64| planes.partition_point(|&plane| plane < x);
                let (start, end) = (slab(from.x), slab(to.x));
                own.push((edge, 0.0));
                places.push(from);
                slabs.push(start);
                let crossed: Vec<usize> =
                    if start < end { (start..end).collect() } else { (end..start).rev().collect() };
                for number in crossed {
                    let plane = *planes.get(number)?;
                    let share = (plane - from.x) / (to.x - from.x);
                    let at = from.lerp(to, share).with_x(plane);
                    crossings.get_mut(number)?.push((at.y, places.len() as u32));
                    own.push((edge, share));
                    places.push(at);
                    slabs.push(if start < end { number + 1 } else { number });
                }
            }
            let count = own.len() as u32;
            for (step, slab) in (0..count).zip(slabs) {
                edges.get_mut(slab)?.insert(first + step, first + (step + 1) % count);
            }
            stops.push(own);
        }
        for (number, mut crossed) in crossings.into_iter().enumerate() {
            crossed.sort_by(|a, b| a.0.total_cmp(&b.0));
            let (chords, rest) = crossed.as_chunks::<2>();
            if !rest.is_empty() {
                return None;
            }
            for &[(_, low), (_, high)] in chords {
                // Up along the right of one slab, down along the left of the next.
                let taken = edges.get_mut(number)?.insert(low, high).is_some();
                if taken || edges.get_mut(number + 1)?.insert(high, low).is_some() {
                    return None;
                }
            }
        }
        let mut faces = Vec::new();
        for edges in edges {
            faces.extend(with_holes(loops(edges)?, &places)?);
        }
        Some(Self { stops, faces })
    }

    /// Outlines of as many places as those that were cut, with places where those were crossed.
    pub fn stopped(&self, rings: &[Vec<DVec2>]) -> Vec<Vec<DVec2>> {
        let stopped = |(ring, stops): (&Vec<DVec2>, &Vec<(usize, f64)>)| {
            let at = |number: usize| ring.get(number % ring.len().max(1)).copied().unwrap_or_default();
            stops.iter().map(|&(edge, share)| at(edge).lerp(at(edge + 1), share)).collect()
        };
        rings.iter().zip(&self.stops).map(stopped).collect()
    }

    /// Triangles that fill such outlines, slab by slab; `None` where outlines or chords cross or touch.
    pub fn fill(&self, stopped: &[Vec<DVec2>]) -> Option<Vec<[u32; 3]>> {
        let places: Vec<DVec2> = stopped.iter().flatten().copied().collect();
        let mut triangles = Vec::new();
        for face in &self.faces {
            let numbers: Vec<u32> = face.iter().flatten().copied().collect();
            let at = |&number: &u32| places.get(number as usize).copied();
            let rings: Option<Vec<Vec<DVec2>>> = face.iter().map(|ring| ring.iter().map(at).collect()).collect();
            let number = |local: u32| numbers.get(local as usize).copied().unwrap_or_default();
            triangles.extend(fill(&rings?)?.into_iter().map(|triangle| triangle.map(number)));
        }
        Some(triangles)
    }
}

/// Planes square to x at most `spacing` apart, as far from any place as they can be.
fn planes(rings: &[Vec<DVec2>], spacing: f64) -> Vec<f64> {
    let mut across: Vec<f64> = rings.iter().flatten().map(|at| at.x).collect();
    across.sort_by(f64::total_cmp);
    let (Some(&low), Some(&high)) = (across.first(), across.last()) else { return Vec::new() };
    let count = ((high - low) / (spacing * 0.7)).ceil();
    if count.is_nan() || count <= 1.0 {
        return Vec::new();
    }
    let step = (high - low) / count;
    let plane = |cut: u32| {
        let middle = low + step * f64::from(cut);
        widest_gap(&across, middle - step * 0.2, middle + step * 0.2)
    };
    (1..count as u32).map(plane).collect()
}

/// The closed ways along directed edges; `None` where one doesn't come home.
fn loops(mut edges: BTreeMap<u32, u32>) -> Option<Vec<Vec<u32>>> {
    let mut loops = Vec::new();
    while let Some((first, mut next)) = edges.pop_first() {
        let mut way = vec![first];
        while next != first {
            way.push(next);
            next = edges.remove(&next)?;
        }
        loops.push(way);
    }
    Some(loops)
}

/// Each loop that runs counter-clockwise, followed by those that run clockwise within it.
fn with_holes(loops: Vec<Vec<u32>>, places: &[DVec2]) -> Option<Vec<Vec<Vec<u32>>>> {
    let at = |number: &u32| places.get(*number as usize).copied();
    let ring = |way: &Vec<u32>| way.iter().map(at).collect::<Option<Vec<DVec2>>>();
    let (mut faces, mut holes) = (Vec::new(), Vec::new());
    for way in loops {
        let ring = ring(&way)?;
        let area = twice_area(&ring);
        if area > 0.0 {
            faces.push((area, Region { rings: vec![ring] }, vec![way]));
        } else {
            holes.push((ring, way));
        }
    }
    for (hole, way) in holes {
        let place = *hole.first()?;
        let around = faces.iter_mut().filter(|(_, ring, _)| ring.contains(place));
        around.min_by(|a, b| a.0.total_cmp(&b.0))?.2.push(way);
    }
    Some(faces.into_iter().map(|(.., face)| face).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(places: &[DVec2], triangle: [u32; 3]) -> f64 {
        let [a, b, c] = triangle.map(|number| places[number as usize]);
        (b - a).perp_dot(c - a)
    }

    #[test]
    fn a_plate_with_holes_is_filled_slab_by_slab() {
        // A frame, a hole within one slab, one across several.
        let outer = Region::rectangle(90.0, 30.0, 6.0).rings.concat();
        let turned = |region: Region, x: f64| {
            region.moved(DVec2::new(x, 1.0)).rings.concat().into_iter().rev().collect::<Vec<_>>()
        };
        let rings = vec![outer, turned(Region::disc(1.0), 13.1), turned(Region::rectangle(50.0, 9.0, 2.0), -15.0)];
        let slabs = Slabs::of(&rings, 4.0);
        let stopped = slabs.stopped(&rings);
        let places = stopped.concat();
        let triangles = slabs.fill(&stopped).unwrap();
        let whole: f64 = rings.iter().map(|ring| twice_area(ring)).sum();
        let covered: f64 = triangles.iter().map(|&triangle| area(&places, triangle)).sum();
        assert!((covered / whole - 1.0).abs() < 1e-9, "{covered} {whole}");
        for triangle in &triangles {
            let across = triangle.map(|number| places[number as usize].x);
            let wide = across.iter().fold(f64::MIN, |a, b| a.max(*b)) - across.iter().fold(f64::MAX, |a, b| a.min(*b));
            assert!(wide < 4.0 && area(&places, *triangle) > 0.0, "{wide}");
        }
        // Euler: hardly more triangles than places.
        assert!(triangles.len() < places.len() + 60, "{} {}", triangles.len(), places.len());
    }

    #[test]
    fn without_planes_an_outline_is_filled_as_it_is() {
        let disc = vec![Region::disc(5.0).rings.concat()];
        let slabs = Slabs::of(&disc, f64::INFINITY);
        assert_eq!(slabs.stopped(&disc), disc);
        assert_eq!(slabs.fill(&disc), fill(&disc));
    }
}

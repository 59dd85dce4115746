//! A block: the solid of a tier or a board, an outline carried up with an eased top edge.

use std::f64::consts::FRAC_PI_2;

use glam::{DVec2, DVec3};

use super::mesh::Mesh;
use super::outline::Outline;
use super::stations::Station;
use super::wall::{Rib, Section, carry};

/// Pieces of the quarter round at the top edge.
const EDGE_STEPS: u32 = 8;

/// A solid with `outline` from `foot` to `top` (mm above the frame's origin), its top edge rounded by `edge`.
///
/// Where a vertical corner is tighter than the edge, the edge is as round as the corner allows.
#[must_use]
pub fn block(outline: &Outline, (foot, top): (f64, f64), edge: f64) -> Mesh {
    let (low, high) = outline.bounds();
    let edge = edge.min((top - foot) * 0.9).min((high - low).min_element() * 0.4).max(0.0);
    let stations = outline.stations();
    let mut mesh = carry(&stations, &side_section((foot, top), edge));
    cap(&mut mesh, &stations, (-edge, top), DVec3::Y);
    cap(&mut mesh, &stations, (0.0, foot), DVec3::NEG_Y);
    mesh
}

fn side_section((foot, top): (f64, f64), edge: f64) -> Section {
    let mut side = vec![Rib::new(0.0, foot, DVec2::X), Rib::new(0.0, top - edge, DVec2::X)];
    if edge > 0.0 {
        side.extend((1..EDGE_STEPS).map(|step| {
            let (sin, cos) = (f64::from(step) / f64::from(EDGE_STEPS) * FRAC_PI_2).sin_cos();
            Rib::new(-edge * (1.0 - cos), top - edge * (1.0 - sin), DVec2::new(cos, sin))
        }));
        side.push(Rib::new(-edge, top, DVec2::Y));
    }
    vec![side]
}

/// Closes the section's end at `out`, `up` with a flat face that looks along `normal` (straight up or down).
///
/// Every outline of a tier or board is seen whole from its centre, so a fan of triangles fills it.
fn cap(mesh: &mut Mesh, stations: &[Station], (out, up): (f64, f64), normal: DVec3) {
    let mut ring: Vec<DVec2> = Vec::new();
    for place in stations.iter().map(|station| station.place(out)) {
        if ring.last() != Some(&place) {
            ring.push(place);
        }
    }
    let span = ring.iter().fold(1.0_f64, |most, place| most.max(place.abs().max_element()));
    let mut corner = |place: DVec2| {
        let uv = place / (2.0 * span) + DVec2::splat(0.5);
        mesh.corner(DVec3::new(place.x, up, place.y), normal, uv)
    };
    let hub = corner(DVec2::ZERO);
    let rim: Vec<u32> = ring.into_iter().map(corner).collect();
    for (&a, &b) in rim.iter().zip(rim.iter().skip(1)) {
        if normal.y > 0.0 { mesh.triangle(hub, a, b) } else { mesh.triangle(hub, b, a) }
    }
}

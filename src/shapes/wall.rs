//! What follows the side: a cross-section carried round an outline.

use std::f64::consts::FRAC_PI_2;

use glam::{DVec2, DVec3};

use super::mesh::Mesh;
use super::stations::Station;

/// Pieces of a quarter round in an eased edge.
const EASE_STEPS: u32 = 4;

/// One corner of a cross-section: so far out from the outline, so far up, and which way its surface looks there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rib {
    /// Out from the outline, mm; negative is inside.
    pub out: f64,
    /// Above the foot, mm.
    pub up: f64,
    /// Unit: outward share and upward share of the surface's normal.
    pub tilt: DVec2,
    /// Share of the picture's height, from its top.
    pub down: f64,
}

impl Rib {
    /// A rib whose surface looks along `tilt`.
    #[must_use]
    pub fn new(out: f64, up: f64, tilt: DVec2) -> Self {
        Self { out, up, tilt, down: 0.0 }
    }
}

/// The faces of a cross-section between two ribs, as pairs that share one smooth or flat surface.
///
/// Each inner list is one smooth surface from rib to rib; the corner between two lists is sharp.
pub type Section = Vec<Vec<Rib>>;

/// Carries a cross-section along stations. Ribs are listed upward along the outer face (so from the foot over the top and
/// down the inner face for a closed section). Pictures run once from the first station to the last.
#[must_use]
pub fn carry(stations: &[Station], section: &Section) -> Mesh {
    let mut mesh = Mesh::default();
    let (Some(first), Some(last)) = (stations.first(), stations.last()) else {
        return mesh;
    };
    let length = (last.along - first.along).max(f64::MIN_POSITIVE);
    for surface in section {
        let rows: Vec<Vec<u32>> = stations
            .iter()
            .map(|station| {
                let across = (station.along - first.along) / length;
                surface.iter().map(|rib| corner(&mut mesh, station, rib, across)).collect()
            })
            .collect();
        for (left, right) in rows.iter().zip(rows.iter().skip(1)) {
            let lower = left.iter().zip(right);
            for ((&a, &b), (&d, &c)) in lower.clone().zip(lower.skip(1)) {
                patch(&mut mesh, [a, b, c, d]);
            }
        }
    }
    mesh
}

fn corner(mesh: &mut Mesh, station: &Station, rib: &Rib, across: f64) -> u32 {
    let place = station.place(rib.out);
    let normal = DVec3::new(station.outward.x * rib.tilt.x, rib.tilt.y, station.outward.y * rib.tilt.x);
    mesh.corner(DVec3::new(place.x, rib.up, place.y), normal, DVec2::new(across, rib.down))
}

/// A four-sided patch without the triangles that collapse where a section meets a sharp corner.
fn patch(mesh: &mut Mesh, [a, b, c, d]: [u32; 4]) {
    for [i, j, k] in [[a, b, c], [a, c, d]] {
        let at = |corner: u32| mesh.positions.get(corner as usize).copied().unwrap_or_default();
        let (p, q, r) = (at(i), at(j), at(k));
        if p != q && q != r && r != p {
            mesh.triangle(i, j, k);
        }
    }
}

/// The closed section of a strip: from `inner` to `outer` mm out, from `bottom` to `top`, its outer edges eased by `ease`.
#[must_use]
pub fn strip_section((inner, outer): (f64, f64), (bottom, top): (f64, f64), ease: f64) -> Section {
    let ease = ease.min((outer - inner) * 0.9).min((top - bottom) * 0.45).max(0.0);
    let share = |up: f64| if top > bottom { (top - up) / (top - bottom) } else { 0.0 };
    let rib = |out: f64, up: f64, tilt: DVec2| Rib { out, up, tilt, down: share(up) };
    let shoulder = outer - ease;
    // Ends are listed by themselves, so that neighbouring surfaces meet in bit-identical places.
    let quarter = (1..EASE_STEPS).map(|step| (f64::from(step) / f64::from(EASE_STEPS) * FRAC_PI_2).sin_cos());
    let mut face = vec![rib(shoulder, bottom, DVec2::NEG_Y)];
    if ease > 0.0 {
        face.extend(
            quarter
                .clone()
                .map(|(sin, cos)| rib(shoulder + ease * sin, bottom + ease * (1.0 - cos), DVec2::new(sin, -cos))),
        );
        face.extend([rib(outer, bottom + ease, DVec2::X), rib(outer, top - ease, DVec2::X)]);
        face.extend(
            quarter.map(|(sin, cos)| rib(shoulder + ease * cos, top - ease * (1.0 - sin), DVec2::new(cos, sin))),
        );
        face.push(rib(shoulder, top, DVec2::Y));
    } else {
        face = vec![rib(outer, bottom, DVec2::X), rib(outer, top, DVec2::X)];
    }
    vec![
        vec![rib(inner, bottom, DVec2::NEG_Y), rib(shoulder, bottom, DVec2::NEG_Y)],
        face,
        vec![rib(shoulder, top, DVec2::Y), rib(inner, top, DVec2::Y)],
        vec![rib(inner, top, DVec2::NEG_X), rib(inner, bottom, DVec2::NEG_X)],
    ]
}

/// Closes both ends of a strip that does not run all round.
pub fn close_ends(mesh: &mut Mesh, stations: &[Station], section: &Section) {
    let ring: Vec<Rib> = section.iter().flat_map(|surface| surface.iter().skip(1)).copied().collect();
    for (station, sign) in [(stations.first(), -1.0), (stations.last(), 1.0)] {
        let Some(station) = station else { continue };
        let along = DVec2::new(station.outward.y, -station.outward.x) * sign;
        let normal = DVec3::new(along.x, 0.0, along.y);
        let corners: Vec<u32> = ring
            .iter()
            .map(|rib| {
                let place = station.place(rib.out);
                mesh.corner(DVec3::new(place.x, rib.up, place.y), normal, DVec2::new(0.0, rib.down))
            })
            .collect();
        let Some(&hub) = corners.first() else { continue };
        for (&b, &c) in corners.iter().skip(1).zip(corners.iter().skip(2)) {
            if sign > 0.0 { mesh.triangle(hub, c, b) } else { mesh.triangle(hub, b, c) }
        }
    }
}

//! What a piece on a side covers, unrolled: its real solids, laid on the tape.

use glam::{DVec2, DVec3};

use crate::art::{Colour, Region};
use crate::cake::{Body, CakeTier};
use crate::proof::silhouette::silhouette;
use crate::shapes::Mesh;

/// One body of a piece, unrolled.
#[derive(Clone, Debug)]
pub(super) struct Footprint {
    /// What it covers (along, up), mm, readings within half the tape either way.
    pub region: Region,
    /// Its colour.
    pub colour: Colour,
    /// How far it stands out at most, mm: nearer ones are drawn later.
    pub out: f64,
}

/// The footprints of a piece's bodies, the outermost last. `along` is the reading about which the piece lies.
pub(super) fn footprints<'a>(tier: &CakeTier, bodies: impl Iterator<Item = &'a Body>, along: f64) -> Vec<Footprint> {
    let mut found: Vec<Footprint> = bodies.filter_map(|body| footprint(tier, body, along)).collect();
    found.sort_by(|a, b| a.out.total_cmp(&b.out));
    found
}

fn footprint(tier: &CakeTier, body: &Body, along: f64) -> Option<Footprint> {
    let around = tier.outline.perimeter();
    let to_tier = tier.pose().inverse() * body.pose;
    let mut out = f64::NEG_INFINITY;
    let unrolled: Vec<DVec3> = body
        .mesh
        .positions
        .iter()
        .map(|&at| {
            let at = to_tier.transform_point3(at);
            let plan = DVec2::new(at.x, at.z);
            let reading = tier.outline.nearest(plan);
            let spot = tier.outline.at(reading);
            let beyond = (plan - spot.point).dot(spot.outward);
            out = out.max(beyond);
            // Readings run on about the piece, so that it hangs together over the back.
            DVec3::new(along + tier.outline.reading(reading - along), at.y, beyond)
        })
        .collect();
    let mesh = torn(Mesh { positions: unrolled, ..Mesh::clone(&body.mesh) }, around / 2.0);
    let region = silhouette(&mesh, |at| DVec2::new(at.x, -at.y));
    let up = |ring: &Vec<DVec2>| ring.iter().map(|at| DVec2::new(at.x, -at.y)).collect();
    let region = on_tape(&Region { rings: region.rings.iter().map(up).collect() }, around);
    (!region.is_empty()).then_some(Footprint { region, colour: body.surface.colour, out })
}

/// A mesh without the triangles that would run the wrong way round the cake: those of a piece that goes all round it.
fn torn(mut mesh: Mesh, most: f64) -> Mesh {
    let places = &mesh.positions;
    mesh.triangles.retain(|corners| {
        let along = corners.map(|corner| places.get(corner as usize).map_or(0.0, |at| at.x));
        let [low, high] = [f64::min, f64::max].map(|pick| along.into_iter().reduce(pick).unwrap_or_default());
        high - low < most
    });
    mesh
}

/// What lies beyond the back comes in at the tape's other end.
fn on_tape(region: &Region, around: f64) -> Region {
    let Some((low, high)) = region.bounds() else { return Region::default() };
    let half = around / 2.0;
    if low.x >= -half && high.x <= half {
        return region.clone();
    }
    let (foot, head) = (low.y - 1.0, high.y + 1.0);
    let tape = [(-half, foot), (half, foot), (half, head), (-half, head)].map(|(x, y)| DVec2::new(x, y));
    let tape = Region::from_paths_non_zero(&[tape.to_vec()]);
    let turned = [-around, 0.0, around].map(|by| region.moved(DVec2::X * by).common(&tape));
    Region { rings: turned.into_iter().flat_map(|part| part.rings).collect() }
}

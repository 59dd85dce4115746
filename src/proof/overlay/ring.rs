//! Rings round things of a picture, each with its name: what changed.

use std::collections::BTreeMap;

use glam::DVec2;

use super::busy::Busy;
use super::label::{Plate, Room, free_place};
use crate::art::{Stretch, shape};
use crate::cake::pieces::hull;
use crate::cake::{Body, Owner};
use crate::proof::chart::{Align, Chart, Hand};
use crate::proof::ink::{ACCENT, PAPER};
use crate::proof::sight::Sight;
use crate::proof::view::Camera;

/// A ring round everything that belongs to each owner, with its name over it; in pixels of the camera's picture.
#[must_use]
pub fn rings(bodies: &[Body], camera: &Camera, named: &BTreeMap<Owner, String>) -> Chart {
    let size = DVec2::new(f64::from(camera.size.0), f64::from(camera.size.1));
    let unit = size.min_element() / 1000.0;
    let gaze = camera.gaze();
    let mut chart = Chart::new("", size);
    let busy = Busy::new(&Sight::new(bodies, camera), size);
    let mut room = Room { picture: size, gap: unit * 5.0, taken: Vec::new(), lines: Vec::new(), busy };
    let mut labels = Vec::new();
    for (owner, name) in named {
        let own = bodies.iter().filter(|body| body.owner == *owner);
        let places = own
            .flat_map(|body| body.mesh.positions.iter().filter_map(|&at| gaze.pixel(body.pose.transform_point3(at))));
        let around = wider(&hull(places.collect()), unit * 10.0);
        let Some(&first) = around.first() else { continue };
        let ring: Vec<DVec2> = around.iter().copied().chain([first]).collect();
        chart.line(ring.clone(), Stretch { opacity: 0.8, ..Stretch::solid(unit * 8.0, PAPER) });
        chart.line(ring.clone(), Stretch::solid(unit * 3.6, ACCENT));
        let hand = Hand::strong(unit * 25.0).coloured(ACCENT).on_paper();
        let line = shape(name, hand.face, hand.size);
        let pad = unit * 7.0;
        let extent = DVec2::new(line.width, line.cap_height) + DVec2::splat(2.0 * pad);
        let highest = ring.iter().copied().min_by(|a, b| a.y.total_cmp(&b.y)).unwrap_or(first);
        let plate = free_place(Plate::around(highest - DVec2::Y * extent.y / 2.0, extent), &room);
        labels.push((DVec2::new(plate.low.x + pad, plate.high.y - pad), name, hand));
        room.taken.push(plate);
    }
    for (at, name, hand) in labels {
        chart.text((at, Align::Left), name.as_str(), hand);
    }
    chart
}

/// A ring with its corners so far further out from its middle.
fn wider(ring: &[DVec2], by: f64) -> Vec<DVec2> {
    let middle = ring.iter().sum::<DVec2>() / ring.len().max(1) as f64;
    ring.iter().map(|&at| at + (at - middle).normalize_or_zero() * by).collect()
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use glam::{DAffine3, DVec3};

    use super::*;
    use crate::art::Colour;
    use crate::cake::Surface;
    use crate::design::Look;
    use crate::proof::chart::Mark;
    use crate::proof::view::Direction;
    use crate::shapes::{Mesh, box_corners};

    #[test]
    fn a_ring_goes_round_all_of_its_own_and_bears_its_name() {
        let mesh = Mesh { positions: box_corners(DVec3::ZERO, DVec3::splat(40.0)).to_vec(), ..Mesh::default() };
        let surface = Surface { colour: Colour::default(), look: Look::Paste, picture: None };
        let body = |owner, x: f64| Body {
            name: "a".into(),
            mesh: Arc::new(mesh.clone()),
            pose: DAffine3::from_translation(DVec3::X * x),
            surface: surface.clone(),
            owner,
        };
        let bodies = [body(Owner::Piece(1), 0.0), body(Owner::Piece(1), 60.0), body(Owner::Piece(2), -90.0)];
        let corners: Vec<DVec3> = bodies
            .iter()
            .flat_map(|body| box_corners(DVec3::ZERO, DVec3::splat(40.0)).map(|at| body.pose.transform_point3(at)))
            .collect();
        let camera = Camera::framing(Direction::new(10.0, 15.0), &corners, (800, 600), 0.1);
        let chart = rings(&bodies, &camera, &BTreeMap::from([(Owner::Piece(1), "bow".to_owned())]));
        let [Mark::Line { points, .. }, Mark::Line { .. }, Mark::Text(text)] = chart.marks.as_slice() else {
            panic!("{:?}", chart.marks)
        };
        assert_eq!(text.text, "bow");
        let inside = |at: DVec2| points.windows(2).all(|pair| (pair[1] - pair[0]).perp_dot(at - pair[0]) > 0.0);
        for (number, &at) in corners.iter().enumerate() {
            assert_eq!(inside(camera.pixel(at).unwrap()), number < 16, "{number}");
        }
    }
}

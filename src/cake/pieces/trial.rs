//! What every kind of piece is tried against in its tests.

use std::sync::Arc;

use glam::{DVec2, DVec3};

use super::{Paint, Part, PieceMeasure};
use crate::art::{Art, Shelf, encode_png};
use crate::shapes::build::laws;

/// Every part keeps the laws of meshes, names are unique, and the paste measured is the paste built, within `share`.
pub(super) fn agree(measured: &PieceMeasure, parts: &[Part], share: f64) {
    assert!(!parts.is_empty());
    for (number, part) in parts.iter().enumerate() {
        laws::keep(&part.mesh).unwrap_or_else(|breach| panic!("{}: {breach}", part.name));
        assert!((part.pose.matrix3.determinant() - 1.0).abs() < 1e-9, "{} is turned, never mirrored", part.name);
        assert!(parts.iter().skip(number + 1).all(|other| other.name != part.name), "{} twice", part.name);
    }
    for (finish, volume) in &measured.volumes {
        let of_finish = parts.iter().filter(|part| part.paint == Paint::Finish(finish.clone()));
        let built: f64 = of_finish.map(|part| part.mesh.volume()).sum();
        assert!((built / volume - 1.0).abs() < share, "{finish}: measured {volume}, built {built}");
    }
    let (low, high) = bounds(parts);
    assert!(low.is_finite() && high.is_finite());
}

/// Least and greatest corner of all parts, in the piece's frame.
pub(in crate::cake) fn bounds(parts: &[Part]) -> (DVec3, DVec3) {
    let corners = parts.iter().flat_map(Part::places);
    corners.fold((DVec3::MAX, DVec3::MIN), |(low, high), at| (low.min(at), high.max(at)))
}

/// A flag, red on its left and blue on its right, with a round hole in the red; and a photo of the same.
const FLAG: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 40">
  <path fill="#f00" fill-rule="evenodd" d="M10 5H30V35H10Z M24 20A4 4 0 1 0 16 20A4 4 0 1 0 24 20Z"/>
  <path fill="#00f" d="M30 5H50V35H30Z"/>
</svg>"##;

/// A shelf with `flag.svg` and `flag.png`.
pub(in crate::cake) fn shelf() -> Shelf {
    let drawing = Art::read(FLAG.as_bytes(), "flag.svg").unwrap();
    let photo = encode_png(&drawing.paint(600, 400)).unwrap();
    let mut shelf = Shelf::default();
    shelf.insert("flag.svg", Arc::new(drawing));
    shelf.insert("flag.png", Arc::new(Art::read(&photo, "flag.png").unwrap()));
    shelf
}

/// The colour that a printed part shows where it is seen from outside at a place of its own frame, at its greatest z.
pub(super) fn seen(part: &Part, at: DVec2) -> Option<[u8; 4]> {
    let picture = part.picture.as_ref()?;
    let front = part.mesh.bounds()?.1.z;
    let corner = |number: u32| {
        let (place, uv) = (part.mesh.positions[number as usize], part.mesh.uvs[number as usize]);
        (place, uv)
    };
    part.mesh.triangles.iter().find_map(|&triangle| {
        let [(a, ua), (b, ub), (c, uc)] = triangle.map(corner);
        let flat = [a, b, c].iter().all(|place| place.z > front - 1e-9);
        let (along, away, here) = ((b - a).truncate(), (c - a).truncate(), at - a.truncate());
        let whole = along.perp_dot(away);
        let (right, up) = (here.perp_dot(away) / whole, along.perp_dot(here) / whole);
        let inside = flat && right >= 0.0 && up >= 0.0 && right + up <= 1.0;
        let uv = ua + (ub - ua) * right + (uc - ua) * up;
        let pixel = (uv * DVec2::new(f64::from(picture.width), f64::from(picture.height))).floor();
        inside.then(|| picture.pixel(pixel.x as u32, pixel.y as u32))?
    })
}

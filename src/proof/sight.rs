//! What a camera sees of the cake: which places are hidden behind something.
//!
//! A small depth picture of all bodies, drawn on the processor: exact enough to say whether a seam is in sight.

use glam::{DVec2, DVec3};

use super::view::{Camera, Gaze};
use crate::cake::{Body, Owner};

/// Columns of the depth picture.
const COLUMNS: u32 = 900;
/// A place this far behind what is seen in front of it (mm) still counts as seen: it lies on that surface.
const SLACK: f64 = 1.5;

/// A depth picture.
#[derive(Clone, Debug)]
pub struct Sight {
    gaze: Gaze,
    size: (u32, u32),
    /// Distance from the eye along its axis, mm, one a pixel.
    depths: Vec<f32>,
    /// Whether what is seen at each pixel is a piece.
    pieces: Vec<bool>,
}

impl Sight {
    /// Looks at bodies with a camera (at a size of its own).
    #[must_use]
    pub fn new(bodies: &[Body], camera: &Camera) -> Self {
        let rows = (f64::from(COLUMNS) / camera.aspect()).clamp(1.0, 4_000.0) as u32;
        let size = (COLUMNS, rows);
        let count = (COLUMNS * rows) as usize;
        let mut sight = Self {
            gaze: Camera { size, ..*camera }.gaze(),
            size,
            depths: vec![f32::INFINITY; count],
            pieces: vec![false; count],
        };
        for body in bodies {
            let is_piece = matches!(body.owner, Owner::Piece(_));
            let seen = |&at: &DVec3| sight.gaze.pixel_and_depth(body.pose.transform_point3(at));
            let corners: Vec<Option<(DVec2, f64)>> = body.mesh.positions.iter().map(seen).collect();
            let corner = |number: u32| corners.get(number as usize).copied().flatten();
            for face in &body.mesh.triangles {
                if let [Some(a), Some(b), Some(c)] = face.map(corner) {
                    sight.draw([a, b, c], is_piece);
                }
            }
        }
        sight
    }

    /// Is a place (mm) seen, or does something stand before it? A place outside the picture is not seen.
    #[must_use]
    pub fn sees(&self, place: DVec3) -> bool {
        let Some((pixel, depth)) = self.gaze.pixel_and_depth(place) else { return false };
        let nearest = self.slot(pixel.x.floor() as i64, pixel.y.floor() as i64).and_then(|slot| self.depths.get(slot));
        nearest.is_some_and(|&nearest| depth <= f64::from(nearest) + SLACK)
    }

    /// How many columns the sight's own picture has, and of each of its pixels, row by row from the upper left, whether it
    /// shows a piece.
    pub(super) fn pieces(&self) -> (usize, &[bool]) {
        (self.size.0 as usize, &self.pieces)
    }

    fn slot(&self, x: i64, y: i64) -> Option<usize> {
        let (width, height) = self.size;
        let inside = (0..i64::from(width)).contains(&x) && (0..i64::from(height)).contains(&y);
        inside.then_some((y * i64::from(width) + x) as usize)
    }

    /// Something at a depth in a pixel: seen if nothing is nearer.
    fn show(&mut self, (x, y): (i64, i64), depth: f32, is_piece: bool) {
        let Some(slot) = self.slot(x, y) else { return };
        if let (Some(nearest), Some(piece)) = (self.depths.get_mut(slot), self.pieces.get_mut(slot))
            && depth < *nearest
        {
            (*nearest, *piece) = (depth, is_piece);
        }
    }

    /// Fills one triangle: depth is even across it in inverse distance, as perspective has it. Bodies are closed, so one that
    /// turns away lies behind one that doesn't.
    fn draw(&mut self, corners: [(DVec2, f64); 3], is_piece: bool) {
        let ([a, b, c], depths) = (corners.map(|(pixel, _)| pixel), corners.map(|(_, depth)| depth));
        let twice = (b - a).perp_dot(c - a);
        // Counter-clockwise with y up is clockwise with y down.
        if twice > -1e-9 || depths.iter().any(|&depth| depth <= 1.0) {
            return;
        }
        let [low, high] = [a.min(b).min(c), a.max(b).max(c)];
        let (width, height) = self.size;
        let columns = pixels(low.x, high.x, width);
        // The shares of the corners and the inverse distance grow evenly along a row.
        let (slopes, inverses) =
            (DVec3::new(b.y - c.y, c.y - a.y, a.y - b.y) / twice, DVec3::from_array(depths.map(f64::recip)));
        let slope = slopes.dot(inverses);
        for y in pixels(low.y, high.y, height) {
            let at = DVec2::new(*columns.start() as f64 + 0.5, y as f64 + 0.5);
            let [a, b, c] = [a, b, c].map(|corner| corner - at);
            let mut shares = DVec3::new(b.perp_dot(c), c.perp_dot(a), a.perp_dot(b)) / twice;
            let mut inverse = shares.dot(inverses);
            for x in columns.clone() {
                if shares.cmpge(DVec3::splat(-1e-9)).all() {
                    self.show((x, y), (1.0 / inverse) as f32, is_piece);
                }
                shares += slopes;
                inverse += slope;
            }
        }
    }
}

/// The pixels whose middles may lie between two places, within a picture.
fn pixels(low: f64, high: f64, count: u32) -> std::ops::RangeInclusive<i64> {
    let last = f64::from(count) - 1.0;
    (low - 0.5).floor().clamp(0.0, last) as i64..=(high + 0.5).ceil().clamp(0.0, last) as i64
}

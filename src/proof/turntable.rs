//! The cake on a turntable: pictures from all round, at two heights of the eye, that fit together without a jump.
//!
//! Every picture of one height has the same lens at the same distance, framed so that the cake fits however it is turned. What is
//! drawn over a picture (seams, sizes) is kept apart from it, so that it can be shown or not.

use glam::DVec3;

use super::chart::Chart;
use super::shot::Shot;
use super::view::{Camera, Direction};

/// Pictures in one turn.
pub const STEPS: u32 = 16;
/// Heights of the eye, degrees: as the table is looked at, and from above.
pub const ELEVATIONS: [f64; 2] = [10.0, 38.0];
/// Share of a picture left free on every side: room for the sizes beside the cake.
const MARGIN: f64 = 0.1;
/// Width of a picture, px.
const WIDTH: f64 = 640.0;
/// Height of a picture over its width: at least, at most.
const PROPORTIONS: [f64; 2] = [0.72, 1.2];
/// Heights (mm) that share one radius when the cake is swept round.
const LAYER: f64 = 4.0;

/// One picture of the turn, with what may be drawn over it (px).
#[derive(Clone, Debug)]
pub struct Turned {
    /// The picture and its camera.
    pub shot: Shot,
    /// The seams in sight.
    pub seams: Chart,
    /// The sizes that matter.
    pub sizes: Chart,
}

/// The cameras of all pictures: once round at the lower height from the front to the cake's right, then at the other.
#[must_use]
pub fn cameras(corners: &[DVec3]) -> Vec<Camera> {
    let swept = swept(corners);
    let front = ELEVATIONS.map(|elevation| {
        let wide = Camera::framing(Direction::new(0.0, elevation), &swept, (1000, 1000), MARGIN);
        proportion(&wide, &swept)
    });
    // One size for both heights; the picture that needs more height decides.
    let [low, high] = PROPORTIONS;
    let proportion = front.into_iter().fold(low, f64::max).min(high);
    let size = (WIDTH as u32, (WIDTH * proportion / 2.0).round() as u32 * 2);
    let turn = |elevation: f64| {
        (0..STEPS).map(move |step| Direction::new(f64::from(step) * 360.0 / f64::from(STEPS), elevation))
    };
    let directions = ELEVATIONS.into_iter().flat_map(turn);
    directions.map(|direction| Camera::framing(direction, &swept, size, MARGIN)).collect()
}

/// Height over width of what is seen of some places.
fn proportion(camera: &Camera, places: &[DVec3]) -> f64 {
    let seen = places.iter().filter_map(|&at| camera.pixel(at));
    let (low, high) =
        seen.fold((glam::DVec2::INFINITY, glam::DVec2::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)));
    let size = high - low;
    if size.x > 0.0 && size.is_finite() { size.y / size.x } else { 1.0 }
}

/// Places on the body that the cake sweeps when it is turned about its middle: rings, each as wide as the cake there.
fn swept(corners: &[DVec3]) -> Vec<DVec3> {
    let mut layers = std::collections::BTreeMap::new();
    for at in corners.iter().filter(|at| at.is_finite()) {
        let radius = layers.entry((at.y / LAYER).floor() as i64).or_insert((0.0_f64, at.y, at.y));
        *radius = (radius.0.max(at.x.hypot(at.z)), radius.1.min(at.y), radius.2.max(at.y));
    }
    let around = || (0..STEPS).map(|step| f64::from(step) * std::f64::consts::TAU / f64::from(STEPS));
    // A ring of straight sides passes through the round one at its corners, which lie where the cameras look.
    let ring = |(radius, low, high): (f64, f64, f64)| {
        [low, high]
            .into_iter()
            .flat_map(move |y| around().map(move |angle| DVec3::new(radius * angle.sin(), y, radius * angle.cos())))
    };
    layers.into_values().flat_map(ring).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A box off the middle.
    fn corners() -> Vec<DVec3> {
        let pick = |bit: u32, number: u32, [low, high]: [f64; 2]| if number >> bit & 1 == 0 { low } else { high };
        (0..8)
            .map(|number| {
                DVec3::new(
                    pick(0, number, [-80.0, 120.0]),
                    pick(1, number, [-12.0, 150.0]),
                    pick(2, number, [-60.0, 60.0]),
                )
            })
            .collect()
    }

    #[test]
    fn the_cake_stays_in_the_picture_and_keeps_its_size_and_place_all_round() {
        let cameras = cameras(&corners());
        assert_eq!(cameras.len(), 32);
        for row in cameras.chunks(16) {
            let middle = row[0].pixel(DVec3::Y * 60.0).unwrap();
            for camera in row {
                assert_eq!(camera.size, row[0].size);
                assert!(camera.pixel(DVec3::Y * 60.0).unwrap().distance(middle) < 0.5);
                for at in corners().iter().filter_map(|&at| camera.pixel(at)) {
                    let size = glam::DVec2::new(f64::from(camera.size.0), f64::from(camera.size.1));
                    assert!(at.cmpgt(size * (MARGIN - 0.01)).all() && at.cmplt(size * (1.01 - MARGIN)).all(), "{at}");
                }
            }
        }
        assert!((cameras[8].direction.azimuth.as_degrees() - 180.0).abs() < 1e-9);
        assert!((cameras[18].direction.elevation.as_degrees() - ELEVATIONS[1]).abs() < 1e-9);
    }

    #[test]
    fn a_high_cake_gets_a_high_picture_and_nothing_at_all_gets_one_too() {
        let tower: Vec<DVec3> = corners().into_iter().map(|at| DVec3::new(at.x, at.y * 4.0, at.z)).collect();
        let [flat, high] = [corners(), tower].map(|corners| cameras(&corners)[0].size.1);
        assert!(flat < high && high <= 768, "{flat} {high}");
        assert_eq!(cameras(&[]).len(), 32);
    }
}

//! Where the light comes from.
//!
//! Three lights, in the photographer's frame (x to the right, y up, z towards the camera): a large soft *key* in front on the
//! left, a gentle *fill* low on the right, and the *room*, equally bright from every side above the table. Light coming up
//! from the table is the *bounce*. Each light is drawn as lamps, that is directions with a share of the light's power;
//! every frame of an average has other lamps, so that their hard shadows add up to soft ones.
//!
//! **Colour is a promise**: the powers are chosen so that what faces the camera is lit with about 1, and nothing with more;
//! then matte paste of colour C is seen as C. The tests below hold the numbers.

use glam::{DQuat, DVec3};

use crate::proof::view::Direction;

use crate::scene::quality::Plan;

/// A lamp far away.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Lamp {
    /// Unit vector towards the lamp.
    pub towards: DVec3,
    /// Light on a surface that faces it; 1 shows a matte colour as it is.
    pub power: f64,
}

/// One of the lights: evenly bright within a cone.
struct Light {
    middle: DVec3,
    /// Cosine of the cone's half angle.
    edge: f64,
    power: f64,
}

/// Light that the table throws up, on a surface that looks straight down.
pub(super) const BOUNCE: f64 = 0.56;

/// The lights, in the order of [`Plan::lamps`].
fn lights() -> [Light; 3] {
    let light = |azimuth: f64, elevation: f64, half: f64, power: f64| Light {
        middle: Direction::new(azimuth, elevation).towards_eye(),
        edge: half.to_radians().cos(),
        power,
    };
    // A room of even brightness b throws the light b on a level surface, half of the power of all its lamps.
    [light(-34.0, 36.0, 18.0, 0.34), light(55.0, 8.0, 30.0, 0.18), light(0.0, 90.0, 90.0, 1.36)]
}

/// The lamps of one frame of a picture, in the cake's frame.
pub(super) fn lamps(plan: &Plan, frame: u32, azimuth: f64) -> Vec<Lamp> {
    let turn = DQuat::from_rotation_y(azimuth);
    let of_light = |(light, count): (Light, u32)| {
        let all = count * plan.frames;
        (0..count).map(move |number| Lamp {
            towards: turn * light.direction(spiral(number * plan.frames + frame, all)),
            power: light.power / f64::from(count),
        })
    };
    lights().into_iter().zip(plan.lamps).flat_map(of_light).collect()
}

/// Light on a level surface with nothing in the way, over all frames of a picture.
pub(super) fn on_the_table(plan: &Plan) -> f64 {
    let lit: f64 = (0..plan.frames)
        .flat_map(|frame| lamps(plan, frame, 0.0))
        .map(|lamp| lamp.towards.y.max(0.0) * lamp.power)
        .sum();
    lit / f64::from(plan.frames.max(1))
}

impl Light {
    /// The direction for a point of the unit square; equal areas become equal solid angles (Archimedes' hat-box theorem).
    fn direction(&self, (across, around): (f64, f64)) -> DVec3 {
        let along = 1.0 - across * (1.0 - self.edge);
        let aside = (1.0 - along * along).max(0.0).sqrt();
        let (sin, cos) = (std::f64::consts::TAU * around).sin_cos();
        DQuat::from_rotation_arc(DVec3::Z, self.middle) * DVec3::new(aside * cos, aside * sin, along)
    }
}

/// The point `number` of `all` in a sunflower's spiral over the unit square: even shares across, golden angles around.
fn spiral(number: u32, all: u32) -> (f64, f64) {
    let number = f64::from(number);
    ((number + 0.5) / f64::from(all.max(1)), (number * 0.618_033_988_749_894_8).fract())
}

/// The point `number` of an even spread over the unit square: Roberts' R2 sequence, from the plastic number 1.3247….
pub(super) fn spread(number: u32) -> (f64, f64) {
    const STEPS: (f64, f64) = (0.754_877_666_246_692_7, 0.569_840_290_998_053_2);
    let number = f64::from(number);
    ((0.5 + number * STEPS.0).fract(), (0.5 + number * STEPS.1).fract())
}

#[cfg(test)]
mod tests {
    use super::{BOUNCE, Direction, lamps};
    use crate::scene::Quality;

    /// Light on an open surface that looks towards a direction of the photographer's frame.
    fn light_on(azimuth: f64, elevation: f64, quality: Quality) -> f64 {
        let plan = quality.plan();
        let normal = Direction::new(azimuth, elevation).towards_eye();
        let all = (0..plan.frames).flat_map(|frame| lamps(&plan, frame, 0.0));
        let direct: f64 = all.map(|lamp| lamp.towards.dot(normal).max(0.0) * lamp.power).sum();
        direct / f64::from(plan.frames) + BOUNCE * (0.5 - 0.5 * normal.y)
    }

    #[test]
    fn what_faces_the_camera_is_lit_with_one() {
        // The few lamps of a turntable's picture are a little off.
        for (quality, more) in
            [(Quality::Good, 0.0), (Quality::Small, 0.0), (Quality::Best, 0.0), (Quality::Turning, 0.04)]
        {
            assert!((light_on(0.0, 0.0, quality) - 0.95).abs() < 0.03 + more);
            assert!((light_on(0.0, 90.0, quality) - 0.92).abs() < 0.04 + more);
            for azimuth in [-90.0, 90.0] {
                assert!((light_on(azimuth, 0.0, quality) - 0.77).abs() < 0.06 + more);
            }
        }
    }

    #[test]
    fn nothing_is_lit_so_much_that_white_would_lose_its_form() {
        for azimuth in (-180..180).step_by(15) {
            for elevation in (-90..=90).step_by(15) {
                let light = light_on(f64::from(azimuth), f64::from(elevation), Quality::Best);
                assert!(light < 1.06, "{azimuth} {elevation}: {light}");
            }
        }
    }
}

//! How the eye walks round the cake: like a person round a table, never with the cake upside down.

use glam::DVec3;

use crate::proof::view::{Camera, Direction};

/// Degrees that a drag across a whole picture's height walks.
const WALK: f64 = 180.0;

/// Nearest and farthest that the eye comes to what it looks at, mm.
const REACH: (f64, f64) = (60.0, 20_000.0);

/// How far from a place the eye stands that looks straight at it, mm.
const NEAR_LOOK: f64 = 700.0;

/// How much nearer one notch of the wheel comes.
const NOTCH: f64 = 0.88;

/// Where the eye stands: a direction, and a distance from what it looks at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rig {
    direction: Direction,
    /// What it looks at, and from how far, mm; the whole cake when there is none.
    look: Option<(DVec3, f64)>,
}

impl Rig {
    /// Looks at the whole cake from a direction.
    #[must_use]
    pub const fn whole(direction: Direction) -> Self {
        Self { direction, look: None }
    }

    /// From where it looks.
    #[must_use]
    pub const fn direction(&self) -> Direction {
        self.direction
    }

    /// The camera for a picture of this size, with all of `corners` (mm) in it while it looks at the whole cake.
    #[must_use]
    pub fn camera(&self, corners: &[DVec3], size: (u32, u32), margin: f64) -> Camera {
        let whole = Camera::framing(self.direction, corners, size, margin);
        match self.look {
            None => whole,
            Some((at, away)) => Camera { eye: at + self.direction.towards_eye() * away, ..whole },
        }
    }

    /// Walks round by a drag of (right, down), in shares of the picture's height: the cake turns with the pointer.
    pub fn walk(&mut self, (right, down): (f64, f64), camera: &Camera, corners: &[DVec3]) {
        self.hold(camera, corners);
        let azimuth = self.direction.azimuth.as_degrees() - right * WALK;
        let elevation = (self.direction.elevation.as_degrees() + down * WALK).clamp(0.0, 90.0);
        self.direction = Direction::new(between_halves(azimuth), elevation);
    }

    /// Shifts what it looks at by a drag of (right, down), in shares of the picture's height.
    pub fn shift(&mut self, (right, down): (f64, f64), camera: &Camera, corners: &[DVec3]) {
        let (at, away) = self.hold(camera, corners);
        let height = 2.0 * away * (camera.field.as_radians() / 2.0).tan();
        let (across, up) = self.direction.axes();
        self.look = Some((at - across * right * height + up * down * height, away));
    }

    /// Comes nearer by some notches (negative: goes away); the place `towards` stays where it is seen.
    pub fn nearer(&mut self, notches: f64, towards: Option<DVec3>, (camera, corners): (&Camera, &[DVec3])) {
        let (at, away) = self.hold(camera, corners);
        let to = (away * NOTCH.powf(notches)).clamp(REACH.0, REACH.1);
        let towards = towards.unwrap_or(at);
        let at = towards + (at - towards) * (to / away);
        self.look = Some((at, to));
    }

    /// Stays where it is from now on, also when what it looks at grows or moves.
    pub fn keep(&mut self, camera: &Camera, corners: &[DVec3]) {
        self.hold(camera, corners);
    }

    /// Looks straight at a place whose surface has this normal.
    pub fn look_at(&mut self, (at, normal): (DVec3, DVec3), camera: &Camera, corners: &[DVec3]) {
        let (_, away) = self.hold(camera, corners);
        let level = normal.x.hypot(normal.z);
        // Straight from above there is no azimuth; the one that was stays.
        let azimuth =
            if level > 1e-3 { normal.x.atan2(normal.z).to_degrees() } else { self.direction.azimuth.as_degrees() };
        let elevation = normal.y.atan2(level).to_degrees().clamp(0.0, 90.0);
        self.direction = Direction::new(azimuth, elevation);
        self.look = Some((at, away.min(NEAR_LOOK)));
    }

    /// Makes what is looked at its own, so that walking doesn't lose it: a place over the middle of all, at its depth.
    fn hold(&mut self, camera: &Camera, corners: &[DVec3]) -> (DVec3, f64) {
        if let Some(look) = self.look {
            return look;
        }
        let (low, high) =
            corners.iter().fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), &at| (low.min(at), high.max(at)));
        let middle = if low.is_finite() && high.is_finite() { (low + high) / 2.0 } else { DVec3::ZERO };
        let towards = camera.direction.towards_eye();
        let away = (camera.eye - middle).dot(towards).clamp(REACH.0, REACH.1);
        let look = (camera.eye - towards * away, away);
        self.look = Some(look);
        look
    }
}

/// Degrees between -180 and 180.
fn between_halves(degrees: f64) -> f64 {
    (degrees + 180.0).rem_euclid(360.0) - 180.0
}

#[cfg(test)]
mod tests {
    use super::*;

    const CORNERS: [DVec3; 8] = [
        DVec3::new(-150.0, -10.0, -150.0),
        DVec3::new(150.0, -10.0, -150.0),
        DVec3::new(-150.0, -10.0, 150.0),
        DVec3::new(150.0, -10.0, 150.0),
        DVec3::new(-150.0, 300.0, -150.0),
        DVec3::new(150.0, 300.0, -150.0),
        DVec3::new(-150.0, 300.0, 150.0),
        DVec3::new(150.0, 300.0, 150.0),
    ];
    const SIZE: (u32, u32) = (800, 600);

    fn camera(rig: &Rig) -> Camera {
        rig.camera(&CORNERS, SIZE, 0.07)
    }

    #[test]
    fn walking_keeps_the_cake_the_right_way_up_and_where_it_is() {
        let mut rig = Rig::whole(Direction::new(22.0, 16.0));
        let before = camera(&rig);
        rig.walk((0.0, 0.0), &before, &CORNERS);
        assert!(camera(&rig).eye.distance(before.eye) < 1e-9);
        for step in 0..200 {
            let seen = camera(&rig);
            rig.walk((0.13, if step % 3 == 0 { 0.9 } else { -0.4 }), &seen, &CORNERS);
            let camera = camera(&rig);
            assert!((0.0..=90.0).contains(&rig.direction().elevation.as_degrees()));
            assert!((-180.0..180.0).contains(&rig.direction().azimuth.as_degrees()));
            let (foot, top) = (camera.pixel(DVec3::ZERO).unwrap(), camera.pixel(DVec3::Y * 200.0).unwrap());
            // Nearly from above, an upright line runs outwards from the middle of the picture, wherever that is.
            assert!(top.y <= foot.y + 1e-6 || rig.direction().elevation.as_degrees() > 75.0, "{step}");
            assert!((0.0..800.0).contains(&foot.x) && (0.0..600.0).contains(&foot.y), "{step} {foot}");
        }
    }

    #[test]
    fn coming_nearer_keeps_the_place_under_the_pointer() {
        let mut rig = Rig::whole(Direction::new(-40.0, 20.0));
        let place = DVec3::new(60.0, 120.0, 80.0);
        let before = camera(&rig).pixel(place).unwrap();
        for notches in [1.0, 3.0, -2.0] {
            let seen = camera(&rig);
            rig.nearer(notches, Some(place), (&seen, &CORNERS));
            assert!(camera(&rig).pixel(place).unwrap().distance(before) < 1e-6);
        }
        for _ in 0..100 {
            let seen = camera(&rig);
            rig.nearer(5.0, Some(place), (&seen, &CORNERS));
        }
        assert!(camera(&rig).eye.is_finite());
    }

    #[test]
    fn looking_at_a_place_has_it_in_the_middle_and_shifting_takes_it_along() {
        let mut rig = Rig::whole(Direction::new(0.0, 8.0));
        let place = DVec3::new(140.0, 50.0, 0.0);
        let seen = camera(&rig);
        rig.look_at((place, DVec3::X), &seen, &CORNERS);
        assert!((rig.direction().azimuth.as_degrees() - 90.0).abs() < 1e-9);
        assert!(camera(&rig).pixel(place).unwrap().distance(glam::DVec2::new(400.0, 300.0)) < 1e-6);
        let seen = camera(&rig);
        rig.shift((0.25, 0.0), &seen, &CORNERS);
        assert!(camera(&rig).pixel(place).unwrap().distance(glam::DVec2::new(550.0, 300.0)) < 1e-6);
        let seen = camera(&rig);
        rig.look_at((place, DVec3::Y), &seen, &CORNERS);
        assert!((rig.direction().elevation.as_degrees() - 90.0).abs() < 1e-9);
    }
}

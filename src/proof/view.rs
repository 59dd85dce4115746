//! Where the picture is taken from, and where on the picture a place of the cake falls.
//!
//! This is the one camera of the project: the renderer takes its matrices from here, the drawing over a picture (seams,
//! sizes) projects through it, and the tests predict with it where a mark must appear.
//!
//! Azimuth 0° looks at the front, 90° at the cake's right side (from +X), 180° at the back; elevation is the eye's height
//! above the horizon. Pixels: x to the right, y down, the centre of the first pixel at (0.5, 0.5).

use glam::{DMat4, DVec2, DVec3};

use crate::measure::Angle;

/// A direction to look from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Direction {
    /// Round the cake, 0° in front, positive towards the cake's right side.
    pub azimuth: Angle,
    /// Above the horizon, up to 90°.
    pub elevation: Angle,
}

/// The views a decorator names, with the direction each looks from. `customer` is the picture on the proof.
pub const NAMED: [(&str, Direction); 6] = [
    ("customer", Direction::new(22.0, 16.0)),
    ("front", Direction::new(0.0, 8.0)),
    ("right", Direction::new(90.0, 8.0)),
    ("back", Direction::new(180.0, 8.0)),
    ("left", Direction::new(-90.0, 8.0)),
    ("top", Direction::new(0.0, 90.0)),
];

impl Direction {
    /// A direction from degrees.
    #[must_use]
    pub const fn new(azimuth: f64, elevation: f64) -> Self {
        Self { azimuth: Angle::degrees(azimuth), elevation: Angle::degrees(elevation) }
    }

    /// The unit vector from the cake towards the eye.
    #[must_use]
    pub fn towards_eye(self) -> DVec3 {
        let (sin_a, cos_a) = self.azimuth.as_radians().sin_cos();
        let (sin_e, cos_e) = self.elevation.as_radians().sin_cos();
        DVec3::new(cos_e * sin_a, sin_e, cos_e * cos_a)
    }

    /// Picture-right and picture-up as unit vectors; defined straight from above too.
    #[must_use]
    pub fn axes(self) -> (DVec3, DVec3) {
        let (sin_a, cos_a) = self.azimuth.as_radians().sin_cos();
        let right = DVec3::new(cos_a, 0.0, -sin_a);
        (right, self.towards_eye().cross(right))
    }
}

/// A camera with its picture: everything needed to take a picture or to predict one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Camera {
    /// Where it looks from.
    pub direction: Direction,
    /// The eye, mm, in the cake's frame.
    pub eye: DVec3,
    /// Half the tangent of the vertical field of view is `tan(fov/2)`; this is the full vertical field.
    pub field: Angle,
    /// Picture width and height, px.
    pub size: (u32, u32),
}

impl Camera {
    /// Vertical field of view of every picture: long enough a lens that a cake does not look bent.
    pub const FIELD: Angle = Angle::degrees(22.0);

    /// A camera that has all of `points` (mm) in a picture of `size` px, with `margin` (0..0.5) of it free on every side.
    ///
    /// The eye moves along the view's axis until the tightest point touches the margin; the axis is shifted sideways so
    /// that what is seen lies in the middle. Solved by the four half-planes of the frame, which are linear in the eye's place.
    #[must_use]
    pub fn framing(direction: Direction, points: &[DVec3], size: (u32, u32), margin: f64) -> Self {
        let (right, up) = direction.axes();
        let towards = direction.towards_eye();
        let free = 1.0 - 2.0 * margin.clamp(0.0, 0.45);
        let tangent_up = (Self::FIELD.as_radians() / 2.0).tan() * free;
        let tangent_right = tangent_up * f64::from(size.0) / f64::from(size.1.max(1));
        // A point (r, u, t) is inside when |r - R| <= (T - t)·tangent: R and T from the extremes of r ± t·tangent.
        let extremes = |axis: DVec3, tangent: f64| {
            points.iter().fold((f64::NEG_INFINITY, f64::NEG_INFINITY), |(plus, minus), &at| {
                let (side, depth) = (at.dot(axis), at.dot(towards) * tangent);
                (plus.max(depth + side), minus.max(depth - side))
            })
        };
        let solve = |(plus, minus): (f64, f64), tangent: f64| ((plus - minus) / 2.0, (plus + minus) / (2.0 * tangent));
        let (at_right, far_right) = solve(extremes(right, tangent_right), tangent_right);
        let (at_up, far_up) = solve(extremes(up, tangent_up), tangent_up);
        let eye = right * at_right + up * at_up + towards * far_right.max(far_up);
        let eye = if eye.is_finite() { eye } else { towards * 1000.0 };
        Self { direction, eye, field: Self::FIELD, size }
    }

    /// From the cake's frame (mm) to the eye's frame (mm; right, up, towards the viewer).
    #[must_use]
    pub fn view_from_cake(&self) -> DMat4 {
        let (_, up) = self.direction.axes();
        DMat4::look_to_rh(self.eye, -self.direction.towards_eye(), up)
    }

    /// Width over height.
    #[must_use]
    pub fn aspect(&self) -> f64 {
        f64::from(self.size.0) / f64::from(self.size.1.max(1))
    }

    /// The pixel on which a place of the cake (mm) falls; `None` behind the eye.
    #[must_use]
    pub fn pixel(&self, place: DVec3) -> Option<DVec2> {
        self.gaze().pixel(place)
    }

    /// The camera made ready for very many places.
    #[must_use]
    pub fn gaze(&self) -> Gaze {
        Gaze {
            view: self.view_from_cake(),
            scale: 1.0 / (self.field.as_radians() / 2.0).tan(),
            aspect: self.aspect(),
            size: DVec2::new(f64::from(self.size.0), f64::from(self.size.1)),
        }
    }
}

/// A camera made ready: where places fall, without working out its matrices anew for each.
#[derive(Clone, Copy, Debug)]
pub struct Gaze {
    view: DMat4,
    scale: f64,
    aspect: f64,
    size: DVec2,
}

impl Gaze {
    /// As [`Camera::pixel`].
    #[must_use]
    pub fn pixel(&self, place: DVec3) -> Option<DVec2> {
        self.pixel_and_depth(place).map(|(pixel, _)| pixel)
    }

    /// The pixel, and how far before the eye the place lies along its axis, mm.
    #[must_use]
    pub fn pixel_and_depth(&self, place: DVec3) -> Option<(DVec2, f64)> {
        let seen = self.view.transform_point3(place);
        if seen.z >= -1e-6 {
            return None;
        }
        let across = seen.x * self.scale / self.aspect / -seen.z;
        let upward = seen.y * self.scale / -seen.z;
        Some((DVec2::new((across + 1.0) / 2.0 * self.size.x, (1.0 - upward) / 2.0 * self.size.y), -seen.z))
    }
}

//! The project's camera as a projection of the engine.

use bevy::camera::{CameraProjection, SubCameraView};
use bevy::math::{Mat3, Mat4, Quat, Vec2, Vec3, Vec3A, Vec4};
use bevy::transform::components::Transform;
use glam::{DVec2, DVec3};

use crate::proof::view::{Camera, Direction};

use crate::scene::tiles::Tile;

/// Units of the engine's scene in a millimetre: the scene is built in decimetres.
pub(super) const SCENE_PER_MM: f64 = 0.01;

/// A place of the cake (mm) in the scene.
pub(super) fn place(at: DVec3) -> Vec3 {
    (at * SCENE_PER_MM).as_vec3()
}

/// Where the camera stands and how it is turned.
pub(super) fn stand(camera: &Camera) -> Transform {
    Transform::from_translation(place(camera.eye)).with_rotation(turn(camera.direction))
}

/// The camera's turn, from the eye's frame to the cake's.
fn turn(direction: Direction) -> Quat {
    let (right, up) = direction.axes();
    Quat::from_mat3(&Mat3::from_cols(right.as_vec3(), up.as_vec3(), direction.towards_eye().as_vec3())).normalize()
}

/// One tile of a camera's picture, as a perspective projection without a far plane (depth 1 at `NEAR`, 0 at infinity).
///
/// The picture's whole projection gives x = scale·X/(-Z) in -1..1; a tile is a scaled and shifted part of that.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lens {
    scale: Vec2,
    shift: Vec2,
}

impl Lens {
    /// Distance of the near plane in scene units: 1 mm.
    const NEAR: f32 = 0.01;

    /// The projection of one tile; what should fall on a pixel's centre is moved by `nudge` px (right, down).
    pub(super) fn new(camera: &Camera, tile: Tile, nudge: DVec2) -> Self {
        let size = DVec2::new(f64::from(camera.size.0), f64::from(camera.size.1));
        let part = DVec2::new(f64::from(tile.width), f64::from(tile.height));
        let corner = DVec2::new(f64::from(tile.x), f64::from(tile.y));
        let upward = 1.0 / (camera.field.as_radians() / 2.0).tan();
        let scale = DVec2::new(upward / camera.aspect(), upward) * size / part;
        let shift = (size + 2.0 * (nudge - corner)) / part - 1.0;
        Self { scale: scale.as_vec2(), shift: DVec2::new(shift.x, -shift.y).as_vec2() }
    }
}

impl CameraProjection for Lens {
    fn get_clip_from_view(&self) -> Mat4 {
        Mat4::from_cols(
            Vec4::new(self.scale.x, 0.0, 0.0, 0.0),
            Vec4::new(0.0, self.scale.y, 0.0, 0.0),
            Vec4::new(-self.shift.x, -self.shift.y, 0.0, -1.0),
            Vec4::new(0.0, 0.0, Self::NEAR, 0.0),
        )
    }

    fn get_clip_from_view_for_sub(&self, _: &SubCameraView) -> Mat4 {
        self.get_clip_from_view()
    }

    /// The lens belongs to one tile, whose size never changes.
    fn update(&mut self, _: f32, _: f32) {}

    fn far(&self) -> f32 {
        1.0e4
    }

    fn get_frustum_corners(&self, z_near: f32, z_far: f32) -> [Vec3A; 8] {
        let corner = |x: f32, y: f32, z: f32| {
            let side = (Vec2::new(x, y) - self.shift) / self.scale * -z;
            Vec3A::new(side.x, side.y, z)
        };
        let ring = |z: f32| [corner(1.0, -1.0, z), corner(1.0, 1.0, z), corner(-1.0, 1.0, z), corner(-1.0, -1.0, z)];
        let ([a, b, c, d], [e, f, g, h]) = (ring(z_near), ring(z_far));
        [a, b, c, d, e, f, g, h]
    }
}

#[cfg(test)]
mod tests {
    use super::{Camera, CameraProjection, DVec2, DVec3, Direction, Lens, Tile, place, stand};

    /// The engine's matrices and `Camera::pixel` are two ways to the same pixel.
    #[test]
    fn the_lens_sees_a_place_where_the_camera_model_says() {
        let corners = [DVec3::new(-200.0, -10.0, -180.0), DVec3::new(150.0, 320.0, 190.0)];
        let tile = Tile { x: 400, y: 300, width: 500, height: 450 };
        for (azimuth, elevation) in [(0.0, 8.0), (90.0, 8.0), (180.0, 8.0), (-90.0, 8.0), (22.0, 16.0), (0.0, 90.0)] {
            let camera = Camera::framing(Direction::new(azimuth, elevation), &corners, (1600, 1200), 0.05);
            let lens = Lens::new(&camera, tile, DVec2::new(0.25, -0.5)).get_clip_from_view();
            let clip_from_cake = lens * stand(&camera).to_matrix().inverse();
            for at in [DVec3::ZERO, DVec3::new(120.0, 50.0, 90.0), DVec3::new(-90.0, 200.0, 140.0)] {
                let seen = clip_from_cake.project_point3(place(at));
                let found =
                    DVec2::new(f64::from(seen.x) + 1.0, 1.0 - f64::from(seen.y)) / 2.0 * DVec2::new(500.0, 450.0);
                let expected = camera.pixel(at).unwrap() - DVec2::new(400.0, 300.0) + DVec2::new(0.25, -0.5);
                assert!((found - expected).length() < 0.01, "{azimuth} {elevation} {at}: {found} for {expected}");
            }
        }
    }
}

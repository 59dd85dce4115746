//! The plane in which the sight lines from one seam towards one azimuth lie, and where it cuts a solid.

use glam::{DAffine3, DVec2, DVec3};

use super::eyes::LEVELS;

/// An upright half plane that hangs from a seam towards the eyes, in the frame of what it cuts.
#[derive(Clone, Copy, Debug)]
pub(super) struct Curtain<'a> {
    /// How far sight lines rise over their way ahead, from the lowest eye to the highest.
    pub slopes: &'a [f64; LEVELS],
    /// The seam's foot and head, mm up.
    heights: (f64, f64),
    /// The place of the seam at height 0.
    foot: DVec3,
    /// Along the sight lines, level.
    ahead: DVec3,
    /// Square to the plane.
    across: DVec3,
    up: DVec3,
}

impl<'a> Curtain<'a> {
    /// From a seam (plan, mm) of such heights towards an eye (plan, unit).
    pub fn new((seam, heights): (DVec2, (f64, f64)), towards: DVec2, slopes: &'a [f64; LEVELS]) -> Self {
        Self {
            slopes,
            heights,
            foot: DVec3::new(seam.x, 0.0, seam.y),
            ahead: DVec3::new(towards.x, 0.0, towards.y),
            across: DVec3::new(towards.y, 0.0, -towards.x),
            up: DVec3::Y,
        }
    }

    /// The same curtain in the frame of a body that stands so.
    pub fn within(&self, pose: &DAffine3) -> Self {
        let back = pose.matrix3.transpose();
        let [foot, ahead, across, up] =
            [self.foot - pose.translation, self.ahead, self.across, self.up].map(|vector| back * vector);
        Self { foot, ahead, across, up, ..*self }
    }

    /// Its start and its way in the plan (x, z) of a frame that stands upright, and the height of that frame's 0 in the
    /// cake's.
    pub fn in_plan(&self) -> (DVec2, DVec2, f64) {
        (DVec2::new(self.foot.x, self.foot.z), DVec2::new(self.ahead.x, self.ahead.z), -self.foot.y)
    }

    /// The shadow of a box on the seam, from so high to so high for each slope; never less than that of what is in it.
    pub fn shadow(&self, low: DVec3, high: DVec3) -> impl Fn(f64) -> (f64, f64) + use<> {
        let (near, far) = self.span(self.ahead, (low, high));
        let (bottom, top) = self.span(self.up, (low, high));
        move |slope| (bottom - far.max(0.0) * slope, top - near.max(0.0) * slope)
    }

    /// From where to where a box reaches along an axis.
    fn span(&self, axis: DVec3, (low, high): (DVec3, DVec3)) -> (f64, f64) {
        let (at, reach) = (((low + high) / 2.0 - self.foot).dot(axis), ((high - low) / 2.0).dot(axis.abs()));
        (at - reach, at + reach)
    }

    /// May something in this box stand before the seam?
    pub fn reaches(&self, low: DVec3, high: DVec3) -> bool {
        let (left, right) = self.span(self.across, (low, high));
        if left > 0.0 || right < 0.0 {
            return false;
        }
        let (near, far) = self.span(self.ahead, (low, high));
        let (bottom, top) = self.span(self.up, (low, high));
        let [least, .., most] = *self.slopes;
        // Its shadow on the seam is lowest from its foot at its far end, highest from its top at its near end.
        far >= 0.0 && top - near.max(0.0) * least >= self.heights.0 && bottom - far * most <= self.heights.1
    }

    /// The disc in which it cuts a ball; `None` where it passes by.
    pub fn disc(&self, centre: DVec3, radius: f64) -> Option<Disc> {
        let place = centre - self.foot;
        let beside = place.dot(self.across);
        let left = radius * radius - beside * beside;
        let middle = DVec2::new(place.dot(self.ahead), place.dot(self.up));
        (left > 0.0 && middle.x + left.sqrt() > 0.0).then(|| Disc { middle, radius: left.sqrt() })
    }

    /// Where it cuts a triangle, before the seam: an edge from (mm ahead, mm up) to another.
    pub fn cut(&self, corners: [DVec3; 3]) -> Option<[DVec2; 2]> {
        cut(corners.map(|corner| {
            let place = corner - self.foot;
            (place.dot(self.across), DVec2::new(place.dot(self.ahead), place.dot(self.up)))
        }))
    }
}

/// Where a curtain cuts a triangle, before the seam, from how far aside of the curtain each corner lies and where (mm ahead,
/// mm up).
pub(super) fn cut([a, b, c]: [(f64, DVec2); 3]) -> Option<[DVec2; 2]> {
    let meet = |(one, from): (f64, DVec2), (other, to): (f64, DVec2)| {
        ((one >= 0.0) != (other >= 0.0)).then(|| from.lerp(to, one / (one - other)))
    };
    match (meet(a, b), meet(b, c), meet(c, a)) {
        (Some(p), Some(q), _) | (Some(p), _, Some(q)) | (_, Some(p), Some(q)) => before([p, q]),
        _ => None,
    }
}

/// The cut through a ball: its middle (mm ahead, mm up) and its radius.
#[derive(Clone, Copy, Debug)]
pub(super) struct Disc {
    middle: DVec2,
    radius: f64,
}

impl Disc {
    /// Its shadow on the seam for sight lines of a slope. Sight lines touch the disc above and below, or, where those places
    /// lie behind the seam, its shadow ends where the seam itself leaves the disc.
    pub fn shadow(&self, slope: f64) -> (f64, f64) {
        let Self { middle, radius } = *self;
        let stretch = slope.hypot(1.0);
        let ahead = radius * slope / stretch;
        let beside = (radius * radius - middle.x * middle.x).max(0.0).sqrt();
        let (shadow, reach) = (middle.y - middle.x * slope, radius * stretch);
        let top = if middle.x >= ahead { shadow + reach } else { middle.y + beside };
        let foot = if middle.x >= -ahead { shadow - reach } else { middle.y - beside };
        (foot, top)
    }
}

/// The part of an edge that lies before the seam.
fn before([a, b]: [DVec2; 2]) -> Option<[DVec2; 2]> {
    match (a.x >= 0.0, b.x >= 0.0) {
        (true, true) => Some([a, b]),
        (false, false) => None,
        (true, false) => Some([a, a.lerp(b, a.x / (a.x - b.x))]),
        (false, true) => Some([b.lerp(a, b.x / (b.x - a.x)), b]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cut_is_the_same_in_every_frame() {
        let slopes = [0.2, 0.3, 0.4, 0.5, 0.6];
        let curtain = Curtain::new((DVec2::new(3.0, -2.0), (0.0, 90.0)), DVec2::new(0.6, 0.8), &slopes);
        let corners = [DVec3::new(10.0, 4.0, 0.0), DVec3::new(2.0, 30.0, 9.0), DVec3::new(9.0, 8.0, 22.0)];
        let pose = DAffine3::from_rotation_translation(glam::DQuat::from_rotation_x(0.7), DVec3::new(5.0, 6.0, -7.0));
        let moved = corners.map(|corner| pose.inverse().transform_point3(corner));
        let (here, there) = (curtain.cut(corners).unwrap(), curtain.within(&pose).cut(moved).unwrap());
        assert!(here.iter().zip(there).all(|(a, b)| a.distance(b) < 1e-9));
        // Each end lies on the triangle's plane and in the curtain's.
        let normal = (corners[1] - corners[0]).cross(corners[2] - corners[0]);
        for end in here {
            let place = DVec3::new(3.0 + 0.6 * end.x, end.y, -2.0 + 0.8 * end.x);
            assert!((place - corners[0]).dot(normal).abs() < 1e-6 && end.x >= 0.0);
        }
    }

    #[test]
    fn what_lies_behind_the_seam_is_left_out() {
        let slopes = [0.2; LEVELS];
        let curtain = Curtain::new((DVec2::ZERO, (0.0, 10.0)), DVec2::Y, &slopes);
        let across =
            |z: [f64; 2]| [DVec3::new(-1.0, 5.0, z[0]), DVec3::new(1.0, 5.0, z[0]), DVec3::new(0.0, 5.0, z[1])];
        assert!(curtain.cut(across([-8.0, -1.0])).is_none());
        let [a, b] = curtain.cut(across([-4.0, 6.0])).unwrap();
        let (near, far) = if a.x < b.x { (a, b) } else { (b, a) };
        assert!(near.distance(DVec2::new(0.0, 5.0)) < 1e-9 && far.distance(DVec2::new(6.0, 5.0)) < 1e-9);
        assert!(curtain.reaches(DVec3::new(-1.0, 0.0, 3.0), DVec3::new(1.0, 5.0, 4.0)));
        assert!(!curtain.reaches(DVec3::new(-1.0, 0.0, -4.0), DVec3::new(1.0, 5.0, -3.0)));
        assert!(!curtain.reaches(DVec3::new(1.0, 0.0, 3.0), DVec3::new(2.0, 5.0, 4.0)));
        assert!(!curtain.reaches(DVec3::new(-1.0, 20.0, 3.0), DVec3::new(1.0, 25.0, 4.0)));
    }
}

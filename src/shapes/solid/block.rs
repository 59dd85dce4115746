//! Upright solids round an outline: the block of a tier, a board or a band, and a rope. Exact, without triangles.

use glam::{DVec2, DVec3};

use super::Depth;
use crate::shapes::Outline;

/// An outline, moved out, carried up; its top edge may be rounded. Frame: the outline's plan, y up.
#[derive(Clone, Debug)]
pub struct Block {
    /// Seen from above, mm.
    pub outline: Outline,
    /// How far outside the outline its side lies, mm.
    pub out: f64,
    /// Height of its lower face, mm.
    pub foot: f64,
    /// Height of its upper face, mm.
    pub top: f64,
    /// Radius of its upper edge, mm.
    pub edge: f64,
}

/// A rope that lies against the side of an outline. Frame: the outline's plan, y up.
#[derive(Clone, Debug)]
pub struct Rope {
    /// Seen from above, mm.
    pub outline: Outline,
    /// Of the rope, mm.
    pub radius: f64,
    /// Height of its middle, mm.
    pub up: f64,
}

/// How a place in the plan lies to a line outside an outline.
struct Rim {
    /// How far inside the line, mm.
    inside: f64,
    /// The nearest place on the line.
    nearest: DVec2,
    /// Away from the cake there, unit.
    outward: DVec2,
}

fn rim(outline: &Outline, place: DVec2, out: f64) -> Rim {
    let spot = outline.at(outline.nearest(place));
    let away = place - spot.point;
    let outside = away.dot(spot.outward) > 0.0;
    let outward = away.try_normalize().map_or(spot.outward, |way| if outside { way } else { -way });
    let distance = away.length();
    Rim { inside: if outside { out - distance } else { out + distance }, nearest: spot.point + outward * out, outward }
}

fn raised(at: DVec2, up: f64) -> DVec3 {
    DVec3::new(at.x, up, at.y)
}

fn bounds(outline: &Outline, out: f64, (foot, top): (f64, f64)) -> (DVec3, DVec3) {
    let (low, high) = outline.bounds();
    (raised(low - out, foot), raised(high + out, top))
}

impl Block {
    pub(super) fn bounds(&self) -> (DVec3, DVec3) {
        bounds(&self.outline, self.out, (self.foot, self.top))
    }

    /// The most that any place of an upright box may lie inside; the box may be turned about the vertical.
    pub(super) fn most_within(&self, middle: DVec3, half: DVec3) -> f64 {
        let beside = rim(&self.outline, DVec2::new(middle.x, middle.z), self.out).inside + half.x.hypot(half.z);
        beside.min(self.top - middle.y + half.y).min(middle.y + half.y - self.foot)
    }

    pub(super) fn depth(&self, place: DVec3) -> Depth {
        let flat = DVec2::new(place.x, place.z);
        let rim = rim(&self.outline, flat, self.out);
        let (below_top, above_foot) = (self.top - place.y, place.y - self.foot);
        let edge = self.edge.min(self.top - self.foot).max(0.0);
        if rim.inside < edge && below_top < edge {
            let from_middle = DVec2::new(edge - rim.inside, edge - below_top);
            let on_edge = from_middle.normalize_or(DVec2::Y) * edge;
            let nearest = raised(rim.nearest + rim.outward * (on_edge.x - edge), self.top - edge + on_edge.y);
            return Depth { inside: edge - from_middle.length(), nearest };
        }
        if rim.inside < 0.0 || below_top < 0.0 || above_foot < 0.0 {
            let beside = if rim.inside < 0.0 { rim.nearest } else { flat };
            return Depth::at(place, raised(beside, place.y.clamp(self.foot, self.top)), false);
        }
        if rim.inside <= below_top.min(above_foot) {
            Depth { inside: rim.inside, nearest: raised(rim.nearest, place.y) }
        } else if below_top <= above_foot {
            Depth { inside: below_top, nearest: raised(flat, self.top) }
        } else {
            Depth { inside: above_foot, nearest: raised(flat, self.foot) }
        }
    }
}

impl Rope {
    pub(super) fn bounds(&self) -> (DVec3, DVec3) {
        bounds(&self.outline, 2.0 * self.radius, (self.up - self.radius, self.up + self.radius))
    }

    pub(super) fn depth(&self, place: DVec3) -> Depth {
        let rim = rim(&self.outline, DVec2::new(place.x, place.z), self.radius);
        let from_middle = DVec2::new(-rim.inside, place.y - self.up);
        let on_rope = from_middle.normalize_or(DVec2::X) * self.radius;
        let nearest = raised(rim.nearest + rim.outward * on_rope.x, self.up + on_rope.y);
        Depth { inside: self.radius - from_middle.length(), nearest }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::shapes::forms;
    use crate::shapes::solid::Solid;

    /// Places in and round a block, against the same block as triangles.
    #[test]
    fn blocks_and_their_meshes_agree() {
        for (outline, name) in [
            (forms::round(160.0), "round"),
            (forms::rectangle(120.0, 90.0, 0.0), "rectangle"),
            (forms::rectangle(120.0, 120.0, 15.0), "soft square"),
            (forms::regular(6, 140.0, 0.0), "hexagon"),
        ] {
            let mesh = crate::shapes::block(&outline, (0.0, 100.0), 5.0);
            let skin = Solid::skin(Arc::new(mesh)).unwrap();
            let block = Block { outline, out: 0.0, foot: 0.0, top: 100.0, edge: 5.0 };
            for number in 0..400_u32 {
                let share = |step: f64| (f64::from(number) * step).fract();
                let place = DVec3::new(
                    220.0 * share(0.618_034) - 110.0,
                    140.0 * share(0.414_21) - 20.0,
                    220.0 * share(0.732_05) - 110.0,
                );
                let (ours, theirs) = (block.depth(place), skin.depth(place));
                assert!((ours.inside - theirs.inside).abs() < 0.6, "{name} {place}: {ours:?} {theirs:?}");
                assert!((place.distance(ours.nearest) - ours.inside.abs()).abs() < 1e-9, "{name} {place}: {ours:?}");
            }
        }
    }

    #[test]
    fn a_rope_is_a_ring() {
        let rope = Rope { outline: forms::round(100.0), radius: 4.0, up: 4.0 };
        let middle = rope.depth(DVec3::new(54.0, 4.0, 0.0));
        assert!((middle.inside - 4.0).abs() < 1e-9);
        let above = rope.depth(DVec3::new(0.0, 11.0, 54.0));
        assert!((above.inside + 3.0).abs() < 1e-9 && above.nearest.distance(DVec3::new(0.0, 8.0, 54.0)) < 1e-9);
    }
}

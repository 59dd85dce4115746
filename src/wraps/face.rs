//! What is printed: where the art lies on a wrap's face, and the face painted.
//!
//! The face is the printed sheet laid out flat: x from its left end to the right, y from its upper edge down, mm.

use glam::DVec2;

use crate::art::{Colour, Part, Picture};
use crate::design::model::{Fit, Wrap};

use super::repeat::Repeat;

/// A pattern whose rows fit the course's height to within this share is stretched to fit; beyond, it keeps its proportion.
const ROW_STRETCH: f64 = 0.15;

/// Where copies of the art lie on a face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layout {
    /// Left and upper edge of one copy, mm.
    pub at: DVec2,
    /// Width and height of one copy, mm.
    pub size: DVec2,
    /// The part of the art that one copy shows.
    pub part: Part,
    /// Distance from copy to copy, to the right and down; infinite where there is one only.
    pub pitch: DVec2,
    /// Width of the whole art at this scale, mm, of which `part` may show less.
    pub whole: DVec2,
}

/// The face to be covered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Face {
    /// Width and height, mm.
    pub size: DVec2,
    /// Where the focus of the art is wanted, from the face's left end, mm.
    pub focus_x: f64,
    /// The face closes on itself.
    pub closed: bool,
}

/// Lays art of a `proportion` (width over height) on a face as the wrap asks; the closed repeat where it repeats.
#[must_use]
pub fn layout(wrap: &Wrap, proportion: f64, face: Face) -> (Layout, Option<Repeat>) {
    let focus = DVec2::from_array(wrap.focus);
    match wrap.fit {
        Fit::Repeat { width, .. } => {
            let repeat = Repeat::close(width.as_mm(), face.size.x);
            (repeated(repeat.width, proportion, focus, face), Some(repeat))
        }
        Fit::Cover => (covering(proportion, focus, face), None),
        Fit::Contain => (contained(proportion, focus, face), None),
    }
}

fn repeated(width: f64, proportion: f64, focus: DVec2, face: Face) -> Layout {
    let natural = width / proportion;
    let rows = (face.size.y / natural).round().max(1.0);
    let stretch = face.size.y / natural / rows;
    let fits = (stretch - 1.0).abs() <= ROW_STRETCH;
    let height = if fits { face.size.y / rows } else { natural };
    let top = if fits { 0.0 } else { (face.size.y - natural) * focus.y };
    let size = DVec2::new(width, height);
    Layout { at: DVec2::new(face.focus_x - focus.x * width, top), size, part: Part::WHOLE, pitch: size, whole: size }
}

fn covering(proportion: f64, focus: DVec2, face: Face) -> Layout {
    let whole = if face.size.x / face.size.y > proportion {
        DVec2::new(face.size.x, face.size.x / proportion)
    } else {
        DVec2::new(face.size.y * proportion, face.size.y)
    };
    // All round, the picture's ends meet where they are furthest from the focus; on a stretch, they meet its ends.
    let middle = if face.closed { face.size.x / 2.0 } else { face.focus_x };
    let spare = (whole - face.size).max(DVec2::ZERO);
    let cut = (focus * whole - DVec2::new(middle, face.size.y / 2.0)).clamp(DVec2::ZERO, spare);
    let left = if face.closed { face.focus_x - (focus.x * whole.x - cut.x) } else { 0.0 };
    let share = face.size / whole;
    Layout {
        at: DVec2::new(left, 0.0),
        size: face.size,
        part: Part { left: cut.x / whole.x, top: cut.y / whole.y, width: share.x.min(1.0), height: share.y.min(1.0) },
        pitch: DVec2::new(if face.closed { face.size.x } else { f64::INFINITY }, f64::INFINITY),
        whole,
    }
}

fn contained(proportion: f64, focus: DVec2, face: Face) -> Layout {
    let size = if face.size.x / face.size.y > proportion {
        DVec2::new(face.size.y * proportion, face.size.y)
    } else {
        DVec2::new(face.size.x, face.size.x / proportion)
    };
    let left = face.focus_x - focus.x * size.x;
    let left = if face.closed { left } else { left.clamp(0.0, (face.size.x - size.x).max(0.0)) };
    Layout {
        at: DVec2::new(left, (face.size.y - size.y) / 2.0),
        size,
        part: Part::WHOLE,
        pitch: DVec2::new(if face.closed { face.size.x } else { f64::INFINITY }, f64::INFINITY),
        whole: size,
    }
}

/// The colour of a face at a place (mm), from a picture of the whole art at any size.
#[must_use]
pub(super) fn colour_at(whole: &Picture, layout: &Layout, at: DVec2) -> Colour {
    let [red, green, blue, _] = sample(whole, layout.column(at.x, whole.width), layout.row(at.y, whole.height));
    Colour::new(red, green, blue)
}

impl Layout {
    /// Which of a picture's columns stand at `x`, the picture being the whole art.
    fn column(&self, x: f64, count: u32) -> Option<Blend> {
        Blend::of((x - self.at.x, self.size.x, self.pitch.x), (self.part.left, self.part.width), count)
    }

    fn row(&self, y: f64, count: u32) -> Option<Blend> {
        Blend::of((y - self.at.y, self.size.y, self.pitch.y), (self.part.top, self.part.height), count)
    }
}

/// Two neighbouring pixels along one axis and the share of the second.
#[derive(Clone, Copy, Debug)]
struct Blend {
    first: u32,
    second: u32,
    share: u32,
}

impl Blend {
    /// At a distance (mm) from the first edge of copies that are so long, follow at such a pitch and show a part of the art
    /// (its start and its share).
    fn of((distance, size, pitch): (f64, f64, f64), (start, share): (f64, f64), count: u32) -> Option<Self> {
        let within = if pitch.is_finite() { distance.rem_euclid(pitch) } else { distance } / size;
        if !(0.0..=1.0).contains(&within) {
            return None;
        }
        Some(Self::at(start + within * share, count, share >= 1.0 && pitch <= size + 1e-9))
    }

    /// At a share of the art. Copies that touch blend into one another at their edges; others end there.
    fn at(share: f64, count: u32, touches: bool) -> Self {
        let place = share * f64::from(count) - 0.5;
        let low = place.floor();
        let part = ((place - low) * 256.0) as u32;
        let wrap = |n: f64| {
            let n = if touches { n.rem_euclid(f64::from(count)) } else { n.clamp(0.0, f64::from(count) - 1.0) };
            n as u32
        };
        Self { first: wrap(low), second: wrap(low + 1.0), share: part.min(256) }
    }
}

/// The copy's colour between four pixels, laid on white; white where there is no copy.
fn sample(copy: &Picture, column: Option<Blend>, row: Option<Blend>) -> [u8; 4] {
    let (Some(column), Some(row)) = (column, row) else { return [255; 4] };
    let corners = [
        (column.first, row.first, (256 - column.share) * (256 - row.share)),
        (column.second, row.first, column.share * (256 - row.share)),
        (column.first, row.second, (256 - column.share) * row.share),
        (column.second, row.second, column.share * row.share),
    ];
    let mut sum = [0_u64; 3];
    for (x, y, weight) in corners {
        let [red, green, blue, alpha] = copy.pixel(x, y).unwrap_or([255; 4]).map(u64::from);
        for (total, channel) in sum.iter_mut().zip([red, green, blue]) {
            *total += u64::from(weight) * (channel * alpha + 255 * (255 - alpha));
        }
    }
    let [red, green, blue] = sum.map(|total| (total / (65_536 * 255)).min(255) as u8);
    [red, green, blue, 255]
}

//! The drawing itself: lines first, labels over them.

use glam::DVec2;

use super::label::Plate;
use super::layout::{Dimension, Ground, Label, Layout, PAD};
use super::mark::Mark;
use crate::art::{Picture, Stretch};
use crate::proof::chart::{Align, Chart};
use crate::proof::ink::{ACCENT, INK, PAPER};
use crate::proof::view::Camera;

/// The picture with marks drawn on it. Sizes of lines and letters follow the picture's size.
#[must_use]
pub fn overlay(picture: &Picture, camera: &Camera, ground: &Ground<'_>, marks: &[Mark]) -> Picture {
    let camera = Camera { size: (picture.width, picture.height), ..*camera };
    drawn(&camera, ground, marks, 1.0).over(picture)
}

/// The marks alone, in pixels of the camera's picture. `scale` makes lines and letters larger than [`overlay`] has them.
#[must_use]
pub fn drawn(camera: &Camera, ground: &Ground<'_>, marks: &[Mark], scale: f64) -> Chart {
    let layout = Layout::new((camera, scale), ground, marks);
    let size = DVec2::new(f64::from(camera.size.0), f64::from(camera.size.1));
    let mut drawing = Drawing { chart: Chart::new("", size), unit: layout.unit };
    for stretch in &layout.seams {
        drawing.seam(stretch);
    }
    for size in &layout.sizes {
        drawing.dimension(size);
    }
    for label in &layout.labels {
        drawing.leader(label);
    }
    for label in layout.labels {
        drawing.label(label);
    }
    drawing.chart
}

/// Where labels stand over a picture, each with its upper left and its lower right corner, px: as [`overlay`] draws them.
#[must_use]
pub fn label_boxes(camera: &Camera, ground: &Ground<'_>, marks: &[Mark]) -> Vec<[DVec2; 2]> {
    let layout = Layout::new((camera, 1.0), ground, marks);
    layout.labels.iter().map(|Label { plate: Plate { low, high }, .. }| [*low, *high]).collect()
}

struct Drawing {
    chart: Chart,
    unit: f64,
}

impl Drawing {
    /// A dashed line over a stretch in sight; a pale line under it keeps it readable on dark and patterned sides.
    fn seam(&mut self, stretch: &[DVec2]) {
        let dashed =
            Stretch { dashes: vec![self.unit * 13.0, self.unit * 9.0], ..Stretch::solid(self.unit * 3.4, ACCENT) };
        let stretch = straightened(stretch);
        self.chart.line(stretch.clone(), Stretch { opacity: 0.75, ..Stretch::solid(self.unit * 7.0, PAPER) });
        self.chart.line(stretch, dashed);
    }

    /// Witness lines from what is measured, the line itself with a slash at each end.
    fn dimension(&mut self, &Dimension { span, ends }: &Dimension) {
        let away = span.away();
        let slash = DVec2::new(1.0, -1.0) * self.unit * 7.0;
        let thin = Stretch { opacity: 0.5, ..Stretch::solid(self.unit * 1.3, INK) };
        for (at, end) in [span.from, span.to].into_iter().zip(ends) {
            self.chart.line([at + away * self.unit * 5.0, end + away * self.unit * 7.0], thin.clone());
        }
        for (width, colour) in [(5.4, PAPER), (2.4, INK)] {
            let pen = Stretch::solid(self.unit * width, colour);
            self.chart.line(ends, pen.clone());
            for end in ends {
                self.chart.line([end - slash, end + slash], pen.clone());
            }
        }
    }

    /// A label that had to move away from its mark keeps a thin line to it, beneath all labels.
    fn leader(&mut self, label: &Label) {
        let Plate { low, high } = label.plate;
        let end = label.anchor.clamp(low, high);
        if end.distance(label.anchor) > (high.y - low.y) * 1.2 {
            for (width, colour) in [(4.6, PAPER), (1.6, label.hand.colour)] {
                self.chart.line([label.anchor, end], Stretch::solid(self.unit * width, colour));
            }
        }
    }

    fn label(&mut self, label: Label) {
        let Plate { low, high } = label.plate;
        if label.on_line {
            let middle = (low.y + high.y) / 2.0;
            let gap = [DVec2::new(low.x, middle), DVec2::new(high.x, middle)];
            self.chart.line(gap, Stretch::solid((high.y - low.y) * 0.8, PAPER));
        }
        let pad = self.unit * PAD;
        let baseline = DVec2::new(low.x + pad, high.y - pad);
        self.chart.text((baseline, Align::Left), label.text, label.hand);
    }
}

/// The two ends alone where all points between lie on the line between them, to the eye.
fn straightened(points: &[DVec2]) -> Vec<DVec2> {
    const STRAIGHT: f64 = 0.2;
    let (Some(&first), Some(&last)) = (points.first(), points.last()) else { return Vec::new() };
    let along = (last - first).normalize_or_zero();
    let is_straight = points.iter().all(|&at| (at - first).perp_dot(along).abs() < STRAIGHT);
    if is_straight { vec![first, last] } else { points.to_vec() }
}

#[cfg(test)]
mod tests {
    use glam::DVec3;

    use super::*;
    use crate::proof::sight::Sight;
    use crate::proof::span::Side;
    use crate::proof::view::Direction;

    const GROUND: [u8; 4] = [120, 130, 140, 255];

    fn camera() -> Camera {
        let corners: Vec<DVec3> = (0..8)
            .map(|corner| {
                let pick = |bit: u32, low: f64, high: f64| if corner >> bit & 1 == 0 { low } else { high };
                DVec3::new(pick(0, -100.0, 100.0), pick(1, 0.0, 120.0), pick(2, -100.0, 100.0))
            })
            .collect();
        Camera::framing(Direction::new(0.0, 8.0), &corners, (400, 300), 0.18)
    }

    fn drawn(marks: &[Mark]) -> Vec<DVec2> {
        let ground = Ground { cake: &[], sight: &Sight::new(&[], &camera()) };
        let picture = overlay(&Picture::filled(400, 300, GROUND), &camera(), &ground, marks);
        let changed = |&(x, y): &(u32, u32)| picture.pixel(x, y) != Some(GROUND);
        let all = (0..400).flat_map(|x| (0..300).map(move |y| (x, y)));
        all.filter(changed).map(|(x, y)| DVec2::new(f64::from(x) + 0.5, f64::from(y) + 0.5)).collect()
    }

    #[test]
    fn a_seam_is_drawn_where_the_camera_sees_it_and_only_as_far_as_it_is_in_sight() {
        let path = [DVec3::new(40.0, 0.0, 100.0), DVec3::new(40.0, 120.0, 100.0)];
        let pixels = drawn(&[Mark::seam("", &path, |at| at.y > 60.0)]);
        let (foot, middle) = (camera().pixel(path[0]).unwrap(), camera().pixel(path[0].midpoint(path[1])).unwrap());
        let (lowest, highest) =
            pixels.iter().fold((0.0_f64, 300.0_f64), |(low, high), at| (low.max(at.y), high.min(at.y)));
        assert!((lowest - foot.y).abs() < 2.0 && (highest - middle.y).abs() < 2.0, "{lowest} {highest}");
        assert!(pixels.iter().all(|at| (at.x - foot.x).abs() < 5.0));
    }

    #[test]
    fn a_hidden_seam_leaves_no_mark() {
        assert!(drawn(&[Mark::seam("seam 1", &[DVec3::ZERO, DVec3::Y * 50.0], |_| true)]).is_empty());
    }

    #[test]
    fn a_depth_seen_end_on_is_left_out() {
        let ends = [DVec3::new(100.0, 60.0, -1.0), DVec3::new(100.0, 60.0, 1.0)];
        assert!(drawn(&[Mark::size("2 mm", ends, Side::Right)]).is_empty());
    }

    #[test]
    fn a_dimension_stands_clear_of_what_it_measures() {
        let ends = [DVec3::new(100.0, 0.0, 0.0), DVec3::new(100.0, 120.0, 0.0)];
        let pixels = drawn(&[Mark::size("", ends, Side::Right)]);
        let right = ends.map(|end| camera().pixel(end).unwrap().x).into_iter().fold(400.0, f64::min);
        assert!(!pixels.is_empty() && pixels.iter().all(|at| at.x >= right));
    }
}

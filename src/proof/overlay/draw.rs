//! The drawing itself: lines first, labels over them.

use glam::{DVec2, DVec3};

use super::label::{Plate, free_place};
use super::mark::{Mark, Style};
use crate::art::{Colour, Picture, Stretch, shape};
use crate::proof::chart::{Align, Chart, Hand};
use crate::proof::ink::{ACCENT, INK, PAPER};
use crate::proof::span::{Side, Span, levels};
use crate::proof::view::Camera;

/// Heights measured one above the other meet at their ends; perspective makes them overlap by a few pixels.
const CHAINED: f64 = 6.0;

/// Sizes foreshortened to less than this share are left out.
const END_ON: f64 = 0.35;

/// A label with the place it wishes for.
struct Wish<'a> {
    text: &'a str,
    /// What it names, px.
    anchor: DVec2,
    /// Where its middle would best stand, in its own halves from the anchor.
    lean: DVec2,
    ink: Colour,
}

/// The picture with marks drawn on it. `cake` are places of the cake (mm) that dimension lines keep clear of, such as those
/// that the camera was framed by. Sizes of lines and letters follow the picture's size.
#[must_use]
pub fn overlay(picture: &Picture, camera: &Camera, cake: &[DVec3], marks: &[Mark]) -> Picture {
    let camera = Camera { size: (picture.width, picture.height), ..*camera };
    drawn(&camera, cake, marks, 1.0).over(picture)
}

/// The marks alone, in pixels of the camera's picture. `scale` makes lines and letters larger than [`overlay`] has them.
#[must_use]
pub fn drawn(camera: &Camera, cake: &[DVec3], marks: &[Mark], scale: f64) -> Chart {
    let size = DVec2::new(f64::from(camera.size.0), f64::from(camera.size.1));
    let unit = size.min_element() / 1000.0 * scale;
    let mut drawing = Drawing { chart: Chart::new("", size), camera, size, unit, wishes: Vec::new() };
    for mark in marks.iter().filter(|mark| mark.style == Style::Seam) {
        drawing.seam(mark);
    }
    drawing.sizes(marks, cake);
    drawing.labels();
    drawing.chart
}

struct Drawing<'a> {
    chart: Chart,
    camera: &'a Camera,
    size: DVec2,
    /// A thousandth of the picture's shorter side, px: everything drawn scales with it.
    unit: f64,
    wishes: Vec<Wish<'a>>,
}

impl<'a> Drawing<'a> {
    /// A dashed line over each stretch in sight; a pale line under it keeps it readable on dark and patterned sides.
    fn seam(&mut self, mark: &'a Mark) {
        let stretches = self.stretches(mark);
        let dashed =
            Stretch { dashes: vec![self.unit * 13.0, self.unit * 9.0], ..Stretch::solid(self.unit * 3.4, ACCENT) };
        for stretch in &stretches {
            let stretch = straightened(stretch);
            self.chart.line(stretch.clone(), Stretch { opacity: 0.75, ..Stretch::solid(self.unit * 7.0, PAPER) });
            self.chart.line(stretch, dashed.clone());
        }
        let highest = stretches.iter().flatten().copied().min_by(|a, b| a.y.total_cmp(&b.y));
        if let Some(anchor) = highest {
            self.wishes.push(Wish { text: &mark.label, anchor, lean: DVec2::new(0.0, -1.6), ink: ACCENT });
        }
    }

    /// The pixels of each run of neighbouring points in sight.
    fn stretches(&self, mark: &Mark) -> Vec<Vec<DVec2>> {
        let mut stretches = vec![Vec::new()];
        for (&at, &visible) in mark.path.iter().zip(&mark.visible) {
            match (self.camera.pixel(at).filter(|_| visible), stretches.last_mut()) {
                (Some(pixel), Some(stretch)) => stretch.push(pixel),
                _ => stretches.push(Vec::new()),
            }
        }
        stretches.retain(|stretch| stretch.len() > 1);
        stretches
    }

    fn sizes(&mut self, marks: &'a [Mark], cake: &[DVec3]) {
        let spans: Vec<(&Mark, Span)> = marks.iter().filter_map(|mark| Some((mark, self.span(mark)?))).collect();
        let only: Vec<Span> = spans.iter().map(|&(_, span)| span).collect();
        let seen: Vec<DVec2> = cake.iter().filter_map(|&at| self.camera.pixel(at)).collect();
        for (&(mark, span), level) in spans.iter().zip(levels(&only, CHAINED)) {
            let reach = self.reach(span, &seen, level);
            self.dimension(mark, span, reach);
        }
    }

    fn span(&self, mark: &Mark) -> Option<Span> {
        let Style::Size(side) = mark.style else { return None };
        let (first, last) = (*mark.path.first()?, *mark.path.last()?);
        // A height seen from above has no length in the picture.
        let sine = (last - first).normalize_or_zero().cross(self.camera.direction.towards_eye()).length();
        let (from, to) = (self.camera.pixel(first)?, self.camera.pixel(last)?);
        (sine > END_ON).then_some(Span { from, to, side })
    }

    /// How far out a dimension line stands: clear of the cake, one step further a level, and never off the picture.
    fn reach(&self, span: Span, seen: &[DVec2], level: u32) -> f64 {
        let away = span.away();
        let clear = seen.iter().chain([&span.from, &span.to]).map(|at| at.dot(away)).fold(f64::NEG_INFINITY, f64::max);
        let edge = self.size.dot(away.max(DVec2::ZERO)) - 14.0 * self.unit;
        (clear + self.unit * (26.0 + 46.0 * f64::from(level))).min(edge)
    }

    /// Witness lines from what is measured, the line itself with a slash at each end, its label.
    fn dimension(&mut self, mark: &'a Mark, span: Span, reach: f64) {
        let (away, ends) = (span.away(), span.set_off(reach));
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
        let lean = match span.side {
            Side::Left | Side::Right => away * 1.15,
            Side::Below => DVec2::ZERO,
        };
        let [from, to] = ends;
        self.wishes.push(Wish { text: &mark.label, anchor: (from + to) / 2.0, lean, ink: INK });
    }

    /// Labels stand over everything else; one that had to move away from its mark keeps a thin line to it.
    fn labels(&mut self) {
        let mut taken: Vec<Plate> = Vec::new();
        for wish in std::mem::take(&mut self.wishes) {
            let hand = Hand::strong(self.unit * 25.0).coloured(wish.ink).on_paper();
            let line = shape(wish.text, hand.face, hand.size);
            let pad = self.unit * 7.0;
            let size = DVec2::new(line.width + 2.0 * pad, line.cap_height + 2.0 * pad);
            let wished = Plate::around(wish.anchor + wish.lean * size / 2.0, size);
            let plate = free_place(wished, &taken, self.size);
            if plate.centre().distance(wish.anchor) > size.length() * 0.8 {
                let pen = Stretch::solid(self.unit * 1.6, wish.ink);
                self.chart.line([wish.anchor, plate.centre()], pen);
            }
            if wish.lean == DVec2::ZERO {
                // It stands on its own dimension line, which must not run through its words.
                let (left, right) =
                    (DVec2::new(plate.low.x, plate.centre().y), DVec2::new(plate.high.x, plate.centre().y));
                self.chart.line([left, right], Stretch::solid(size.y * 0.8, PAPER));
            }
            let baseline = DVec2::new(plate.low.x + pad, plate.high.y - pad);
            self.chart.text((baseline, Align::Left), wish.text, hand);
            taken.push(plate);
        }
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
    use super::*;
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
        let picture = overlay(&Picture::filled(400, 300, GROUND), &camera(), &[], marks);
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

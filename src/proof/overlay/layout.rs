//! Where everything that is drawn over a picture lies, before any of it is drawn.

use glam::{DVec2, DVec3};

use super::busy::Busy;
use super::label::{Plate, Room, free_place};
use super::mark::{Mark, Style};
use crate::art::{Colour, shape};
use crate::proof::chart::Hand;
use crate::proof::ink::{ACCENT, INK};
use crate::proof::sight::Sight;
use crate::proof::span::{Side, Span, levels};
use crate::proof::view::Camera;

/// Heights measured one above the other meet at their ends; perspective makes them overlap by a few pixels.
const CHAINED: f64 = 6.0;
/// Sizes foreshortened to less than this share are left out.
const END_ON: f64 = 0.35;

/// What a picture shows, for what is drawn over it to keep clear of.
#[derive(Clone, Copy, Debug)]
pub struct Ground<'a> {
    /// Places of the cake (mm) that dimension lines keep clear of, such as those that the camera was framed by.
    pub cake: &'a [DVec3],
    /// What the camera sees; labels keep clear of the pieces.
    pub sight: &'a Sight,
}

/// Everything that is drawn, px.
#[derive(Debug)]
pub(super) struct Layout {
    /// A thousandth of the picture's shorter side, px: everything drawn scales with it.
    pub unit: f64,
    /// Of each seam the stretches in sight.
    pub seams: Vec<Vec<DVec2>>,
    /// Dimension lines.
    pub sizes: Vec<Dimension>,
    /// Labels, in the order in which they are drawn.
    pub labels: Vec<Label>,
}

/// What is measured, and the two ends of its dimension line.
#[derive(Debug)]
pub(super) struct Dimension {
    pub span: Span,
    pub ends: [DVec2; 2],
}

/// A label where it stands.
#[derive(Debug)]
pub(super) struct Label {
    pub text: String,
    pub hand: Hand,
    pub plate: Plate,
    /// What it names, px.
    pub anchor: DVec2,
    /// It stands on its own dimension line, which must not run through its words.
    pub on_line: bool,
}

/// A label with the place it wishes for.
struct Wish<'a> {
    text: &'a str,
    anchor: DVec2,
    /// Where its middle would best stand, in its own halves from the anchor.
    lean: DVec2,
    ink: Colour,
}

/// Between the words of a label and its rim, in units.
pub(super) const PAD: f64 = 7.0;

impl Layout {
    /// Over the picture of a camera; `scale` makes lines and letters larger than usual.
    pub fn new((camera, scale): (&Camera, f64), ground: &Ground<'_>, marks: &[Mark]) -> Self {
        let size = DVec2::new(f64::from(camera.size.0), f64::from(camera.size.1));
        let unit = size.min_element() / 1000.0 * scale;
        let page = Page { camera, size, unit };
        let mut wishes = Vec::new();
        let sizes = page.sizes(marks, ground.cake, &mut wishes);
        let seams = page.seams(marks, &mut wishes);
        let lines = sizes.iter().map(|size| size.ends.to_vec()).chain(seams.iter().cloned()).collect();
        let mut room =
            Room { picture: size, gap: unit * 5.0, taken: Vec::new(), lines, busy: Busy::new(ground.sight, size) };
        let labels = wishes.iter().map(|wish| page.label(wish, &mut room)).collect();
        Self { unit, seams, sizes, labels }
    }
}

/// What is drawn on.
struct Page<'a> {
    camera: &'a Camera,
    size: DVec2,
    unit: f64,
}

impl Page<'_> {
    fn seams<'m>(&self, marks: &'m [Mark], wishes: &mut Vec<Wish<'m>>) -> Vec<Vec<DVec2>> {
        let mut seams = Vec::new();
        for mark in marks.iter().filter(|mark| mark.style == Style::Seam) {
            let stretches = self.stretches(mark);
            let highest = stretches.iter().flatten().copied().min_by(|a, b| a.y.total_cmp(&b.y));
            if let Some(anchor) = highest {
                wishes.push(Wish { text: &mark.label, anchor, lean: DVec2::new(0.0, -1.6), ink: ACCENT });
            }
            seams.extend(stretches);
        }
        seams
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

    fn sizes<'m>(&self, marks: &'m [Mark], cake: &[DVec3], wishes: &mut Vec<Wish<'m>>) -> Vec<Dimension> {
        let spans: Vec<(&Mark, Span)> = marks.iter().filter_map(|mark| Some((mark, self.span(mark)?))).collect();
        let only: Vec<Span> = spans.iter().map(|&(_, span)| span).collect();
        let gaze = self.camera.gaze();
        let seen: Vec<DVec2> = cake.iter().filter_map(|&at| gaze.pixel(at)).collect();
        let mut sizes = Vec::new();
        for (&(mark, span), level) in spans.iter().zip(levels(&only, CHAINED)) {
            let ends = span.set_off(self.reach(span, &seen, level));
            let lean = match span.side {
                Side::Left | Side::Right => span.away() * 1.15,
                Side::Below => DVec2::ZERO,
            };
            let [from, to] = ends;
            wishes.push(Wish { text: &mark.label, anchor: (from + to) / 2.0, lean, ink: INK });
            sizes.push(Dimension { span, ends });
        }
        sizes
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

    fn label(&self, wish: &Wish<'_>, room: &mut Room) -> Label {
        let hand = Hand::strong(self.unit * 25.0).coloured(wish.ink).on_paper();
        let line = shape(wish.text, hand.face, hand.size);
        let pad = self.unit * PAD;
        let size = DVec2::new(line.width + 2.0 * pad, line.cap_height + 2.0 * pad);
        let wished = Plate::around(wish.anchor + wish.lean * size / 2.0, size);
        let plate = free_place(wished, room);
        room.taken.push(plate);
        Label { text: wish.text.to_owned(), hand, plate, anchor: wish.anchor, on_line: wish.lean == DVec2::ZERO }
    }
}

//! The outlines of pieces on the tape, each cut into triangles once for as long as it stays as it is: while one of very many pieces
//! is dragged, the others cost next to nothing.

use std::sync::Arc;

use egui::epaint::{Mesh, Tessellator};
use egui::{Color32, Pos2, Shape, Stroke, Ui};
use glam::DVec2;

use super::Onto;
use super::ink::area;
use crate::cake::{Cake, CakePiece};
use crate::design::model::At;
use crate::edits::choose::outline_on_seat;
use crate::measure::Angle;
use crate::proof::tape::Unrolled;

/// Places of an outline closer than this are one, points: a pearl of a few points has no more corners than can be seen.
const FINEST: f32 = 0.8;

/// The outlines that were drawn last.
#[derive(Clone, Default)]
pub(in crate::panels) struct Outlines {
    on: Option<On>,
    /// By the piece's number on the cake.
    kept: Vec<Option<(Made, Arc<Mesh>)>>,
}

impl std::fmt::Debug for Outlines {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "{} outlines", self.kept.iter().flatten().count())
    }
}

/// On what they were drawn: the page in the window, the side on the page, pixels in a point.
#[derive(Clone, Copy, PartialEq)]
struct On {
    onto: Onto,
    side: (f64, DVec2, f64),
    pixels: f32,
}

/// What an outline was drawn from.
#[derive(Clone, PartialEq)]
struct Made {
    seat: (At, Angle),
    footprint: Vec<DVec2>,
    ink: (Color32, Stroke),
}

impl Outlines {
    /// Where everything is somewhere else than before, all is drawn anew.
    pub fn begin(&mut self, ui: &Ui, (side, onto): (&Unrolled, Onto), count: usize) {
        let on = On { onto, side: (side.scale, side.origin, side.around), pixels: ui.pixels_per_point() };
        if self.on.replace(on) != Some(on) {
            self.kept.clear();
        }
        self.kept.resize(count, None);
    }

    /// The outline of a piece, filled and edged.
    pub fn shape(
        &mut self,
        (ui, side, onto): (&Ui, &Unrolled, Onto),
        (cake, number, placed): (&Cake, usize, &CakePiece),
        ink: (Color32, Stroke),
    ) -> Shape {
        let (Some(piece), Some(kept)) = (cake.designed(placed), self.kept.get_mut(number)) else { return Shape::Noop };
        let seat = (piece.at, piece.turn);
        let is_made = |made: &Made| made.seat == seat && made.ink == ink && made.footprint == placed.measure.footprint;
        if let Some((_, mesh)) = kept.as_ref().filter(|(made, _)| is_made(made)) {
            return Shape::Mesh(Arc::clone(mesh));
        }
        let rings = on_tape(&outline_on_seat(cake, placed), side.around);
        let mesh = Arc::new(drawn(ui, (side, onto), &rings, ink));
        *kept = Some((Made { seat, footprint: placed.measure.footprint.clone(), ink }, Arc::clone(&mesh)));
        Shape::Mesh(mesh)
    }
}

/// The parts of an outline that lie on the tape: what runs over the back comes in at the other end.
pub(super) fn on_tape(ring: &[DVec2], around: f64) -> Vec<Vec<DVec2>> {
    let (low, high) =
        ring.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at.x), high.max(at.x)));
    let moved = |by: f64| -> Vec<DVec2> { ring.iter().map(|at| *at + DVec2::X * by).collect() };
    let is_seen = |by: &f64| low + by < around / 2.0 && high + by > -around / 2.0;
    [-around, 0.0, around].into_iter().filter(is_seen).map(moved).collect()
}

fn drawn(ui: &Ui, (side, onto): (&Unrolled, Onto), rings: &[Vec<DVec2>], (fill, stroke): (Color32, Stroke)) -> Mesh {
    let options = ui.ctx().tessellation_options(|options| *options);
    // Without words there is nothing of the letters' texture in it.
    let mut tessellator = Tessellator::new(ui.pixels_per_point(), options, [1, 1], Vec::new());
    let mut mesh = Mesh::default();
    for ring in rings {
        let page: Vec<DVec2> = ring.iter().map(|at| side.place(at.x, at.y)).collect();
        let page = coarser(page, f64::from(FINEST) / onto.per_mm);
        let points: Vec<Pos2> = page.iter().map(|at| onto.window(*at)).collect();
        tessellator.tessellate_shape(area(onto, &[page], fill), &mut mesh);
        tessellator.tessellate_shape(Shape::closed_line(points, stroke), &mut mesh);
    }
    mesh
}

/// An outline without the places that lie too close to the one before.
fn coarser(ring: Vec<DVec2>, apart: f64) -> Vec<DVec2> {
    let mut kept: Vec<DVec2> = Vec::with_capacity(ring.len());
    for at in &ring {
        if kept.last().is_none_or(|last| last.distance(*at) >= apart) {
            kept.push(*at);
        }
    }
    if kept.len() < 6 { ring } else { kept }
}

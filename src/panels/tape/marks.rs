//! What moves on the tape: seams with their labels, pieces with their outlines, handles of what is chosen.

use std::collections::BTreeSet;
use std::sync::Arc;

use egui::{FontId, Galley, Pos2, Rect, Shape, Stroke, Ui};
use glam::DVec2;

use super::Onto;
use super::ink::tape_palette;
use super::outlines::{Outlines, on_tape};
use super::seams::{Seam, all_seams};
use crate::cake::CakePiece;
use crate::edits::choose::{Handle, Thing, handles, outline_on_seat};
use crate::edits::main_finish;
use crate::measure::tape_reading;
use crate::panels::Look;
use crate::panels::theme::{strong, swatch};
use crate::proof::tape::Unrolled;
use crate::wraps::exposure_words;

/// More pieces than this on one side go without their names.
const MOST_NAMED: usize = 30;

/// Half the side of a handle, points.
const GRIP: f32 = 4.0;

/// Draws what moves: the dashed lines of seams, the outlines of pieces, then names and labels, which keep clear of each other.
pub(super) fn draw(
    ui: &Ui,
    (look, outlines): (&Look<'_>, &mut Outlines),
    (index, side, onto): (usize, &Unrolled, Onto),
) {
    let seams = all_seams(look, index);
    for seam in &seams {
        dashes(ui, look, (seam, index), (side, onto));
    }
    let mut labels = Labels {
        ui,
        within: onto.rect([DVec2::ZERO, DVec2::new(side.chart.size.x, side.origin.y)]),
        taken: Vec::new(),
    };
    pieces(look, (index, side, onto), (outlines, &mut labels));
    for seam in &seams {
        says(look, (seam, index), (side, onto), &mut labels);
    }
}

/// Words on the drawing, which keep clear of each other.
struct Labels<'u> {
    ui: &'u Ui,
    within: Rect,
    taken: Vec<Rect>,
}

impl Labels<'_> {
    fn laid_out(&self, words: &str) -> Arc<Galley> {
        let size = self.ui.text_style_height(&egui::TextStyle::Small) * 0.8;
        self.ui.painter().layout_no_wrap(words.to_owned(), FontId::new(size, strong()), tape_palette().ink)
    }

    /// Writes words at the first of some upper left corners that nothing has taken, or at the first of all where they must be
    /// read; whether they were written.
    fn put(&mut self, galley: Arc<Galley>, corners: impl Iterator<Item = Pos2>, must: bool) -> bool {
        let palette = tape_palette();
        let places: Vec<Rect> = corners.map(|corner| Rect::from_min_size(corner, galley.size()).expand(1.0)).collect();
        let is_free = |place: &&Rect| {
            self.within.contains_rect(**place) && !self.taken.iter().any(|other| other.intersects(**place))
        };
        let Some(place) = places.iter().find(is_free).or(places.first().filter(|_| must)) else { return false };
        let ground = place.expand(1.0);
        self.taken.push(ground);
        self.ui.painter().rect_filled(ground, 2.0, palette.sheet.gamma_multiply(0.86));
        self.ui.painter().galley(place.shrink(1.0).min, galley, palette.ink);
        true
    }
}

/// Whether a seam, and whether its course or one of its seams, is what is chosen.
fn is_chosen(look: &Look<'_>, (seam, index): (&Seam<'_>, usize)) -> (bool, bool) {
    let tier = look.bench.cake().tiers.get(index).map(|tier| tier.name.as_str());
    match look.bench.chosen() {
        Some(Thing::Course(name)) => (false, Some(name.tier.as_str()) == tier && name.course == seam.course),
        Some(Thing::Seam(name, along)) => {
            let of_course = Some(name.tier.as_str()) == tier && name.course == seam.course;
            (of_course && look.bench.is_same_seam(index, (along.as_mm(), seam.along)), of_course)
        }
        _ => (false, false),
    }
}

/// The line of a seam; pinned ones with a head. At its foot a disc, filled as far as the seam is seen.
fn dashes(ui: &Ui, look: &Look<'_>, (seam, index): (&Seam<'_>, usize), (side, onto): (&Unrolled, Onto)) {
    let palette = tape_palette();
    let [low, high] = [seam.between.0, seam.between.1].map(|up| onto.window(side.place(seam.along, up)));
    let width = if is_chosen(look, (seam, index)).0 { 3.0 } else { 1.8 };
    // Paper beneath, so that the dashes are seen on any print.
    ui.painter().line_segment([low, high], Stroke::new(width + 2.0, palette.sheet.gamma_multiply(0.8)));
    ui.painter().extend(Shape::dashed_line(&[high, low], Stroke::new(width, palette.accent), 5.0, 3.0));
    if seam.pinned {
        ui.painter().circle(high, GRIP, palette.accent, Stroke::new(1.5, palette.sheet));
    }
    if let Some(exposure) = seam.exposure {
        seen_disc(ui, low, exposure);
    }
}

/// A disc of which as much is filled as is seen of a seam: empty where it is hidden, full where it is in sight.
fn seen_disc(ui: &Ui, middle: Pos2, exposure: f64) {
    let palette = tape_palette();
    ui.painter().circle(middle, GRIP + 1.0, palette.sheet, Stroke::new(1.4, palette.ink));
    // In two sectors, for an area must not be hollow.
    let half = exposure.clamp(0.0, 1.0) as f32 * std::f32::consts::PI;
    for from in [0.0, half] {
        let rim = (0_u8..=12).map(|step| from + half * f32::from(step) / 12.0);
        let rim = rim.map(|turn| middle + egui::vec2(turn.sin(), -turn.cos()) * (GRIP + 0.5));
        let sector: Vec<Pos2> = std::iter::once(middle).chain(rim).collect();
        ui.painter().add(Shape::convex_polygon(sector, palette.ink, Stroke::NONE));
    }
}

/// How well a seam is hidden, in words, within its course; of a band's or a rope's ends only where they are chosen. What is
/// chosen says its place and its whole name too.
fn says(look: &Look<'_>, (seam, index): (&Seam<'_>, usize), (side, onto): (&Unrolled, Onto), labels: &mut Labels<'_>) {
    let (is_it, of_course) = is_chosen(look, (seam, index));
    if !(seam.is_of_print || of_course) {
        return;
    }
    let seen = seam.exposure.map(|exposure| exposure_words(exposure, seam.along, side.around));
    let name = if is_it || !seam.is_of_print { seam.name() } else { seam.short.clone() };
    let seen = seen.map(|seen| format!(": {seen}")).unwrap_or_default();
    let pinned = if seam.pinned { ", pinned" } else { "" };
    let place = format!(" ({})", tape_reading(seam.along, side.around, look.bench.design().unit));
    let words = format!("{name}{seen}{pinned}{}", if is_it { place.as_str() } else { "" });
    let window = |along: f64, up: f64| onto.window(side.place(along, up));
    let columns = [-side.around / 2.0, seam.along, side.around / 2.0].map(|along| window(along, 0.0).x);
    // In its course, else anywhere on the side.
    let rows = [seam.between, (0.0, side.height)].map(|(low, high)| (window(0.0, high).y, window(0.0, low).y));
    let mut write = |words: &str, must: bool| {
        let galley = labels.laid_out(words);
        let size = galley.size();
        labels.put(galley, rows.into_iter().flat_map(|rows| corners(size, columns, rows)), must)
    };
    // Where all is taken it goes by its name alone, or by its disc.
    if !write(&words, false) && !write(&seam.short, false) && is_it {
        write(&words, true);
    }
}

/// Where a label may stand beside a line, from above down: its upper left corners. It keeps within the side.
fn corners(size: egui::Vec2, [left, line, right]: [f32; 3], (top, foot): (f32, f32)) -> impl Iterator<Item = Pos2> {
    let (beside, before) = (line + 5.0, line - size.x - 5.0);
    let asides = if beside + size.x > right { [before, before] } else { [beside, before] };
    let step = size.y + 5.0;
    let rows = ((foot - top) / step).clamp(1.0, 12.0) as u8;
    let within = move |x: f32| x.min(right - size.x).max(left);
    (0..rows).flat_map(move |row| asides.map(|aside| egui::pos2(within(aside), top + 2.0 + step * f32::from(row))))
}

/// Draws the outline of every piece on the side, its name, and the handles of the one that is chosen.
fn pieces(
    look: &Look<'_>,
    (index, side, onto): (usize, &Unrolled, Onto),
    (outlines, labels): (&mut Outlines, &mut Labels<'_>),
) {
    let (cake, palette, ui) = (look.bench.cake(), tape_palette(), labels.ui);
    outlines.begin(ui, (side, onto), cake.pieces.len());
    let clip = onto
        .rect([side.place(-side.around / 2.0, side.height * 1.5), side.place(side.around / 2.0, -side.height * 0.2)]);
    let painter = ui.painter().with_clip_rect(clip.intersect(ui.clip_rect()));
    let clashing: BTreeSet<usize> =
        look.bench.clashes().iter().flat_map(|clash| clash.pieces.iter().copied()).collect();
    let is_here = |placed: &CakePiece| placed.side.is_some_and(|place| place.tier == index);
    let named = cake.pieces.iter().filter(|placed| is_here(placed)).count() <= MOST_NAMED;
    for (number, placed) in cake.pieces.iter().enumerate().filter(|(_, placed)| is_here(placed)) {
        let Some(piece) = cake.designed(placed) else { continue };
        let chosen = matches!(look.bench.chosen(), Some(Thing::Piece(name)) if *name == piece.name);
        let clashes = clashing.contains(&placed.index);
        let fill = swatch(cake.design.finish(main_finish(&piece.form)).colour).gamma_multiply(0.75);
        let edge = if clashes { palette.stop } else { palette.ink };
        let stroke = Stroke::new(if chosen || clashes { 2.4 } else { 1.2 }, edge);
        painter.add(outlines.shape((ui, side, onto), (cake, number, placed), (fill, stroke)));
        if named || chosen || clashes {
            let clash = if clashes { "✖ " } else { "" };
            for ring in on_tape(&outline_on_seat(cake, placed), side.around) {
                let middle = ring.iter().sum::<DVec2>() / ring.len().max(1) as f64;
                let at = onto.window(side.place(middle.x, middle.y));
                called(labels, at, &format!("{clash}{}", piece.name), chosen || clashes);
            }
        }
        if chosen {
            for handle in handles(cake, &piece.name) {
                grip(ui, (side, onto), &handle);
            }
        }
    }
}

/// The name of a piece in its middle, or a little above or below where another's is there.
fn called(labels: &mut Labels<'_>, middle: Pos2, words: &str, must: bool) {
    let galley = labels.laid_out(words);
    let (first, step) = (middle - galley.size() / 2.0, galley.size().y + 5.0);
    labels.put(galley, [0.0, 1.0, -1.0, 2.0, -2.0].into_iter().map(|rows| first + egui::vec2(0.0, rows * step)), must);
}

fn grip(ui: &Ui, (side, onto): (&Unrolled, Onto), handle: &Handle) {
    let Some(at) = handle.on_tape else { return };
    let palette = tape_palette();
    let at = onto.window(side.place(at.along.as_mm(), at.up.as_mm()));
    let stroke = Stroke::new(1.6, palette.accent);
    if handle.grip == crate::edits::choose::Grip::Turn {
        ui.painter().circle(at, GRIP + 0.5, palette.sheet, stroke);
    } else {
        let place = Rect::from_center_size(at, egui::Vec2::splat(GRIP * 2.0));
        ui.painter().rect(place, 1.0, palette.sheet, stroke, egui::StrokeKind::Middle);
    }
}

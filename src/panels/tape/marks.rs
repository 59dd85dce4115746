//! What moves on the tape: seams with their labels, pieces with their outlines, handles of what is chosen.

use egui::{Align2, Color32, FontId, Pos2, Shape, Stroke, Ui};
use glam::DVec2;

use super::Onto;
use super::ink::{area, tape_palette};
use crate::cake::CakePiece;
use crate::design::model::CourseKind;
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

/// One seam on the tape.
struct Seam<'a> {
    course: &'a str,
    /// From and to which height, mm.
    between: (f64, f64),
    along: f64,
    exposure: Option<f64>,
    pinned: bool,
    words: String,
}

/// Every seam of a tier: of its wraps as planned, of its bands and ropes as designed.
fn all_seams<'a>(look: &'a Look<'_>, index: usize) -> Vec<Seam<'a>> {
    let Some(tier) = look.bench.cake().tiers.get(index) else { return Vec::new() };
    let mut seams = Vec::new();
    for (number, course) in tier.courses.iter().enumerate() {
        let between = (course.bottom, course.top);
        let plan = look.bench.plans().iter().find(|plan| plan.tier == index && plan.course == number);
        for (count, seam) in plan.iter().flat_map(|plan| &plan.seams).enumerate() {
            let words = format!("{} seam {}", course.name, count + 1);
            let (exposure, pinned) = (Some(seam.exposure), seam.pinned);
            seams.push(Seam { course: &course.name, between, along: seam.along, exposure, pinned, words });
        }
        let is_one_length = matches!(course.kind, CourseKind::Band { .. } | CourseKind::Rope { .. });
        if let Some(along) = course.seam(&tier.outline).filter(|_| is_one_length) {
            let work = look.bench.work().filter(|_| !look.bench.is_behind());
            let ends = work.and_then(|work| work.ends.iter().find(|end| end.tier == index && end.course == number));
            let words = format!("{} ends", course.name);
            let exposure = ends.map(|end| end.exposure);
            seams.push(Seam { course: &course.name, between, along, exposure, pinned: false, words });
        }
    }
    seams
}

/// Draws the seams: dashed, pinned ones with a head, each of the chosen course with how well it is hidden, in words.
pub(super) fn seams(ui: &Ui, look: &Look<'_>, (index, side, onto): (usize, &Unrolled, Onto)) {
    let palette = tape_palette();
    let Some(tier) = look.bench.cake().tiers.get(index) else { return };
    let chosen = look.bench.chosen();
    for seam in all_seams(look, index) {
        let [low, high] = [seam.between.0, seam.between.1].map(|up| onto.window(side.place(seam.along, up)));
        let is_chosen = matches!(chosen, Some(Thing::Seam(name, along)) if name.tier == tier.name && name.course == seam.course && (along.as_mm() - seam.along).abs() < 0.6);
        let width = if is_chosen { 3.0 } else { 1.8 };
        // Paper beneath, so that the dashes are seen on any print.
        ui.painter().line_segment([low, high], Stroke::new(width + 2.0, palette.sheet.gamma_multiply(0.8)));
        ui.painter().extend(Shape::dashed_line(&[high, low], Stroke::new(width, palette.accent), 5.0, 3.0));
        if seam.pinned {
            ui.painter().circle(high, GRIP, palette.accent, Stroke::new(1.5, palette.sheet));
        }
        let of_course =
            matches!(chosen, Some(Thing::Course(name) | Thing::Seam(name, _)) if name.course == seam.course);
        let is_wrap = seam.exposure.is_some() && !seam.words.ends_with("ends");
        if is_chosen || of_course || is_wrap {
            let around = side.around;
            let seen = seam.exposure.map(|exposure| exposure_words(exposure, seam.along, around));
            let pinned = if seam.pinned { ", pinned" } else { "" };
            let seen = seen.map(|seen| format!(": {seen}")).unwrap_or_default();
            let place = tape_reading(seam.along, around, look.bench.design().unit);
            label(ui, high, (side, onto), &format!("{}{seen}{pinned} ({place})", seam.words));
        }
    }
}

/// A label beside the upper end of a line, within the side.
fn label(ui: &Ui, at: Pos2, (side, onto): (&Unrolled, Onto), words: &str) {
    let palette = tape_palette();
    let size = ui.text_style_height(&egui::TextStyle::Small) * 0.8;
    let right = onto.window(side.place(side.around / 2.0, 0.0)).x;
    let galley = ui.painter().layout_no_wrap(words.to_owned(), FontId::new(size, strong()), palette.ink);
    let aside = if at.x + galley.size().x + 6.0 > right { -galley.size().x - 5.0 } else { 5.0 };
    let place = egui::Rect::from_min_size(at + egui::vec2(aside, 2.0), galley.size());
    ui.painter().rect_filled(place.expand(2.0), 2.0, palette.sheet.gamma_multiply(0.86));
    ui.painter().galley(place.min, galley, palette.ink);
}

/// Draws the outline of every piece on the side, and the handles of the one that is chosen.
pub(super) fn pieces(ui: &Ui, look: &Look<'_>, (index, side, onto): (usize, &Unrolled, Onto)) {
    let (cake, palette) = (look.bench.cake(), tape_palette());
    let on_side: Vec<&CakePiece> =
        cake.pieces.iter().filter(|placed| placed.side.is_some_and(|place| place.tier == index)).collect();
    let named = on_side.len() <= MOST_NAMED;
    for placed in on_side {
        let Some(piece) = cake.designed(placed) else { continue };
        let chosen = matches!(look.bench.chosen(), Some(Thing::Piece(name)) if *name == piece.name);
        let clashes = look.bench.clashes().iter().any(|clash| clash.pieces.contains(&placed.index));
        let fill = swatch(cake.design.finish(main_finish(&piece.form)).colour).gamma_multiply(0.75);
        let edge = if clashes { palette.stop } else { palette.ink };
        let stroke = Stroke::new(if chosen || clashes { 2.4 } else { 1.2 }, edge);
        for ring in on_tape(&outline_on_seat(cake, placed), side.around) {
            outline(ui, (side, onto), &ring, (fill, stroke));
            if named || chosen {
                let middle = ring.iter().sum::<DVec2>() / ring.len().max(1) as f64;
                let at = onto.window(side.place(middle.x, middle.y));
                let size = ui.text_style_height(&egui::TextStyle::Small) * 0.78;
                let clash = if clashes { "✖ " } else { "" };
                let words = format!("{clash}{}", piece.name);
                let galley = ui.painter().layout_no_wrap(words, FontId::new(size, strong()), palette.ink);
                let place = Align2::CENTER_CENTER.anchor_size(at, galley.size());
                ui.painter().rect_filled(place.expand(1.0), 2.0, palette.sheet.gamma_multiply(0.7));
                ui.painter().galley(place.min, galley, palette.ink);
            }
        }
        if chosen {
            for handle in handles(cake, &piece.name) {
                grip(ui, (side, onto), &handle);
            }
        }
    }
}

/// The parts of an outline that lie on the tape: what runs over the back comes in at the other end.
fn on_tape(ring: &[DVec2], around: f64) -> Vec<Vec<DVec2>> {
    let (low, high) =
        ring.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at.x), high.max(at.x)));
    let moved = |by: f64| -> Vec<DVec2> { ring.iter().map(|at| *at + DVec2::X * by).collect() };
    let mut rings = Vec::new();
    for by in [-around, 0.0, around] {
        if low + by < around / 2.0 && high + by > -around / 2.0 {
            rings.push(moved(by));
        }
    }
    rings
}

fn outline(ui: &Ui, (side, onto): (&Unrolled, Onto), ring: &[DVec2], (fill, stroke): (Color32, Stroke)) {
    let clip = onto
        .rect([side.place(-side.around / 2.0, side.height * 1.5), side.place(side.around / 2.0, -side.height * 0.2)]);
    let painter = ui.painter().with_clip_rect(clip.intersect(ui.clip_rect()));
    let page: Vec<DVec2> = ring.iter().map(|at| side.place(at.x, at.y)).collect();
    painter.add(area(onto, std::slice::from_ref(&page), fill));
    let points: Vec<Pos2> = page.into_iter().map(|at| onto.window(at)).collect();
    painter.add(Shape::closed_line(points, stroke));
}

fn grip(ui: &Ui, (side, onto): (&Unrolled, Onto), handle: &Handle) {
    let Some(at) = handle.on_tape else { return };
    let palette = tape_palette();
    let at = onto.window(side.place(at.along.as_mm(), at.up.as_mm()));
    let stroke = Stroke::new(1.6, palette.accent);
    if handle.grip == crate::edits::choose::Grip::Turn {
        ui.painter().circle(at, GRIP + 0.5, palette.sheet, stroke);
    } else {
        let place = egui::Rect::from_center_size(at, egui::Vec2::splat(GRIP * 2.0));
        ui.painter().rect(place, 1.0, palette.sheet, stroke, egui::StrokeKind::Middle);
    }
}

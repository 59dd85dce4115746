//! The cake in the middle of the window: what is seen, and what the pointer does there.

use egui::{CursorIcon, PointerButton, Pos2, Rect, Response, Sense, Ui, WidgetInfo, WidgetType, vec2};
use glam::{DVec2, DVec3};

use super::hand::{Hand, Under};
use super::marks;
use super::open::Open;
use super::pictures::Pictures;
use crate::edits::choose::Ray;
use crate::proof::view::Camera;

/// Share of the picture left free on every side.
const MARGIN: f64 = 0.08;

/// Points of the wheel that are one notch.
const NOTCH: f32 = 50.0;

/// A picture in the window: its camera, and where it lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Seen {
    pub camera: Camera,
    /// In points.
    pub rect: Rect,
    /// Pixels in a point.
    scale: f32,
    /// The middle of the cake, mm.
    middle: DVec3,
}

impl Seen {
    pub(super) fn new(open: &Open, (rect, scale): (Rect, f32)) -> Self {
        // Whole pixels, so that a still lies on the screen's own.
        let (from, to) = ((rect.min.to_vec2() * scale).floor(), (rect.max.to_vec2() * scale).ceil());
        let rect = Rect::from_min_max((from / scale).to_pos2(), (to / scale).to_pos2());
        let side = |points: f32| ((points * scale).round() as u32).clamp(16, 8192);
        let size = (side(rect.width()), side(rect.height()));
        let rect = Rect::from_min_size(rect.min, vec2(size.0 as f32, size.1 as f32) / scale);
        let corners = &open.followed.corners;
        let (low, high) =
            corners.iter().fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), &at| (low.min(at), high.max(at)));
        let middle = if low.is_finite() && high.is_finite() { (low + high) / 2.0 } else { DVec3::ZERO };
        Self { camera: open.rig.camera(corners, size, MARGIN), rect, scale, middle }
    }

    /// The middle of the cake, mm.
    pub(super) const fn middle(&self) -> DVec3 {
        self.middle
    }

    /// The line of sight through a place of the window.
    pub(super) fn ray(&self, at: Pos2) -> Ray {
        let camera = &self.camera;
        let share = (at - self.rect.min) / self.rect.size();
        let tangent = (camera.field.as_radians() / 2.0).tan();
        let across = (2.0 * f64::from(share.x) - 1.0) * tangent * camera.aspect();
        let upward = (1.0 - 2.0 * f64::from(share.y)) * tangent;
        let (right, up) = camera.direction.axes();
        Ray { from: camera.eye, toward: right * across + up * upward - camera.direction.towards_eye() }
    }

    /// Where a place of the cake (mm) is in the window; `None` behind the eye.
    pub(super) fn at(&self, place: DVec3) -> Option<Pos2> {
        let pixel = self.camera.pixel(place)?;
        Some(self.rect.min + vec2(pixel.x as f32, pixel.y as f32) / self.scale)
    }

    /// Millimetres in a point of the window, at a place of the cake.
    pub(super) fn millimetres(&self, place: DVec3) -> f64 {
        let away = (self.camera.eye - place).dot(self.camera.direction.towards_eye()).max(1.0);
        2.0 * away * (self.camera.field.as_radians() / 2.0).tan() / f64::from(self.rect.height().max(1.0))
    }
}

/// What happened on the cake.
#[derive(Debug, Default)]
pub(super) struct Happened {
    /// What the readout says.
    pub readout: Option<String>,
    /// What the person is to be told.
    pub said: Option<String>,
}

/// Shows the cake, and follows the pointer on it.
pub(super) fn cake(ui: &mut Ui, open: &mut Open, pictures: &mut Pictures<'_>) -> Happened {
    let scale = ui.ctx().pixels_per_point();
    let response = ui.allocate_rect(ui.available_rect_before_wrap(), Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, "the cake"));
    let seen = Seen::new(open, (response.rect, scale));
    let happened = follow_pointer(ui, open, (&seen, &response));
    // What the pointer did may have moved the eye or the pieces: what is drawn now is what is so now.
    let mut said = Vec::new();
    open.keep_up(&mut said);
    let seen = Seen::new(open, (response.rect, scale));
    pictures.show(ui, open, &seen);
    let under = response.hover_pos().filter(|_| matches!(open.hand, Hand::Free)).and_then(|at| open.under(&seen, at));
    if response.hover_pos().is_some() {
        open.pointed = under.as_ref().map(|under| under.choice.clone());
    }
    point(ui, open, under.as_ref());
    marks::paint(ui, open, &seen, under.as_ref());
    let told = said.into_iter().map(|said| said.words).next();
    let happened = Happened { said: happened.said.or(told), ..happened };
    if let (Some(words), Some(at)) = (&happened.readout, ui.ctx().pointer_latest_pos()) {
        marks::readout(ui, &seen, (at, words));
    }
    happened
}

fn follow_pointer(ui: &Ui, open: &mut Open, (seen, response): (&Seen, &Response)) -> Happened {
    let mut happened = Happened::default();
    let held = ui.input(|input| input.modifiers);
    if response.is_pointer_button_down_on() && ui.input(|input| input.pointer.any_pressed()) {
        leave_fields(ui);
    }
    if response.drag_started_by(PointerButton::Primary) {
        let from = ui.input(|input| input.pointer.press_origin());
        if let Some(Err(words)) = from.map(|from| open.grab(seen, from)) {
            happened.said = Some(words);
        }
    }
    if response.drag_started_by(PointerButton::Middle) || response.drag_started_by(PointerButton::Secondary) {
        open.hand = Hand::Shift;
    }
    if response.dragged() {
        let by = response.drag_delta();
        open.turn_by(seen, DVec2::new(f64::from(by.x), f64::from(by.y)));
    }
    if let (Hand::Drag(_), Some(at)) = (&open.hand, ui.ctx().pointer_latest_pos()) {
        happened.readout = open.drag_to(seen, at, held);
    }
    if response.drag_stopped() || !ui.input(|input| input.pointer.any_down()) {
        open.let_go();
    }
    let at = response.interact_pointer_pos();
    if response.double_clicked() {
        let place = at.and_then(|at| open.followed.touch.cast(seen.ray(at), |_| true));
        if let Some(hit) = place {
            open.rig.look_at((hit.at, hit.normal), &seen.camera, &open.followed.corners);
        }
    } else if response.clicked() {
        let under = at.and_then(|at| open.under(seen, at)).map(|under| under.choice.thing);
        open.bench.choose(under);
    }
    if response.hovered() {
        come_nearer(ui, open, seen);
    }
    happened
}

fn come_nearer(ui: &Ui, open: &mut Open, seen: &Seen) {
    let wheel = ui.input(|input| input.smooth_scroll_delta().y + (input.zoom_delta().ln() / 0.128) * NOTCH);
    let at = ui.input(|input| input.pointer.hover_pos());
    if wheel.abs() > 0.01
        && let Some(at) = at
    {
        let towards = open.followed.touch.cast(seen.ray(at), |_| true).map(|hit| hit.at);
        open.rig.nearer(f64::from(wheel / NOTCH), towards, (&seen.camera, &open.followed.corners));
    }
}

/// Who takes hold of the cake types nowhere any more: the keys are for what is chosen.
fn leave_fields(ui: &Ui) {
    ui.memory_mut(|memory| {
        if let Some(field) = memory.focused() {
            memory.surrender_focus(field);
        }
    });
}

fn point(ui: &Ui, open: &Open, under: Option<&Under>) {
    let icon = match (&open.hand, under) {
        (Hand::Drag(_) | Hand::Walk | Hand::Shift, _) => CursorIcon::Grabbing,
        (_, Some(under)) if under.is_movable() => CursorIcon::Grab,
        _ => return,
    };
    ui.ctx().set_cursor_icon(icon);
}

//! What the pointer does on the cake: walk round it, or drag what is under it.

use std::sync::Arc;

use egui::{Modifiers, Pos2};
use glam::DVec2;

use super::open::Open;
use super::view::Seen;
use crate::cake::Cake;
use crate::edits::Edit;
use crate::edits::choose::{Choice, Grip, Place, Ray, Thing, choose, handle_under, handles};
use crate::edits::drag::{Drag, Manner, Pointer, World};
use crate::edits::snap::readout;
use crate::measure::Length;
use crate::wraps::WrapPlan;

/// How near the pointer must be to a handle or a seam to catch it, points.
const REACH: f32 = 9.0;

/// How near something must be to snap to it, points.
const SNAP: f32 = 9.0;

/// What the pointer is doing since its button went down.
#[derive(Debug, Default)]
pub(super) enum Hand {
    /// Nothing.
    #[default]
    Free,
    /// Walking round the cake.
    Walk,
    /// Shifting the view.
    Shift,
    /// Dragging a piece, a seam or a handle.
    Drag(Box<Held>),
    /// Nothing any more: it was given up, and its button is still down.
    Lost,
}

/// Something being dragged, and the cake as it was when that began.
#[derive(Debug)]
pub(super) struct Held {
    drag: Drag,
    cake: Arc<Cake>,
    plans: Arc<Vec<WrapPlan>>,
    /// What is shown of it.
    shown: Option<Edit>,
}

/// What lies under the pointer.
#[derive(Clone, Debug)]
pub(super) struct Under {
    pub choice: Choice,
    pub grip: Grip,
}

impl Under {
    /// Whether it can be dragged.
    pub(super) const fn is_movable(&self) -> bool {
        matches!(self.choice.thing, Thing::Piece(_) | Thing::Seam(..))
    }
}

impl Open {
    /// What lies under a place of the picture: a handle of what is chosen, else what is nearest to the eye.
    pub(super) fn under(&self, seen: &Seen, at: Pos2) -> Option<Under> {
        let ray = seen.ray(at);
        if let Some(Thing::Piece(name)) = self.bench.chosen() {
            let handles = handles(self.bench.cake(), name);
            let reach = |place| Length::mm(f64::from(REACH) * seen.millimetres(place));
            let near = handles.iter().filter_map(|handle| {
                let caught = handle_under(std::slice::from_ref(handle), ray, reach(handle.at))?;
                Some((seen.at(caught.at)?.distance(at), caught))
            });
            if let Some((_, handle)) = near.min_by(|a, b| a.0.total_cmp(&b.0)) {
                let choice = self.as_choice(name, (handle.at, ray))?;
                return Some(Under { choice, grip: handle.grip });
            }
        }
        let hit = self.followed.touch.cast(ray, |_| true)?;
        let reach = Length::mm(f64::from(REACH) * seen.millimetres(hit.at) * 0.6);
        let choice = choose(self.bench.cake(), self.bench.plans(), &self.followed.touch, (ray, reach))?;
        Some(Under { choice, grip: Grip::Move })
    }

    /// A handle's piece as if it were touched at the handle.
    fn as_choice(&self, name: &str, (at, ray): (glam::DVec3, Ray)) -> Option<Choice> {
        let piece = self.bench.design().pieces.iter().find(|piece| piece.name == name)?;
        let place = Place { seat: piece.seat.clone(), at: piece.at };
        Some(Choice { thing: Thing::Piece(name.to_owned()), at, normal: -ray.toward.normalize_or_zero(), place })
    }

    /// Takes hold of what is under the pointer; a sentence when it can't be moved.
    pub(super) fn grab(&mut self, seen: &Seen, at: Pos2) -> Result<(), String> {
        let under = self.under(seen, at).filter(Under::is_movable);
        let Some(under) = under else {
            self.hand = Hand::Walk;
            return Ok(());
        };
        self.hand = Hand::Lost;
        if self.is_read_only() {
            return Err("this design can only be looked at here".to_owned());
        }
        let pointer = Pointer::Ray(seen.ray(at));
        let (cake, plans) = (Arc::clone(self.bench.cake()), Arc::clone(self.bench.plans()));
        let world = World { cake: &cake, plans: &plans, touch: &self.followed.touch };
        let drag = Drag::grab(world, &under.choice, under.grip, &pointer);
        self.bench.choose(Some(under.choice.thing));
        // The whole cake is framed anew when it changes; not under somebody's hand.
        self.rig.keep(&seen.camera, &self.followed.corners);
        let drag = drag.map_err(|refusal| format!("{refusal}; {}", refusal.mend()))?;
        self.hand = Hand::Drag(Box::new(Held { drag, cake, plans, shown: None }));
        Ok(())
    }

    /// Follows the pointer; gives what the readout says.
    pub(super) fn drag_to(&mut self, seen: &Seen, at: Pos2, keys: Modifiers) -> Option<String> {
        let Hand::Drag(held) = &mut self.hand else { return None };
        let ray = seen.ray(at);
        let scale = self.followed.touch.cast(ray, |_| true).map_or(seen.middle(), |hit| hit.at);
        let strength = if keys.command { 0.0 } else { f64::from(SNAP) * seen.millimetres(scale) };
        let manner = Manner { strength: Length::mm(strength), is_fine: keys.shift };
        let world = World { cake: &held.cake, plans: &held.plans, touch: &self.followed.touch };
        let step = held.drag.to(world, &Pointer::Ray(ray), manner)?;
        // The same again would be no movement, and what runs into what is told of what moved.
        if held.shown.as_ref() != Some(&step.edit) {
            if let Err(refusal) = self.bench.hold(&step.edit) {
                return Some(refusal.to_string());
            }
            held.shown = Some(step.edit);
        }
        let mut words: Vec<String> = Vec::new();
        if let Some(Thing::Piece(name)) = self.bench.chosen() {
            words.extend(readout(self.bench.cake(), name).map(|readout| readout.to_string()));
        }
        words.extend(step.snapped.iter().map(|to| format!("→ {to}")));
        Some(words.join("\n"))
    }

    /// Walks round, or shifts the view, by a way of the pointer in points.
    pub(super) fn turn_by(&mut self, seen: &Seen, by: DVec2) {
        let share = (by.x / f64::from(seen.rect.height().max(1.0)), by.y / f64::from(seen.rect.height().max(1.0)));
        match self.hand {
            Hand::Walk => self.rig.walk(share, &seen.camera, &self.followed.corners),
            Hand::Shift => self.rig.shift(share, &seen.camera, &self.followed.corners),
            Hand::Free | Hand::Drag(_) | Hand::Lost => {}
        }
    }

    /// The button went up: a drag becomes one step.
    pub(super) fn let_go(&mut self) {
        if let Hand::Drag(_) = std::mem::take(&mut self.hand) {
            self.bench.drop_gesture();
        }
    }

    /// Whether something is being dragged on the cake.
    pub(super) const fn is_holding(&self) -> bool {
        matches!(self.hand, Hand::Drag(_))
    }

    /// Gives up what is being dragged.
    pub(super) fn give_up(&mut self) {
        if self.is_holding() {
            self.hand = Hand::Lost;
        }
        self.bench.cancel_gesture();
    }
}

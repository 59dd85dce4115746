//! Dragging: from the movement of a pointer to one edit, shown step by step.
//!
//! ```text
//!   grab (a choice, a grip) ──▶ Drag ──▶ to (ray, or place on the tape) ──▶ Step { edit, words } ──▶ History::hold
//!                                                                     button up ──▶ History::drop_gesture
//!                                                                     Escape ─────▶ History::cancel_gesture
//! ```
//!
//! Each step's edit says all that the drag did since it began, so the last one alone counts. A piece goes with the pointer
//! as it was grabbed: the ray is moved by as much as the pointer was off the piece's place, and meets the seats alone (the
//! board, tops, sides, plaques), never the piece itself. Where it meets nothing, the piece stays where it was.

mod moving;
mod seam;
mod sizing;

use super::choose::{Choice, Grip, Ray, Thing, Touch};
use super::snap::Snapped;
use super::{Edit, Refusal};
use crate::cake::Cake;
use crate::measure::{Length, TapePoint};
use crate::wraps::WrapPlan;
use moving::Moving;
use seam::SeamDrag;
use sizing::Sizing;

/// Where the pointer is.
#[derive(Clone, Debug, PartialEq)]
pub enum Pointer {
    /// Over the cake: a line of sight.
    Ray(Ray),
    /// Over the tape of this tier, at this place.
    Tape(String, TapePoint),
}

/// How a drag is to follow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Manner {
    /// How near something must be to snap to it, on the tape or plan; zero turns snapping off.
    pub strength: Length,
    /// Goes a quarter of the pointer's way.
    pub is_fine: bool,
}

/// The cake as it was when the drag began, and what can be touched of it.
#[derive(Clone, Copy, Debug)]
pub struct World<'a> {
    /// The cake without the drag.
    pub cake: &'a Cake,
    /// Its wraps.
    pub plans: &'a [WrapPlan],
    /// Its bodies.
    pub touch: &'a Touch,
}

/// What a drag does so far.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// From the design as it was when the drag began.
    pub edit: Edit,
    /// What it snapped to, in words; empty when it is free.
    pub snapped: Vec<String>,
}

/// A drag under way.
#[derive(Clone, Debug)]
pub struct Drag {
    what: What,
}

#[derive(Clone, Debug)]
enum What {
    Moving(Moving),
    Sizing(Sizing),
    Seam(SeamDrag),
}

impl Drag {
    /// Takes hold of what was chosen.
    ///
    /// # Errors
    /// When it is locked, or is nothing that can be dragged.
    pub fn grab(world: World<'_>, choice: &Choice, grip: Grip, pointer: &Pointer) -> Result<Self, Refusal> {
        let what = match (&choice.thing, grip) {
            (Thing::Piece(name), Grip::Move) => What::Moving(Moving::grab(world, name, (choice, pointer))?),
            (Thing::Piece(name), grip) => What::Sizing(Sizing::grab(world.cake, name, (grip, pointer))?),
            (Thing::Seam(course, along), _) => What::Seam(SeamDrag::grab(world, course, (*along, choice))?),
            (Thing::Board | Thing::Tier(_) | Thing::Course(_), _) => {
                return Err(Refusal::senseless("this stays where it is", "drag a piece or a seam"));
            }
        };
        Ok(Self { what })
    }

    /// Follows the pointer; `None` where it points at nothing that the dragged thing could go to.
    pub fn to(&mut self, world: World<'_>, pointer: &Pointer, manner: Manner) -> Option<Step> {
        match &mut self.what {
            What::Moving(moving) => moving.to(world, pointer, manner),
            What::Sizing(sizing) => sizing.to(world.cake, pointer, manner),
            What::Seam(seam) => seam.to(world, pointer, manner),
        }
    }
}

impl Step {
    fn new(edit: Edit, snapped: Snapped) -> Self {
        Self { edit, snapped: snapped.words }
    }
}

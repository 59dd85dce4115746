//! The history: what the design was before, step by step, so that everything can be undone and redone.
//!
//! ```text
//!   past: step step step   now   future: step step
//!         "move “bow”" -----^--- what undo brings back, and how it is called
//! ```
//!
//! A step keeps the whole earlier design; pieces that did not change are kept once for all steps together. So a step of a
//! cake with 2,000 pieces costs about 16 kB instead of a megabyte.

use std::collections::VecDeque;
use std::sync::Arc;
use std::time::Duration;

use super::Refusal;
use super::edit::{Edit, apply};
use super::labels::label;
use crate::design::Design;
use crate::design::model::Piece;

/// Most steps that are kept.
pub const MOST_STEPS: usize = 2000;

/// Most bytes that the steps may take together, counted roughly.
pub const MOST_BYTES: usize = 64 << 20;

/// Steps of the same label that follow one another within this time are one: an arrow key held down.
const ONE_STEP: Duration = Duration::from_millis(800);

/// An earlier design. Its pieces are shared with the steps beside it.
#[derive(Clone, Debug)]
struct Kept {
    /// All but the pieces.
    rest: Arc<Design>,
    pieces: Vec<Arc<Piece>>,
}

/// An earlier or later design, and what the step between it and its neighbour is called.
#[derive(Clone, Debug)]
struct Step {
    label: String,
    kept: Kept,
    bytes: usize,
}

/// The design with its past and future. One gesture (a drag, a field while it is typed in) is one step.
#[derive(Clone, Debug)]
pub struct History {
    now: Arc<Design>,
    kept: Kept,
    past: VecDeque<Step>,
    future: Vec<Step>,
    /// When a gesture began, and what its step will be called once it did something.
    gesture: Option<Gesture>,
    last: Option<Duration>,
}

#[derive(Clone, Debug)]
struct Gesture {
    from: Arc<Design>,
    label: Option<String>,
}

impl History {
    /// A design without a past.
    #[must_use]
    pub fn new(design: Arc<Design>) -> Self {
        let kept = Kept::of(&design, None);
        Self { now: design, kept, past: VecDeque::new(), future: Vec::new(), gesture: None, last: None }
    }

    /// The design as it is to be shown now, also in the middle of a gesture.
    #[must_use]
    pub const fn now(&self) -> &Arc<Design> {
        &self.now
    }

    /// The design without the gesture that is under way: what is to be saved.
    #[must_use]
    pub fn settled(&self) -> &Arc<Design> {
        self.gesture.as_ref().map_or(&self.now, |gesture| &gesture.from)
    }

    /// Carries out an edit as one step. A gesture under way is dropped first. `at` is the time since the program began: the
    /// same edit again within a moment (an arrow key held down) makes one step with the one before.
    ///
    /// # Errors
    /// When the edit is refused; nothing changed then.
    pub fn edit(&mut self, edit: &Edit, at: Duration) -> Result<(), Refusal> {
        self.drop_gesture();
        let next = apply(&self.now, edit)?;
        let label = label(&self.now, edit);
        let again = self.last.is_some_and(|last| at.saturating_sub(last) < ONE_STEP)
            && self.past.back().is_some_and(|step| step.label == label)
            && is_small(edit);
        self.last = Some(at);
        if again {
            self.replace_now(Arc::new(next));
        } else {
            self.step(Arc::new(next), label);
        }
        Ok(())
    }

    /// Shows what an edit would do, in the middle of a gesture. Each edit of a gesture starts from the design as it was when
    /// the gesture began, so the last one alone counts.
    ///
    /// # Errors
    /// When the edit is refused; what the gesture showed last stays.
    pub fn hold(&mut self, edit: &Edit) -> Result<(), Refusal> {
        let from = Arc::clone(self.settled());
        let next = apply(&from, edit)?;
        let label = label(&from, edit);
        self.now = Arc::new(next);
        self.gesture = Some(Gesture { from, label: Some(label) });
        Ok(())
    }

    /// Ends a gesture: what it shows becomes one step. Nothing happens without one.
    pub fn drop_gesture(&mut self) {
        if let Some(Gesture { from, label }) = self.gesture.take() {
            let shown = std::mem::replace(&mut self.now, from);
            self.step(shown, label.unwrap_or_default());
            self.last = None;
        }
    }

    /// Gives a gesture up: the design is as it was before.
    pub fn cancel_gesture(&mut self) {
        if let Some(gesture) = self.gesture.take() {
            self.now = gesture.from;
        }
    }

    /// Whether a gesture is under way.
    #[must_use]
    pub const fn is_held(&self) -> bool {
        self.gesture.is_some()
    }

    /// Goes back one step and says which. A gesture under way is given up instead.
    pub fn undo(&mut self) -> Option<String> {
        if let Some(gesture) = &self.gesture {
            let label = gesture.label.clone();
            self.cancel_gesture();
            return label;
        }
        let step = self.past.pop_back()?;
        let forth = self.go_to(&step);
        self.future.push(forth);
        Some(step.label)
    }

    /// Goes forward one step again and says which.
    pub fn redo(&mut self) -> Option<String> {
        self.cancel_gesture();
        let step = self.future.pop()?;
        let back = self.go_to(&step);
        self.past.push_back(back);
        Some(step.label)
    }

    /// What undo would take back: `move “bow”`.
    #[must_use]
    pub fn undo_label(&self) -> Option<&str> {
        let held = self.gesture.as_ref().and_then(|gesture| gesture.label.as_deref());
        held.or_else(|| self.past.back().map(|step| step.label.as_str()))
    }

    /// What redo would bring back.
    #[must_use]
    pub fn redo_label(&self) -> Option<&str> {
        self.future.last().map(|step| step.label.as_str())
    }

    /// How many steps can be undone and redone.
    #[must_use]
    pub fn steps(&self) -> (usize, usize) {
        (self.past.len(), self.future.len())
    }

    fn step(&mut self, next: Arc<Design>, label: String) {
        if *next == *self.now {
            return;
        }
        let kept = Kept::of(&next, Some(&self.kept));
        let before = std::mem::replace(&mut self.kept, kept);
        let bytes = before.bytes_beside(&self.kept);
        self.past.push_back(Step { label, kept: before, bytes });
        self.future.clear();
        self.now = next;
        self.forget();
    }

    fn replace_now(&mut self, next: Arc<Design>) {
        self.kept = Kept::of(&next, Some(&self.kept));
        self.future.clear();
        self.now = next;
    }

    /// Shows a step's design; gives the step that leads back.
    fn go_to(&mut self, step: &Step) -> Step {
        let kept = std::mem::replace(&mut self.kept, step.kept.clone());
        self.now = Arc::new(step.kept.design());
        self.last = None;
        Step { label: step.label.clone(), kept, bytes: step.bytes }
    }

    /// Lets the oldest steps go when there are too many, or they take too much room.
    fn forget(&mut self) {
        let mut bytes: usize = self.past.iter().map(|step| step.bytes).sum();
        while self.past.len() > MOST_STEPS || bytes > MOST_BYTES {
            bytes -= self.past.pop_front().map_or(bytes, |step| step.bytes);
        }
    }
}

/// Edits that come in rows, each a little further.
fn is_small(edit: &Edit) -> bool {
    use super::piece::PieceEdit::{Move, Resize, Turn};
    match edit {
        Edit::Piece(_, Move(..) | Turn(_) | Resize(_)) => true,
        Edit::Several(edits) => edits.iter().all(is_small),
        _ => false,
    }
}

impl Kept {
    fn of(design: &Design, beside: Option<&Self>) -> Self {
        let mut rest = design.clone();
        rest.pieces = Vec::new();
        let rest = beside.filter(|beside| *beside.rest == rest).map_or_else(|| Arc::new(rest), |b| Arc::clone(&b.rest));
        let old = beside.map_or(&[][..], |beside| &beside.pieces);
        // Most edits leave every piece where it was in the list; what moved is looked for by its neighbours' places.
        let share = |(number, piece): (usize, &Piece)| {
            let near = [number, number.wrapping_sub(1), number + 1].into_iter().filter_map(|number| old.get(number));
            near.into_iter().find(|old| ***old == *piece).map_or_else(|| Arc::new(piece.clone()), Arc::clone)
        };
        Self { rest, pieces: design.pieces.iter().enumerate().map(share).collect() }
    }

    fn design(&self) -> Design {
        Design { pieces: self.pieces.iter().map(|piece| (**piece).clone()).collect(), ..(*self.rest).clone() }
    }

    /// What it takes that its neighbour does not share, roughly: strings and lists are counted by a flat sum.
    fn bytes_beside(&self, other: &Self) -> usize {
        const A_PIECE: usize = 1024;
        const A_COURSE: usize = 512;
        let own = |(number, piece): (usize, &Arc<Piece>)| {
            let near =
                [number, number.wrapping_sub(1), number + 1].into_iter().filter_map(|number| other.pieces.get(number));
            usize::from(!near.into_iter().any(|other| Arc::ptr_eq(other, piece)))
        };
        let pieces: usize = self.pieces.iter().enumerate().map(own).sum();
        let courses: usize = self.rest.tiers.iter().map(|tier| 2 + tier.courses.len()).sum();
        let rest = if Arc::ptr_eq(&self.rest, &other.rest) { 0 } else { 4096 + A_COURSE * courses };
        size_of::<Step>() + size_of::<Arc<Piece>>() * self.pieces.len() + A_PIECE * pieces + rest
    }
}

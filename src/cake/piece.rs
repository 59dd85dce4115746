//! A piece as it sits: its size, its place, and what follows from both.

use std::sync::Arc;

use glam::{DAffine3, DVec2, DVec3};

use super::lean::Lean;
use super::pieces::PieceMeasure;
use crate::measure::Angle;

/// How a piece lies on a side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lie {
    /// As one, touching the side.
    Stiff,
    /// Bent to the side, round its corners and across its clefts.
    Soft {
        /// How far out of its back its length stays true, mm.
        neutral: f64,
        /// How far out of its back it reaches, mm.
        reach: f64,
    },
}

/// Where on a tier's side a piece sits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SidePlace {
    /// Which tier, from the board up.
    pub tier: usize,
    /// Tape reading, mm.
    pub along: f64,
    /// Above the tier's foot, mm.
    pub up: f64,
    /// How far out from the finished outline its back lies, mm: on the courses it touches.
    pub out: f64,
    /// Turned so much, counter-clockwise seen from in front of it.
    pub turn: Angle,
    /// How it lies there.
    pub lie: Lie,
}

/// One piece, resolved.
#[derive(Clone, Debug, PartialEq)]
pub struct CakePiece {
    /// Which of the design's pieces.
    pub index: usize,
    /// Its size, masses, sticks and footprint; the same one while neither piece nor seat changes.
    pub measure: Arc<PieceMeasure>,
    /// From the piece's frame (origin: its seat point) to the cake's.
    pub pose: DAffine3,
    /// From how its kind stands or lies to how it leans, in the piece's own frame.
    pub tilt: DAffine3,
    /// Set when it sits on the side of a tier, or on a soft piece there.
    pub side: Option<SidePlace>,
    /// Set for a rod that leans on something.
    pub lean: Option<Lean>,
}

impl CakePiece {
    /// Its footprint in the cake's plan (x, z), for pieces on a top or the board.
    #[must_use]
    pub fn footprint_in_cake(&self) -> Vec<DVec2> {
        let placed = self.measure.footprint.iter().map(|at| self.pose.transform_point3(DVec3::new(at.x, 0.0, at.y)));
        placed.map(|at| DVec2::new(at.x, at.z)).collect()
    }
}

//! What is drawn over a picture, in the cake's frame.

use glam::DVec3;

use crate::proof::span::Side;

/// From one point tested for sight to the next along a seam, mm.
const STEP: f64 = 2.0;
/// No seam is tested at more points than this.
const MOST_STEPS: f64 = 500.0;

/// How a mark is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Style {
    /// A dashed line on the cake itself.
    Seam,
    /// A dimension line beside the cake, from the first point to the last.
    Size(Side),
}

/// One mark.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// What stands beside it: `seam 1 · 10 1/2 in right`.
    pub label: String,
    /// From point to point, mm, in the cake's frame.
    pub path: Vec<DVec3>,
    /// Whether each point of the path is in sight.
    pub visible: Vec<bool>,
    /// How it is drawn.
    pub style: Style,
}

impl Mark {
    /// A seam along `path` (mm). `hidden` says of a place on it whether the cake itself stands before it.
    pub fn seam(label: impl Into<String>, path: &[DVec3], hidden: impl Fn(DVec3) -> bool) -> Self {
        let path = refine(path);
        let visible = path.iter().map(|&at| !hidden(at)).collect();
        Self { label: label.into(), path, visible, style: Style::Seam }
    }

    /// A dimension from one place to another (mm), set off to a side of the cake.
    pub fn size(label: impl Into<String>, [from, to]: [DVec3; 2], side: Side) -> Self {
        Self { label: label.into(), path: vec![from, to], visible: vec![true; 2], style: Style::Size(side) }
    }
}

/// The path with points no further apart than [`STEP`].
fn refine(path: &[DVec3]) -> Vec<DVec3> {
    let mut fine: Vec<DVec3> = path.iter().take(1).copied().collect();
    for (&from, &to) in path.iter().zip(path.iter().skip(1)) {
        let steps = (from.distance(to) / STEP).ceil().clamp(1.0, MOST_STEPS) as u32;
        fine.extend((1..=steps).map(|step| from.lerp(to, f64::from(step) / f64::from(steps))));
    }
    fine
}

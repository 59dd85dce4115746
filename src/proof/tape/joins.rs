//! Where ends meet on a tier's side: the seams of prints, the ends of bands and ropes. Those at one place are told together.

use glam::DVec2;

use super::flags::Flag;
use super::side::Side;
use crate::art::Stretch;
use crate::design::model::CourseKind;
use crate::proof::chart::Chart;
use crate::proof::ink::{ACCENT, PAPER};
use crate::proof::marks::seam_words;
use crate::wraps::{Onlookers, WrapPlan};

/// Joins closer than this along the tape are at one place: no tape measure on icing reads finer, mm.
const ONE_PLACE: f64 = 25.4 / 16.0;
/// Longest line of a flag, characters.
const LONGEST: usize = 38;

/// Joins at one place.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Join {
    /// Tape reading, mm.
    pub along: f64,
    /// Seams of prints that lie there.
    seams: Vec<String>,
    /// Courses whose own ends meet there.
    ends: Vec<String>,
    /// From and to which height, mm.
    heights: Vec<(f64, f64)>,
    /// The most seen of them, 0 to 1.
    exposure: f64,
}

/// All joins of a tier, from left to right.
pub(super) fn joins(side: &Side, index: usize, (plans, onlookers): (&[&WrapPlan], &Onlookers<'_>)) -> Vec<Join> {
    let mut joins: Vec<Join> = Vec::new();
    for (number, course) in side.tier.courses.iter().enumerate() {
        let sight = onlookers.course(index, number);
        let mut add = |along: f64, (seams, ends): (Vec<String>, Vec<String>)| {
            let exposure = sight.as_ref().map_or(0.0, |sight| sight.exposure(along));
            joins.push(Join { along, seams, ends, heights: vec![(course.bottom, course.top)], exposure });
        };
        let plan = plans.iter().find(|plan| plan.course == number);
        for (count, seam) in plan.iter().flat_map(|plan| &plan.seams).enumerate() {
            let pinned = if seam.pinned { ", pinned" } else { "" };
            add(seam.along, (vec![format!("{} seam {}{pinned}", course.name, count + 1)], Vec::new()));
        }
        let ends = matches!(course.kind, CourseKind::Band { .. } | CourseKind::Rope { .. });
        if let Some(along) = course.seam(&side.tier.outline).filter(|_| ends) {
            add(along, (Vec::new(), vec![course.name.clone()]));
        }
    }
    together(joins, side)
}

fn together(joins: Vec<Join>, side: &Side) -> Vec<Join> {
    let mut grouped: Vec<Join> = Vec::new();
    for join in joins {
        let same = |other: &&mut Join| side.tier.outline.reading(other.along - join.along).abs() <= ONE_PLACE;
        match grouped.iter_mut().find(same) {
            Some(other) => {
                other.seams.extend(join.seams);
                other.ends.extend(join.ends);
                other.heights.extend(join.heights);
                other.exposure = other.exposure.max(join.exposure);
            }
            None => grouped.push(join),
        }
    }
    grouped.sort_by(|a, b| a.along.total_cmp(&b.along));
    grouped
}

impl Join {
    /// At the back, where the tape has two ends; it is told at the left one.
    fn at_back(&self, side: &Side) -> bool {
        side.around() / 2.0 - self.along.abs() <= ONE_PLACE
    }

    fn reading(&self, side: &Side) -> f64 {
        if self.at_back(side) { -side.around() / 2.0 } else { self.along }
    }

    /// Its flag.
    pub fn flag(&self, side: &Side) -> Flag {
        let top = self.heights.iter().map(|(_, top)| *top).fold(0.0, f64::max);
        let ends = if self.ends.is_empty() { String::new() } else { format!("ends of {}", self.ends.join(", ")) };
        let names = self.seams.iter().chain(Some(&ends).filter(|ends| !ends.is_empty())).flat_map(|name| broken(name));
        let foot = side.at(self.reading(side), top);
        let words = seam_words((self.along, self.exposure), side.around(), side.unit);
        Flag { foot, names: names.collect(), words, colour: ACCENT }
    }

    /// A dashed line over each course that meets itself here; a pale line under it keeps it readable on any art.
    pub fn draw(&self, chart: &mut Chart, side: &Side) {
        let half = side.around() / 2.0;
        let places = if self.at_back(side) { vec![-half, half] } else { vec![self.along] };
        for along in places {
            for &(bottom, top) in &self.heights {
                let line: [DVec2; 2] = [side.at(along, top), side.at(along, bottom)];
                chart.line(line, Stretch { opacity: 0.8, ..Stretch::solid(1.1, PAPER) });
                chart.line(line, Stretch { dashes: vec![1.6, 1.0], ..Stretch::solid(0.55, ACCENT) });
            }
        }
    }
}

/// A text in lines no longer than [`LONGEST`], broken between words.
fn broken(text: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= LONGEST => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

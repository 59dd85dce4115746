//! Where ends meet on a tier's side: the seams of prints, the ends of bands and ropes. Those at one place are told together.

use glam::DVec2;

use super::flags::Flag;
use super::side::Side;
use crate::art::Stretch;
use crate::proof::chart::Chart;
use crate::proof::ink::{ACCENT, PAPER};
use crate::proof::marks::seam_words;
use crate::wraps::{Join, Meets};

/// Joins closer than this along the tape are at one place: no tape measure on icing reads finer, mm.
const ONE_PLACE: f64 = 25.4 / 16.0;
/// Longest line of a flag, characters.
const LONGEST: usize = 38;

/// Joins at one place.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Place {
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

/// All places at which a tier has joins, from left to right.
pub(super) fn places(side: &Side, index: usize, joins: &[Join]) -> Vec<Place> {
    let mut places: Vec<Place> = Vec::new();
    for join in joins.iter().filter(|join| join.tier == index) {
        let Some(course) = side.tier.courses.get(join.course) else { continue };
        let same = |place: &Place| side.tier.outline.reading(place.along - join.along).abs() <= ONE_PLACE;
        let found = places.iter().position(same).unwrap_or(places.len());
        if found == places.len() {
            places.push(Place { along: join.along, ..Place::default() });
        }
        if let Some(place) = places.get_mut(found) {
            match join.meets {
                Meets::Strips { .. } => place.seams.push(join.name(&course.name) + join.pinned()),
                Meets::Ends => place.ends.push(course.name.clone()),
            }
            place.heights.push((course.bottom, course.top));
            place.exposure = place.exposure.max(join.exposure);
        }
    }
    places.sort_by(|a, b| a.along.total_cmp(&b.along));
    places
}

impl Place {
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

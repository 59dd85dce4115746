//! Cuts the faces of a wide body into narrow ones, so that it can be bent.

use std::collections::BTreeMap;

use super::shell::{Corner, Shell};

/// A corner so near a cut (mm) lies on it.
const ON: f64 = 1e-4;

impl Shell {
    /// Splits every face along upright planes square to x, at most `spacing` mm apart. The surface stays what it is.
    pub fn slice_along_x(&mut self, spacing: f64) {
        let mut across: Vec<f64> = self.places.iter().map(|at| at.x).collect();
        across.sort_by(f64::total_cmp);
        let (Some(&low), Some(&high)) = (across.first(), across.last()) else { return };
        let count = ((high - low) / (spacing * 0.7)).ceil();
        if count.is_nan() || count <= 1.0 {
            return;
        }
        let step = (high - low) / count;
        for cut in 1..count as u32 {
            let middle = low + step * f64::from(cut);
            self.slice_at(widest_gap(&across, middle - step * 0.2, middle + step * 0.2));
        }
    }

    fn slice_at(&mut self, plane: f64) {
        for at in &mut self.places {
            if (at.x - plane).abs() < ON {
                at.x = plane;
            }
        }
        let mut cuts = BTreeMap::new();
        let faces = std::mem::take(&mut self.faces);
        for face in faces {
            let side = face.map(|corner| self.at(corner.place).x - plane);
            let crosses = side.iter().any(|&x| x > 0.0) && side.iter().any(|&x| x < 0.0);
            if crosses { self.split(face, plane, &mut cuts) } else { self.faces.push(face) }
        }
    }

    /// Splits one face that crosses the plane into a polygon on either side of it.
    fn split(&mut self, face: [Corner; 3], plane: f64, cuts: &mut BTreeMap<(u32, u32), u32>) {
        let (mut left, mut right) = (Vec::with_capacity(4), Vec::with_capacity(4));
        let [a, b, c] = face;
        for (corner, next) in [(a, b), (b, c), (c, a)] {
            let (here, there) = (self.at(corner.place).x - plane, self.at(next.place).x - plane);
            if here <= 0.0 {
                left.push(corner);
            }
            if here >= 0.0 {
                right.push(corner);
            }
            if here * there < 0.0 {
                let share = here / (here - there);
                let key = (corner.place.min(next.place), corner.place.max(next.place));
                let place = *cuts.entry(key).or_insert_with(|| {
                    let mut at = self.at(corner.place).lerp(self.at(next.place), share);
                    at.x = plane;
                    self.place(at)
                });
                let cut = Corner { place, uv: corner.uv.lerp(next.uv, share) };
                left.push(cut);
                right.push(cut);
            }
        }
        for polygon in [left, right] {
            match *polygon.as_slice() {
                [a, b, c] => self.faces.push([a, b, c]),
                [a, b, c, d] => self.faces.extend([[a, b, c], [a, c, d]]),
                _ => {}
            }
        }
    }
}

/// The middle of the widest gap between sorted values, within a window: a cut there passes no corner too near.
fn widest_gap(values: &[f64], from: f64, to: f64) -> f64 {
    let first = values.partition_point(|&value| value < from);
    let within = values.iter().skip(first).copied().take_while(|&value| value < to);
    let mut best = (0.0, (from + to) / 2.0);
    let mut before = from;
    for value in within.chain([to]) {
        if value - before > best.0 {
            best = (value - before, (before + value) / 2.0);
        }
        before = value;
    }
    best.1
}

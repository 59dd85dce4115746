//! Cuts the faces of a wide body into narrow ones, so that it can be bent.

use std::collections::BTreeMap;

use super::shell::{Corner, Shell};

/// A face may reach so many times as far as from one plane to the next.
const COARSE: f64 = 1.5;

/// A corner so near a cut (mm) lies on it.
const ON: f64 = 1e-4;

impl Shell {
    /// Splits every face along upright planes square to x, as near to `wanted` (sorted) as they pass no corner too near; none
    /// where no face reaches much further than from one plane to the next.
    pub fn slice_near(&mut self, wanted: &[f64]) {
        if self.is_fine(wanted) {
            return;
        }
        let mut across: Vec<f64> = self.places.iter().map(|at| at.x).collect();
        across.sort_by(f64::total_cmp);
        let (Some(&low), Some(&high)) = (across.first(), across.last()) else { return };
        let inner: Vec<f64> = wanted.iter().copied().filter(|plane| *plane > low && *plane < high).collect();
        let before = std::iter::once(low).chain(inner.iter().copied());
        let after = inner.iter().copied().skip(1).chain([high]);
        let planes = inner.iter().zip(before.zip(after)).map(|(&plane, (before, after))| {
            let room = 0.2 * (plane - before).min(after - plane);
            widest_gap(&across, plane - room, plane + room)
        });
        let planes: Vec<f64> = planes.collect();
        self.slice_at(&planes);
    }

    /// Whether no face reaches further than a plane and a half, wherever it lies.
    fn is_fine(&self, planes: &[f64]) -> bool {
        self.faces.iter().all(|face| {
            let across = face.map(|corner| self.at(corner.place).x);
            let (low, high) = across.iter().fold((f64::MAX, f64::MIN), |(low, high), x| (low.min(*x), high.max(*x)));
            let first = planes.partition_point(|&plane| plane <= low);
            let crossed = planes.get(first..).unwrap_or_default().partition_point(|&plane| plane < high);
            match crossed {
                0 => true,
                1 | 2 => {
                    let at = |number: Option<usize>| number.and_then(|number| planes.get(number)).copied();
                    let before = at(first.checked_sub(1)).unwrap_or(low);
                    let after = at(Some(first + crossed)).unwrap_or(high);
                    high - low <= COARSE * (after - before) / (crossed as f64 + 1.0)
                }
                _ => false,
            }
        })
    }

    /// Splits every face along planes, sorted by x.
    fn slice_at(&mut self, planes: &[f64]) {
        for at in &mut self.places {
            let next = planes.partition_point(|&plane| plane < at.x - ON);
            if let Some(&plane) = planes.get(next).filter(|&&plane| plane <= at.x + ON) {
                at.x = plane;
            }
        }
        let mut cuts = BTreeMap::new();
        for face in std::mem::take(&mut self.faces) {
            self.split(face, planes, &mut cuts);
        }
    }

    /// Splits one face into its polygons between the planes. Faces that share an edge share its cuts.
    fn split(&mut self, face: [Corner; 3], planes: &[f64], cuts: &mut BTreeMap<(u32, u32, usize), u32>) {
        let (mut rim, [a, b, c]) = (Vec::new(), face);
        for (corner, next) in [(a, b), (b, c), (c, a)] {
            let (here, there) = (self.at(corner.place), self.at(next.place));
            rim.push((here.x, corner));
            let first = planes.partition_point(|&plane| plane <= here.x.min(there.x));
            let last = planes.partition_point(|&plane| plane < here.x.max(there.x));
            let mut crossed: Vec<usize> = (first..last).collect();
            if here.x > there.x {
                crossed.reverse();
            }
            for number in crossed {
                let Some(&plane) = planes.get(number) else { continue };
                let share = (plane - here.x) / (there.x - here.x);
                let key = (corner.place.min(next.place), corner.place.max(next.place), number);
                let place = *cuts.entry(key).or_insert_with(|| self.place(here.lerp(there, share).with_x(plane)));
                rim.push((plane, Corner { place, uv: corner.uv.lerp(next.uv, share) }));
            }
        }
        let (low, high) = rim.iter().fold((f64::MAX, f64::MIN), |(low, high), &(x, _)| (low.min(x), high.max(x)));
        let first = planes.partition_point(|&plane| plane <= low);
        let last = planes.partition_point(|&plane| plane < high);
        for slab in first..=last {
            let from = slab.checked_sub(1).and_then(|before| planes.get(before)).copied().unwrap_or(f64::MIN);
            let to = planes.get(slab).copied().unwrap_or(f64::MAX);
            let polygon = rim.iter().filter(|(x, _)| (from..=to).contains(x)).map(|&(_, corner)| corner);
            self.fan(&polygon.collect::<Vec<_>>());
        }
    }

    /// A convex polygon as faces.
    fn fan(&mut self, polygon: &[Corner]) {
        let Some((&first, rest)) = polygon.split_first() else { return };
        for (&second, &third) in rest.iter().zip(rest.iter().skip(1)) {
            self.faces.push([first, second, third]);
        }
    }
}

/// The middle of the widest gap between sorted values, within a window: a cut there passes no corner too near.
pub(super) fn widest_gap(values: &[f64], from: f64, to: f64) -> f64 {
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

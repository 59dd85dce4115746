//! Nesting: rectangles on as few sheets as possible, turned where they may be.
//!
//! In: sizes in whole micrometres, one size of sheet, the gap between two things. Out: for each its sheet and its place.
//! `bin` fills one sheet, `pack` fills sheets in one order by one liking, `search` tries many and then empties the
//! emptiest sheet into others. The same input always gives the same places: no clock, no chance that isn't seeded.

use std::collections::{BTreeMap, BTreeSet};

mod bin;
mod bound;
mod pack;
mod search;

pub use bin::Rect;

use bin::Bin;
use bound::least_sheets;
use search::fewest;

/// Something to be laid on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Item {
    /// Width, µm.
    pub width: i64,
    /// Height, µm.
    pub height: i64,
    /// It may be turned by a quarter.
    pub may_turn: bool,
}

impl Item {
    /// The ways in which it may lie: width, height, whether turned.
    fn ways(&self) -> impl Iterator<Item = (i64, i64, bool)> + Clone + use<> {
        let turned = (self.may_turn && self.width != self.height).then_some((self.height, self.width, true));
        std::iter::once((self.width, self.height, false)).chain(turned)
    }

    const fn area(&self) -> i64 {
        self.width * self.height
    }
}

/// The sheets to lay things on, all alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Space {
    /// Width and height that can be printed, µm.
    pub size: [i64; 2],
    /// Least distance between two things, µm.
    pub gap: i64,
    /// Left free on every sheet.
    pub reserved: Option<Rect>,
}

/// A thing's place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// Which sheet, from 0.
    pub sheet: usize,
    /// Where on it, as it lies.
    pub at: Rect,
    /// It lies turned by a quarter.
    pub turned: bool,
}

/// Where everything lies.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Nesting {
    /// One a thing; `None` for one larger than a sheet.
    pub places: Vec<Option<Place>>,
    /// How many sheets.
    pub sheets: usize,
}

/// Lays things on as few sheets as are found within `effort`: the number of places that may be looked at, so that the
/// answer does not depend on the machine. Stops at once when no fewer sheets can do.
#[must_use]
pub fn nest(items: &[Item], space: &Space, effort: u64) -> Nesting {
    let task = Task::of(items, space);
    let least = task.least();
    task.nest(effort, least)
}

/// Lays all things on at most so many sheets, if that is found within `effort`.
#[must_use]
pub fn nest_within(items: &[Item], space: &Space, (effort, most): (u64, usize)) -> Option<Nesting> {
    let task = Task::of(items, space);
    if task.fitting.len() < items.len() || task.least() > most {
        return None;
    }
    let found = task.nest(effort, most);
    (found.sheets <= most).then_some(found)
}

/// Things and sheets with the gap dealt with: every thing carries it at its right and lower edge, and the sheet is as much
/// larger.
struct Task {
    spaced: Vec<Item>,
    size: [i64; 2],
    gap: i64,
    empty: Bin,
    /// Area of a sheet that is not reserved.
    free: i64,
    /// Which things go on an empty sheet.
    fitting: Vec<usize>,
}

impl Task {
    fn of(items: &[Item], space: &Space) -> Self {
        let (size, gap) = (space.size.map(|side| side + space.gap), space.gap);
        let wider = |item: &Item| Item { width: item.width + gap, height: item.height + gap, ..*item };
        let spaced: Vec<Item> = items.iter().map(wider).collect();
        let reserved = space.reserved.map(|rect| Rect { width: rect.width + gap, height: rect.height + gap, ..rect });
        let empty = Bin::new(size, reserved);
        let whole = Rect { x: 0, y: 0, width: size[0], height: size[1] };
        let free = whole.area() - reserved.map_or(0, |reserved| whole.shared(reserved));
        let fits = |item: &Item| empty.best(item, bin::Liking::Area).0.is_some();
        let fitting = spaced.iter().enumerate().filter(|(_, item)| fits(item)).map(|(number, _)| number).collect();
        Self { spaced, size, gap, empty, free, fitting }
    }

    fn least(&self) -> usize {
        let items: Vec<&Item> = self.fitting.iter().filter_map(|&number| self.spaced.get(number)).collect();
        least_sheets(&items, self.size, self.free)
    }

    fn nest(&self, effort: u64, enough: usize) -> Nesting {
        let mut bins = fewest(&self.spaced, &self.fitting, (&self.empty, effort, enough));
        in_order(&self.spaced, &mut bins);
        let mut nesting = Nesting { places: vec![None; self.spaced.len()], sheets: bins.len() };
        for (sheet, bin) in bins.iter().enumerate() {
            for &(item, at, turned) in &bin.taken {
                if let Some(place) = nesting.places.get_mut(item) {
                    let at = Rect { width: at.width - self.gap, height: at.height - self.gap, ..at };
                    *place = Some(Place { sheet, at, turned });
                }
            }
        }
        nesting
    }
}

/// Deals the places of equal things anew, so that they lie in their own order, sheet by sheet, from the left.
fn in_order(items: &[Item], bins: &mut [Bin]) {
    bins.sort_by_key(|bin| bin.taken.iter().map(|(item, _, _)| *item).min());
    let mut things: BTreeMap<Item, Vec<usize>> = BTreeMap::new();
    for (number, item) in items.iter().enumerate().rev() {
        things.entry(*item).or_default().push(number);
    }
    let placed: BTreeSet<usize> = bins.iter().flat_map(|bin| bin.taken.iter().map(|(item, _, _)| *item)).collect();
    things.values_mut().for_each(|alike| alike.retain(|number| placed.contains(number)));
    for bin in bins {
        bin.taken.sort_by_key(|(_, at, _)| (at.x, at.y));
        for (thing, _, _) in &mut bin.taken {
            let next = items.get(*thing).and_then(|item| things.get_mut(item)?.pop());
            *thing = next.unwrap_or(*thing);
        }
    }
}

/// A free place for one more thing on a sheet where some places are taken, the gap away from each of them; and whether it
/// lies turned there.
#[must_use]
pub fn room(space: &Space, taken: &[Rect], item: &Item) -> Option<(Rect, bool)> {
    let gap = space.gap;
    let mut bin = Bin::new(space.size, space.reserved);
    for rect in taken {
        bin.cover(Rect {
            x: rect.x - gap,
            y: rect.y - gap,
            width: rect.width + 2 * gap,
            height: rect.height + 2 * gap,
        });
    }
    bin.best(item, bin::Liking::ShortSide).0.map(|offer| (offer.at, offer.turned))
}

#[cfg(test)]
mod tests;

//! Filling sheets once: in one order, by one liking.

use std::cmp::Reverse;

use super::Item;
use super::bin::{Bin, Liking, Offer};

/// In which order things are laid down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Order {
    Area,
    Perimeter,
    LongSide,
    ShortSide,
    Difference,
    Ratio,
    Width,
    Height,
}

impl Order {
    pub const ALL: [Self; 8] = [
        Self::Area,
        Self::ShortSide,
        Self::LongSide,
        Self::Perimeter,
        Self::Difference,
        Self::Ratio,
        Self::Width,
        Self::Height,
    ];

    /// The things in this order: the largest first, equal ones by their number.
    pub fn sorted(self, items: &[Item], which: &[usize]) -> Vec<usize> {
        let mut order = which.to_vec();
        order.sort_by_key(|&number| (items.get(number).map(|item| Reverse(self.key(item))), number));
        order
    }

    fn key(self, item: &Item) -> (i64, i64) {
        let (short, long) = (item.width.min(item.height), item.width.max(item.height));
        match self {
            Self::Area => (item.area(), long),
            Self::Perimeter => (short + long, long),
            Self::LongSide => (long, short),
            Self::ShortSide => (short, long),
            Self::Difference => (long - short, long),
            Self::Ratio => (long * 1_000 / short.max(1), long),
            Self::Width => (item.width, item.height),
            Self::Height => (item.height, item.width),
        }
    }
}

/// Which sheet, and what next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Way {
    /// Each in its turn, on the first sheet that has room.
    FirstSheet,
    /// Each in its turn, where it fits best of all sheets.
    BestSheet,
    /// One sheet after the other; of all that is left, whatever fits best next.
    BestThing,
}

impl Way {
    pub const ALL: [Self; 3] = [Self::FirstSheet, Self::BestSheet, Self::BestThing];
}

/// What it may still cost: the number of places that may be looked at.
#[derive(Debug)]
pub(super) struct Effort(pub u64);

impl Effort {
    fn best(&mut self, bin: &Bin, item: &Item, liking: Liking) -> Option<Offer> {
        let (offer, looked) = bin.best(item, liking);
        self.0 = self.0.saturating_sub(looked + 1);
        offer
    }

    pub const fn spent(&self) -> bool {
        self.0 == 0
    }
}

/// What is packed: things, an empty sheet, at most so many sheets.
#[derive(Clone, Copy, Debug)]
pub(super) struct Task<'a> {
    pub items: &'a [Item],
    pub empty: &'a Bin,
    pub most: usize,
}

impl Task<'_> {
    /// The filled sheets; `None` where more than the most would be needed.
    pub fn pack(&self, order: &[usize], (way, liking): (Way, Liking), effort: &mut Effort) -> Option<Vec<Bin>> {
        match way {
            Way::BestThing => self.by_sheet(order, liking, effort),
            _ => self.by_thing(order, (way, liking), effort),
        }
    }

    fn by_thing(&self, order: &[usize], (way, liking): (Way, Liking), effort: &mut Effort) -> Option<Vec<Bin>> {
        let mut bins: Vec<Bin> = Vec::new();
        for &number in order {
            let Some(item) = self.items.get(number) else { continue };
            let mut found: Option<(usize, Offer)> = None;
            for (sheet, bin) in bins.iter().enumerate() {
                let Some(offer) = effort.best(bin, item, liking) else { continue };
                if found.is_none_or(|(_, best)| offer.score < best.score) {
                    found = Some((sheet, offer));
                }
                if way == Way::FirstSheet {
                    break;
                }
            }
            if found.is_none() {
                if bins.len() == self.most {
                    return None;
                }
                found = effort.best(self.empty, item, liking).map(|offer| (bins.len(), offer));
                bins.push(self.empty.clone());
            }
            if let Some((sheet, offer)) = found
                && let Some(bin) = bins.get_mut(sheet)
            {
                bin.take(number, &offer);
            }
        }
        Some(bins)
    }

    fn by_sheet(&self, order: &[usize], liking: Liking, effort: &mut Effort) -> Option<Vec<Bin>> {
        let mut bins: Vec<Bin> = Vec::new();
        let mut left = order.to_vec();
        while !left.is_empty() {
            if bins.len() == self.most {
                return None;
            }
            let mut bin = self.empty.clone();
            while let Some((next, offer)) = self.next(&bin, &left, (liking, effort)) {
                bin.take(left.remove(next), &offer);
            }
            // Nothing more fits even an empty sheet.
            if bin.taken.is_empty() {
                return None;
            }
            bins.push(bin);
        }
        Some(bins)
    }

    /// Of all that is left, what fits best; equally good, what comes first.
    fn next(&self, bin: &Bin, left: &[usize], (liking, effort): (Liking, &mut Effort)) -> Option<(usize, Offer)> {
        let mut found: Option<(usize, Offer)> = None;
        for (next, number) in left.iter().enumerate() {
            let Some(offer) = self.items.get(*number).and_then(|item| effort.best(bin, item, liking)) else { continue };
            if found.is_none_or(|(_, best)| offer.score < best.score) {
                found = Some((next, offer));
            }
        }
        found
    }
}

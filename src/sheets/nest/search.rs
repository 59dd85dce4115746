//! The search: every order by every liking; then, while sheets could still be saved, the emptiest sheet is emptied into a
//! few others.

use super::Item;
use super::bin::{Bin, Liking};
use super::pack::{Effort, Order, Task, Way};

/// Beyond so many things, trying each for every place takes too long.
const MOST_FOR_BEST_THING: usize = 150;
/// Sheets that are emptied together with the emptiest.
const WITH: usize = 3;
/// Thousandths of the old merit that a new laying must have. Tried on the sets of `tests/outside/sheets.py`: 995 saves more
/// sheets than 1,000, 985 or 960.
const HARDLY_WORSE: i128 = 995;

/// The fewest sheets found: an empty sheet, what it may cost, and the number of sheets that is good enough.
pub(super) fn fewest(items: &[Item], which: &[usize], (empty, effort, enough): (&Bin, u64, usize)) -> Vec<Bin> {
    let mut effort = Effort(effort);
    // A third for the usual ways, the rest for saving sheets.
    let saving = effort.0 - effort.0 / 3;
    let mut best: Option<Vec<Bin>> = None;
    for (way, liking, order) in every_way(which.len()) {
        if best.is_some() && effort.0 < saving {
            break;
        }
        let most = best.as_ref().map_or(usize::MAX, Vec::len);
        let task = Task { items, empty, most };
        if let Some(bins) = task.pack(&order.sorted(items, which), (way, liking), &mut effort)
            && best.as_ref().is_none_or(|best| merit(&bins) > merit(best))
        {
            best = Some(bins);
        }
        if best.as_ref().is_some_and(|best| best.len() <= enough) {
            break;
        }
    }
    let mut bins = best.unwrap_or_default();
    let mut chance = Chance(0x7465_7272_6163_6573);
    while bins.len() > enough && !effort.spent() {
        improve(items, &mut bins, (empty, &mut effort, &mut chance));
    }
    bins
}

/// The usual ways first.
fn every_way(count: usize) -> impl Iterator<Item = (Way, Liking, Order)> {
    let ways = Way::ALL.into_iter().filter(move |&way| way != Way::BestThing || count <= MOST_FOR_BEST_THING);
    ways.flat_map(|way| Liking::ALL.into_iter().flat_map(move |liking| Order::ALL.map(|order| (way, liking, order))))
        // Where the best thing is chosen, the order only breaks ties.
        .filter(|(way, _, order)| *way != Way::BestThing || *order == Order::Area)
}

/// Fewer sheets are better; then sheets that are full beside one that is nearly empty.
fn merit(bins: &[Bin]) -> (std::cmp::Reverse<usize>, i128) {
    (std::cmp::Reverse(bins.len()), fullness(bins))
}

fn fullness(bins: &[Bin]) -> i128 {
    bins.iter().map(|bin| i128::from(bin.used()).pow(2)).sum()
}

/// Takes everything off the emptiest sheet (or, now and then, any) and a few others and lays it down anew; kept when it is
/// better, as good, or hardly worse: whoever never steps back stays in the first hollow.
fn improve(items: &[Item], bins: &mut Vec<Bin>, (empty, effort, chance): (&Bin, &mut Effort, &mut Chance)) {
    let mut numbers: Vec<usize> = (0..bins.len()).collect();
    numbers.sort_by_key(|&number| bins.get(number).map(Bin::used));
    let first = if chance.below(4) == 0 { chance.below(bins.len()) } else { 0 };
    let mut chosen: Vec<usize> = numbers.get(first).copied().into_iter().collect();
    let with = 1 + chance.below(WITH);
    while chosen.len() <= with && chosen.len() < bins.len() {
        let other = chance.below(bins.len());
        if !chosen.contains(&other) {
            chosen.push(other);
        }
    }
    let old: Vec<Bin> = chosen.iter().filter_map(|&number| bins.get(number).cloned()).collect();
    let things: Vec<usize> = old.iter().flat_map(|bin| bin.taken.iter().map(|(item, _, _)| *item)).collect();
    let task = Task { items, empty, most: old.len() };
    let way = if chance.below(4) == 0 && things.len() <= MOST_FOR_BEST_THING {
        Way::BestThing
    } else {
        if chance.below(2) == 0 { Way::FirstSheet } else { Way::BestSheet }
    };
    let liking = Liking::ALL.get(chance.below(Liking::ALL.len())).copied().unwrap_or(Liking::Area);
    let order = chance.nearly_sorted(items, &things);
    if let Some(new) = task.pack(&order, (way, liking), effort)
        && (new.len() < old.len() || fullness(&new) * 1_000 >= fullness(&old) * HARDLY_WORSE)
    {
        chosen.sort_unstable();
        for &number in chosen.iter().rev() {
            bins.remove(number);
        }
        bins.extend(new);
    }
}

/// Seeded chance: SplitMix64 (G. Steele and others, 2014).
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    fn below(&mut self, count: usize) -> usize {
        (self.next() % count.max(1) as u64) as usize
    }

    /// The things in one of the orders, each out of place by a little.
    fn nearly_sorted(&mut self, items: &[Item], things: &[usize]) -> Vec<usize> {
        let order = Order::ALL.get(self.below(Order::ALL.len())).copied().unwrap_or(Order::Area);
        let mut shaken: Vec<(usize, usize)> = order
            .sorted(items, things)
            .into_iter()
            .enumerate()
            .map(|(rank, thing)| (rank * 4 + self.below(things.len()), thing))
            .collect();
        shaken.sort_unstable();
        shaken.into_iter().map(|(_, thing)| thing).collect()
    }
}

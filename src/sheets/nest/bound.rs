//! How many sheets are needed at least, whatever one does.

use super::Item;

/// The greatest of three bounds: by area; by things of which no two go on one sheet; by things that stand side by side only.
pub(super) fn least_sheets(items: &[&Item], sheet: [i64; 2], free: i64) -> usize {
    let mut items = items.to_vec();
    items.sort_by_key(|item| std::cmp::Reverse((item.area(), item.width)));
    let area: i128 = items.iter().map(|item| i128::from(item.area())).sum();
    let by_area = rounded_up(area, i128::from(free));
    let mut apart: Vec<&Item> = Vec::new();
    for item in &items {
        if apart.iter().all(|other| !share(item, other, sheet)) {
            apart.push(item);
        }
    }
    let [width, height] = sheet;
    by_area.max(apart.len()).max(side_by_side(&items, sheet)).max(side_by_side(&turned(&items), [height, width]))
}

fn rounded_up(whole: i128, part: i128) -> usize {
    usize::try_from((whole + part - 1) / part.max(1)).unwrap_or(usize::MAX)
}

/// Whether two things fit on one sheet, beside or above one another.
fn share(one: &Item, other: &Item, [width, height]: [i64; 2]) -> bool {
    one.ways().any(|(wide, tall, _)| {
        other.ways().any(|(other_wide, other_tall, _)| {
            let beside = wide + other_wide <= width && tall.max(other_tall) <= height;
            let stacked = tall + other_tall <= height && wide.max(other_wide) <= width;
            beside || stacked
        })
    })
}

/// Things that are higher than half a sheet, whichever way they lie, stand side by side: no more of them go on a sheet than
/// the narrowest fill its width, and all of them not on less width than they have.
fn side_by_side(items: &[impl std::borrow::Borrow<Item>], [width, height]: [i64; 2]) -> usize {
    let mut widths: Vec<i64> = Vec::new();
    for item in items {
        let ways = item.borrow().ways().filter(|&(wide, tall, _)| wide <= width && tall <= height);
        if ways.clone().all(|(_, tall, _)| 2 * tall > height) {
            widths.extend(ways.map(|(wide, ..)| wide).min());
        }
    }
    widths.sort_unstable();
    let mut filled = 0;
    let in_one = widths.iter().take_while(|&&wide| {
        filled += wide;
        filled <= width
    });
    let most = in_one.count().max(1);
    let all: i128 = widths.iter().map(|&wide| i128::from(wide)).sum();
    widths.len().div_ceil(most).max(rounded_up(all, i128::from(width)))
}

/// The same things seen from the side.
fn turned(items: &[&Item]) -> Vec<Item> {
    items.iter().map(|item| Item { width: item.height, height: item.width, ..**item }).collect()
}

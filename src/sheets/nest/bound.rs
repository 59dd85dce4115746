//! How many sheets are needed at least, whatever one does.

use super::Item;

/// The greater of two bounds: by area, and by things of which no two go on one sheet.
pub(super) fn least_sheets(items: &[Item], which: &[usize], sheet: [i64; 2]) -> usize {
    let mut items: Vec<&Item> = which.iter().filter_map(|&number| items.get(number)).collect();
    items.sort_by_key(|item| std::cmp::Reverse((item.area(), item.width)));
    let area: i128 = items.iter().map(|item| i128::from(item.area())).sum();
    let whole = i128::from(sheet[0]) * i128::from(sheet[1]);
    let by_area = usize::try_from((area + whole - 1) / whole.max(1)).unwrap_or(usize::MAX);
    let mut apart: Vec<&Item> = Vec::new();
    for item in items {
        if apart.iter().all(|other| !share(item, other, sheet)) {
            apart.push(item);
        }
    }
    by_area.max(apart.len())
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

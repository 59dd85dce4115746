//! Numbers the headings anew, so that repeated tables stand in their order and each keeps its own parts below it.

use toml_edit::{Item, Table};

/// Numbers all headings: as they stood, with the parts of each right below it; new ones behind those that were there.
pub(super) fn settle(root: &mut Table) {
    let mut next = 0;
    number(root, &mut next);
}

fn number(table: &mut Table, next: &mut isize) {
    table.set_position(Some(*next));
    *next += 1;
    let mut parts: Vec<(isize, String)> =
        table.iter().filter_map(|(key, item)| Some((first_position(item)?, key.to_owned()))).collect();
    parts.sort_by_key(|(position, _)| *position);
    for (_, key) in parts {
        match table.get_mut(&key) {
            Some(Item::Table(part)) => number(part, next),
            Some(Item::ArrayOfTables(parts)) => parts.iter_mut().for_each(|part| number(part, next)),
            _ => {}
        }
    }
}

/// Where the first heading of an item stands; new headings stand last. `None` for plain values.
fn first_position(item: &Item) -> Option<isize> {
    match item {
        Item::Table(table) => Some(first_of(table)),
        Item::ArrayOfTables(tables) => Some(tables.iter().map(first_of).min().unwrap_or(isize::MAX)),
        _ => None,
    }
}

/// The parent of tables by name may have no heading of its own: then the first of them counts.
fn first_of(table: &Table) -> isize {
    let own = table.position();
    own.or_else(|| table.iter().filter_map(|(_, item)| first_position(item)).min()).unwrap_or(isize::MAX)
}

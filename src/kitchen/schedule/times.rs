//! How long everything takes: rows of `assets/tables/times.csv`.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use crate::measure::table::read_table;

const TEXT: &str = include_str!("../../../assets/tables/times.csv");

static TABLE: LazyLock<BTreeMap<String, Takes>> = LazyLock::new(|| {
    let rows = read_table(TEXT).unwrap_or_default();
    let takes = |row: &crate::measure::table::Row| {
        let minutes = row.figure("minutes").ok()?;
        let wait = row.figure("wait_h").ok()?;
        Some((row.text("name").ok()?.to_owned(), Takes { minutes: minutes as i64, wait: (wait * 60.0) as i64 }))
    };
    rows.iter().filter_map(takes).collect()
});

/// How long a thing takes to do, and how long it then waits or dries; minutes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Takes {
    /// Work.
    pub minutes: i64,
    /// Waiting after it.
    pub wait: i64,
}

/// How long a row of the table takes. A test asks for every row.
pub(super) fn takes(name: &str) -> Takes {
    TABLE.get(name).copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every row there is.
    const NAMES: [&str; 26] = [
        "colour",
        "board",
        "bake",
        "ice",
        "cover",
        "stand",
        "wrap",
        "course",
        "sheet",
        "topper",
        "plaque",
        "cell",
        "ball",
        "scatter",
        "rope",
        "bow",
        "sign",
        "rod",
        "candle",
        "figure",
        "flowers",
        "place",
        "pack",
        "day begins",
        "day ends",
        "cake keeps",
    ];

    #[test]
    fn every_row_is_read_and_asked_for() {
        assert_eq!(read_table(TEXT).unwrap().len(), NAMES.len());
        for name in NAMES {
            assert!(TABLE.contains_key(name), "{name}");
        }
        assert_eq!(takes("topper"), Takes { minutes: 40, wait: 48 * 60 });
    }
}

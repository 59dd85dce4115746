//! A line of the make list in words.

use std::collections::BTreeMap;

use crate::kitchen::Make;
use crate::measure::{Length, Unit};
use crate::packs::words::{count, length, list, product, rolled};

/// `3 1/2 × 4 in`, `1 in across`.
pub(super) fn size(make: &Make, unit: Unit) -> String {
    match make.sizes.as_slice() {
        [] => String::new(),
        [across] => format!("{} across", length(across.as_mm(), unit)),
        sides => product(&sides.iter().map(|side| side.as_mm()).collect::<Vec<_>>(), unit),
    }
}

/// How thick it is rolled.
pub(super) fn thick(make: &Make, unit: Unit) -> String {
    make.thickness.map(|thick| rolled(thick.as_mm(), unit)).unwrap_or_default()
}

/// `gold, from yellow`; `white`.
pub(super) fn made_in(make: &Make) -> String {
    if make.paste.is_empty() || make.paste == make.finish {
        make.finish.clone()
    } else {
        format!("{}, from {}", make.finish, make.paste)
    }
}

/// `2 sticks, 1/8 in × 3 1/4 in, and 1 pin, …`: equal ones together.
pub(super) fn picks(make: &Make, unit: Unit) -> String {
    let mut counts: BTreeMap<(&str, i64, i64), (usize, Length, Length)> = BTreeMap::new();
    let whole = |length: Length| (length.as_mm() * 10.0).round() as i64;
    for &(what, across, long) in &make.picks {
        let entry = counts.entry((what, whole(across), whole(long))).or_insert((0, across, long));
        entry.0 += 1;
    }
    let told = counts.iter().map(|((what, ..), (number, across, long))| {
        format!("{} {} long, {} across", count(*number, what), length(long.as_mm(), unit), length(across.as_mm(), unit))
    });
    list(&told.collect::<Vec<_>>())
}

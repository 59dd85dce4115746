//! Figures about toppers that decorators could argue about, from `assets/tables/toppers.csv`.

use std::sync::LazyLock;

use crate::findings::Threshold;
use crate::measure::table::read_table;

/// What a decorator holds to, mm and mm²; from where on something is said of it is a [`Threshold`].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Habits {
    pub closed_hole: f64,
    pub beside_a_pick: f64,
    pub bare_pick: f64,
}

/// The least width of a neck in paste so thick (mm): half as thick, it must be twice as wide.
pub(super) fn narrowest_neck(thickness: f64) -> f64 {
    Threshold::NeckWidth.value().max(Threshold::NeckSection.value() / thickness.max(0.1))
}

/// The table; a test reads every row of it.
pub(super) static HABITS: LazyLock<Habits> = LazyLock::new(|| {
    let rows = read_table(TABLE).unwrap_or_default();
    let figure = |name: &str| {
        let row = rows.iter().find(|row| row.maybe("name") == Some(name));
        row.and_then(|row| row.figure("figure").ok()).unwrap_or_default()
    };
    Habits {
        closed_hole: figure("closed hole"),
        beside_a_pick: figure("beside a pick"),
        bare_pick: figure("bare pick"),
    }
});

const TABLE: &str = include_str!("../../../../assets/tables/toppers.csv");

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_a_figure_with_its_source_and_is_used() {
        let rows = read_table(TABLE).unwrap();
        let figures: Vec<f64> = rows.iter().map(|row| row.figure("figure").unwrap()).collect();
        assert!(rows.iter().all(|row| !row.source().is_empty()));
        let Habits { closed_hole, beside_a_pick, bare_pick } = *HABITS;
        assert_eq!(figures, [closed_hole, beside_a_pick, bare_pick]);
    }

    #[test]
    fn thin_paste_needs_a_wide_neck() {
        assert_eq!(narrowest_neck(3.2), 5.0);
        assert_eq!(narrowest_neck(2.0), 8.0);
        assert_eq!(narrowest_neck(9.0), 4.0);
    }
}

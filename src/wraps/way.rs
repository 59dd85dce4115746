//! How strips lie on a sheet: along its width or along its height.

use crate::design::model::Sheet;
use crate::measure::Length;

/// One way for strips to lie on a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Way {
    /// Longest strip that is printed so, with its overlap, mm.
    pub longest: f64,
    /// Strips side by side on one sheet.
    pub rows: u32,
}

/// The ways in which strips of a height lie on a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Ways {
    /// The longer one first; the other one where it is of use too.
    pub ways: (Way, Option<Way>),
    /// The strip's height is within what the sheet prints.
    pub high_enough: bool,
}

impl Ways {
    /// Each of them.
    pub(super) fn iter(self) -> impl Iterator<Item = Way> {
        [Some(self.ways.0), self.ways.1].into_iter().flatten()
    }
}

/// Half a hundredth of a millimetre: a strip typed as high as the sheet must not fail by rounding.
const ROUNDING: f64 = 0.005;

/// How strips of a height lie on a sheet, with their bleed and the gaps between them. A strip that fits neither way is taken
/// along the longer side.
pub(super) fn ways(sheet: &Sheet, height: f64) -> Ways {
    let [width, tall] = sheet.printable.map(Length::as_mm);
    let (bleed, gap) = (2.0 * sheet.bleed.as_mm(), sheet.gap.as_mm());
    let way = |longest: f64, across: f64| {
        let rows = ((across + gap + ROUNDING) / (height + bleed + gap).max(0.1)).floor();
        (rows >= 1.0).then(|| Way { longest: longest - bleed, rows: rows.min(1e6) as u32 })
    };
    let upright = way(width, tall);
    let turned = way(tall, width).filter(|_| sheet.turn);
    match (upright, turned) {
        (Some(one), Some(other)) if one.longest >= other.longest => {
            Ways { ways: (one, Some(other)), high_enough: true }
        }
        (other, Some(one)) => Ways { ways: (one, other), high_enough: true },
        (Some(only), None) => Ways { ways: (only, None), high_enough: true },
        (None, None) => {
            let longest = if sheet.turn { width.max(tall) } else { width };
            Ways { ways: (Way { longest: longest - bleed, rows: 1 }, None), high_enough: false }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LETTER: Sheet =
        Sheet::plain([Length::inches(8.5), Length::inches(11.0)], [Length::inches(8.0), Length::inches(10.5)]);

    #[test]
    fn a_strip_lies_either_way_as_its_height_allows() {
        let low = ways(&LETTER, 2.25 * 25.4);
        let found: Vec<(f64, u32)> = low.iter().map(|way| (way.longest / 25.4, way.rows)).collect();
        assert_eq!(found, [(10.5, 3), (8.0, 4)]);
        let high = ways(&LETTER, 9.0 * 25.4);
        assert_eq!((high.iter().count(), high.ways.0), (1, Way { longest: 8.0 * 25.4, rows: 1 }));
        assert!(ways(&LETTER, 8.0 * 25.4 + 0.001).ways.1.is_some());
    }

    #[test]
    fn what_the_sheet_asks_for_takes_room() {
        let bled = Sheet { bleed: Length::mm(3.0), ..LETTER };
        assert_eq!(ways(&bled, 50.0).ways.0.longest, 10.5 * 25.4 - 6.0);
        // Two of 98 mm fit across 203.2 mm with a gap of 5 mm between them; with 3 mm of bleed they don't.
        assert_eq!((ways(&LETTER, 98.0).ways.0.rows, ways(&bled, 98.0).ways.0.rows), (2, 1));
        let as_it_lies = ways(&Sheet { turn: false, ..LETTER }, 50.0);
        assert_eq!((as_it_lies.ways.0.longest, as_it_lies.ways.1), (8.0 * 25.4, None));
    }

    #[test]
    fn a_strip_higher_than_the_sheet_is_said_to_be() {
        assert!(!ways(&LETTER, 300.0).high_enough);
    }
}

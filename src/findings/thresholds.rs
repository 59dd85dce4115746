//! From where on something is worth a finding: one row a figure in `assets/tables/thresholds.csv`, with its source.
//!
//! All figures that decide whether a finding is made stand there, but two kinds: rows of handbooks that a design is compared
//! with (`dowels.csv`, the servings), and what a plan is weighed by before there is anything to find (`planning.csv`,
//! `toppers.csv`, `printing.csv`).

use std::collections::BTreeMap;
use std::sync::LazyLock;

use crate::measure::table::read_table;

const TEXT: &str = include_str!("../../assets/tables/thresholds.csv");

static TABLE: LazyLock<BTreeMap<String, f64>> = LazyLock::new(|| {
    let rows = read_table(TEXT).unwrap_or_default();
    rows.iter().filter_map(|row| Some((row.text("name").ok()?.to_owned(), row.figure("value").ok()?))).collect()
});

/// Names the figures of the table.
macro_rules! thresholds {
    ($($(#[$meaning:meta])* $variant:ident: $name:literal),+ $(,)?) => {
        /// One figure of the table.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Threshold {
            $($(#[$meaning])* $variant),+
        }

        impl Threshold {
            /// Every figure there is.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// Its name in the table.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self {
                    $(Self::$variant => $name),+
                }
            }
        }
    };
}

thresholds! {
    /// Pieces may share space so deep, mm.
    Overlap: "overlap",
    /// What stands out over an edge by less is not said, mm.
    Edge: "edge",
    /// Least stick in the cake, as a share of the piece's height.
    PickInCake: "pick in cake",
    /// Least stick in the piece, as a share of its height.
    PickInPiece: "pick in piece",
    /// Least paste on each side of a pick, mm.
    PasteRoundPick: "paste round a pick",
    /// Least paste round the stick of a rod, mm.
    PasteRoundRod: "paste round a rod's stick",
    /// Least width of a neck, however thick it is, mm.
    NeckWidth: "neck width",
    /// Least width times thickness of a neck, mm².
    NeckSection: "neck section",
    /// Picks may stand so far beside the middle of what they carry, mm.
    OffBalance: "off balance",
    /// Least clear between two picks of different pieces, mm.
    PickToPick: "pick to pick",
    /// A ball may be sunk by this share of its height.
    Sunk: "sunk",
    /// Least from a pick to the side of the cake, mm.
    PickToCakeSide: "pick to cake side",
    /// Least from the end of a pick to the board or the other side, mm.
    PickToBoard: "pick to board",
    /// Least from a dowel to the side of the cake it stands in, mm.
    DowelToCakeSide: "dowel to cake side",
    /// Least clear between a dowel and a pick, mm.
    DowelToPick: "dowel to pick",
    /// A corner turns by at least this, degrees.
    CornerTurn: "corner turn",
    /// A rounding wider than this is no corner, mm.
    CornerRadius: "corner radius",
    /// Board to be seen round the cake, mm.
    BoardMargin: "board margin",
    /// Room in a box round the cake and above it, mm.
    BoxClearance: "box clearance",
    /// Below this many pixels to the inch a print looks soft.
    PrintCoarse: "print coarse",
    /// Below this many, single pixels are seen at arm's length.
    PrintRough: "print rough",
    /// A repeat may be changed by this share of its width.
    RepeatChange: "repeat change",
    /// Share of sight lines that may reach a seam.
    SeamInSight: "seam in sight",
    /// A seam is barely seen up to this share of sight lines.
    SeamBarelySeen: "seam barely seen",
    /// A seam is hidden up to this share of sight lines.
    SeamHidden: "seam hidden",
    /// Load on one dowel that is worth a note, g.
    LoadOnDowel: "load on a dowel",
    /// Mass of a cake that is worth a note, g.
    HeavyCake: "heavy cake",
}

impl Threshold {
    /// The figure, in the unit that its row names. A test reads every row, so none is missing in what ships.
    #[must_use]
    pub fn value(self) -> f64 {
        TABLE.get(self.name()).copied().unwrap_or(f64::NAN)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_figure_has_its_row_and_every_row_is_used() {
        assert_eq!(read_table(TEXT).expect("table").len(), Threshold::ALL.len());
        for threshold in Threshold::ALL {
            assert!(threshold.value() > 0.0, "{}", threshold.name());
        }
    }
}

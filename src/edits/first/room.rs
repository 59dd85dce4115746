//! The room that something new has: width and height of what it goes on, and first sizes from them.

use std::sync::LazyLock;

use crate::design::Design;
use crate::design::model::{Seat, Target, Tier};
use crate::measure::table::{Row, read_table};
use crate::measure::{Length, Unit, read_length};

static TABLE: LazyLock<Vec<Row>> =
    LazyLock::new(|| read_table(include_str!("../../../assets/tables/first_sizes.csv")).unwrap_or_default());

/// Width and height of what something goes on.
#[derive(Clone, Copy, Debug)]
pub(super) struct Room {
    pub width: Length,
    pub height: Length,
    pub unit: Unit,
}

impl Room {
    pub(super) fn of_tier(tier: &Tier, unit: Unit) -> Self {
        let coat = (tier.icing + tier.paste) * 2.0;
        let width = tier.measured.across.unwrap_or(tier.size.width.min(tier.size.depth()) + coat);
        Self { width, height: tier.measured.height.unwrap_or(tier.height), unit }
    }

    /// Of a seat: of its tier; else of the lowest tier, as what stands on the board is seen beside it.
    pub(super) fn of_seat(design: &Design, seat: &Seat) -> Self {
        let mut on = &seat.on;
        for _ in 0..design.pieces.len() {
            let Target::Piece(name) = on else { break };
            let Some(piece) = design.pieces.iter().find(|piece| piece.name == *name) else { break };
            on = &piece.seat.on;
        }
        let tier = design.tiers.iter().find(|tier| *on == Target::Tier(tier.name.clone())).or(design.tiers.first());
        let usual = Self { width: Length::inches(7.0), height: Length::inches(4.0), unit: design.unit };
        tier.map_or(usual, |tier| Self::of_tier(tier, design.unit))
    }

    /// A first size of the table, as a ruler shows it; `None` for one that the table has not, which a test would find.
    pub(super) fn first(self, what: &str, figure: &str) -> Option<Length> {
        let is_it = |row: &&Row| row.text("what") == Ok(what) && row.text("figure") == Ok(figure);
        let row = TABLE.iter().find(is_it)?;
        let of = if row.text("of").ok()? == "width" { self.width } else { self.height };
        let bound = |column| read_length(row.text(column).ok()?, Unit::Inch).ok();
        let size = (of * row.figure("share").ok()?).max(bound("least")?).min(bound("most")?);
        Some(on_ruler(size, self.unit))
    }
}

/// A length as a ruler shows it: eighths (sixteenths below half an inch), or 5 mm (1 mm below 20 mm).
#[must_use]
pub fn on_ruler(length: Length, unit: Unit) -> Length {
    let step = match unit {
        Unit::Inch if length < Length::inches(0.5) => Length::inches(1.0 / 16.0),
        Unit::Inch => Length::inches(0.125),
        _ if length < Length::mm(20.0) => Length::mm(1.0),
        _ => Length::mm(5.0),
    };
    step * (length / step).round().max(1.0)
}

//! What a wrap's seams are weighed by: the table of usual weights, with the design's own before it.

use std::sync::LazyLock;

use crate::design::model::Planning;
use crate::measure::Length;
use crate::measure::table::read_table;

/// The weights of one design.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Weights {
    /// α: of each strip.
    pub strip: f64,
    /// β: of a strip without any width.
    pub sliver: f64,
    /// γ: of a sheet begun and not used.
    pub waste: f64,
    /// Taken off for a seam on a corner; never more than a strip costs, so that no strip is added for its sake.
    pub corner: f64,
    /// A corner turns by at least this, radians …
    pub corner_turn: f64,
    /// … at once, or on a radius below this, mm.
    pub corner_radius: f64,
    /// A strip at least so wide is no sliver, mm.
    pub comfortable: f64,
    /// Least width of a strip, mm.
    pub least_strip: f64,
    /// Least distance of an under-strip's seam from the print's, mm.
    pub under_apart: f64,
    /// Exposures within this are equally hidden to an under-strip's seam.
    pub under_hidden: f64,
}

/// What the table says too; a test holds them together.
const USUAL: Weights = Weights {
    strip: 1.0,
    sliver: 0.5,
    waste: 0.25,
    corner: 0.15,
    corner_turn: 30.0 * std::f64::consts::PI / 180.0,
    corner_radius: 12.0,
    comfortable: 76.2,
    least_strip: 25.4,
    under_apart: 25.4,
    under_hidden: 0.05,
};

static TABLE: LazyLock<Weights> = LazyLock::new(|| from_table().unwrap_or(USUAL));

fn from_table() -> Option<Weights> {
    let rows = read_table(include_str!("../../assets/tables/planning.csv")).ok()?;
    let figure = |name: &str| rows.iter().find(|row| row.text("name") == Ok(name))?.figure("figure").ok();
    Some(Weights {
        strip: figure("strip")?,
        sliver: figure("sliver")?,
        waste: figure("waste")?,
        corner: figure("corner")?,
        corner_turn: figure("corner_turn_degrees")?.to_radians(),
        corner_radius: figure("corner_radius_mm")?,
        comfortable: figure("comfortable_mm")?,
        least_strip: figure("least_strip_mm")?,
        under_apart: figure("under_apart_mm")?,
        under_hidden: figure("under_hidden")?,
    })
}

impl Weights {
    /// The usual weights, and before them what the design says.
    pub(super) fn of(planning: &Planning) -> Self {
        let usual = *TABLE;
        let strip = planning.strip.unwrap_or(usual.strip);
        Self {
            strip,
            sliver: planning.sliver.unwrap_or(usual.sliver),
            waste: planning.waste.unwrap_or(usual.waste),
            corner: planning.corner.unwrap_or(usual.corner).min(strip),
            comfortable: planning.comfortable.map_or(usual.comfortable, Length::as_mm),
            least_strip: planning.least_strip.map_or(usual.least_strip, Length::as_mm),
            ..usual
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_read_whole() {
        let table = from_table().expect("every row");
        assert!((table.corner_turn - USUAL.corner_turn).abs() < 1e-12);
        assert_eq!(Weights { corner_turn: USUAL.corner_turn, ..table }, USUAL);
    }

    #[test]
    fn a_corner_never_pays_for_a_strip() {
        let own = Planning { strip: Some(0.1), least_strip: Some(Length::inches(2.0)), ..Planning::default() };
        let weights = Weights::of(&own);
        assert_eq!((weights.strip, weights.corner, weights.least_strip), (0.1, 0.1, 50.8));
    }
}

//! Dowels: what stands in a tier to carry the tiers above it.
//!
//! How many, how thick and how far inside the outline of the tier above are rows of `assets/tables/dowels.csv`, where handbooks
//! differ; the design may override each. All are cut to one length: the finished height of the tier they stand in, as
//! measured where it was, and more where the tier above is raised. They stand evenly along a line inside the carried tier's pan.
//!
//! ```text
//!      from above                      from the side
//!      .-----------.                       ______
//!    /   .- o -.    \   tier in           |______|   tier above, on its card
//!   |  o   ___   o   |                 ___|_|__|_|___
//!   |  |  tier |  |  |                |   | |  | |   |  dowels end level with the top
//!    \ o  above  o  /                 |___|_|__|_|___|
//!      '-- . o . -'
//! ```

use std::sync::LazyLock;

use glam::{DVec2, DVec3};

use super::mass::laden;
use crate::art::Join;
use crate::cake::{Cake, CakeTier};
use crate::design::model::{Dowels, TierShape};
use crate::measure::Length;
use crate::measure::table::{Row, read_table};
use crate::shapes::{Outline, forms};

/// Of a small tier the dowels stand this share of the way in at most, so that they don't crowd in its middle.
const MOST_INSET: f64 = 0.5;

/// One row of the handbook.
#[derive(Clone, Debug, PartialEq)]
pub struct DowelRow {
    /// For tiers up to this size of pan.
    pub up_to: Length,
    /// How many are planned.
    pub count: u32,
    /// The fewest and the most that books say.
    pub range: [u32; 2],
    /// Across one.
    pub diameter: Length,
    /// How far inside the outline of the tier above.
    pub inset: Length,
    /// Where its figures are from.
    pub source: String,
    /// What other books say.
    pub note: String,
}

static ROWS: LazyLock<Vec<DowelRow>> = LazyLock::new(|| {
    let rows = read_table(include_str!("../../assets/tables/dowels.csv")).unwrap_or_default();
    rows.iter().filter_map(dowel_row).collect()
});

fn dowel_row(row: &Row) -> Option<DowelRow> {
    let inches = |column| row.figure(column).ok().map(Length::inches);
    let count = |column| row.figure(column).ok().map(|figure| figure as u32);
    Some(DowelRow {
        up_to: inches("up_to_in")?,
        count: count("count")?,
        range: [count("least")?, count("most")?],
        diameter: inches("diameter_in")?,
        inset: inches("inset_in")?,
        source: row.source().to_owned(),
        note: row.note().to_owned(),
    })
}

/// The handbook's row for a tier that is carried, by the size of its pan.
fn row_for(tier: &CakeTier) -> Option<&'static DowelRow> {
    let (low, high) = tier.pan.bounds();
    let across = (high - low).max_element();
    ROWS.iter().find(|row| across <= row.up_to.as_mm() + 1e-6).or_else(|| ROWS.last())
}

/// The dowels under one tier.
#[derive(Clone, Debug, PartialEq)]
pub struct Support {
    /// The tier that is carried, from the board up.
    pub under: usize,
    /// The tier that they stand in.
    pub stands_in: usize,
    /// How many are planned.
    pub count: u32,
    /// What the handbook says.
    pub row: &'static DowelRow,
    /// Across one.
    pub diameter: Length,
    /// Cut to this length.
    pub length: Length,
    /// Across the circle through all of them, or the greatest way over their line where it is no circle.
    pub circle: Length,
    /// Where each stands: (x, z) in the cake's plan, mm.
    pub places: Vec<DVec2>,
    /// All that stands on them, g.
    pub load: f64,
}

impl Support {
    /// What one dowel carries, g; everything where there is none.
    #[must_use]
    pub fn load_each(&self) -> f64 {
        self.load / f64::from(self.count.max(1))
    }
}

/// The dowels under every tier that stands on another, from the board up.
#[must_use]
pub fn supports(cake: &Cake) -> Vec<Support> {
    if cake.tiers.len() < 2 {
        return Vec::new();
    }
    let masses = laden(cake);
    let carried = cake.tiers.iter().enumerate().skip(1);
    carried
        .filter_map(|(under, tier)| {
            let stands_in = under - 1;
            let below = cake.tiers.get(stands_in)?;
            let row = row_for(tier)?;
            let own = cake.design.tiers.get(under).map_or_else(Dowels::default, |designed| designed.dowels);
            let count = own.count.unwrap_or(row.count);
            let line = inside(tier, own.inset.unwrap_or(row.inset));
            let raised = tier.foot - below.foot - below.height;
            Some(Support {
                under,
                stands_in,
                count,
                row,
                diameter: own.diameter.unwrap_or(row.diameter),
                length: below.height + raised,
                circle: Length::mm(2.0 * line.reach()),
                places: places(tier, &line, count),
                load: masses.iter().take(cake.tiers.len()).skip(under).sum(),
            })
        })
        .collect()
}

/// The line on which dowels stand, inside the outline of a tier's pan.
fn inside(tier: &CakeTier, inset: Length) -> Outline {
    let room = -tier.pan.beyond(DVec2::ZERO);
    let inset = inset.as_mm().min(MOST_INSET * room);
    match tier.shape {
        TierShape::Round => forms::round(2.0 * (room - inset)),
        _ => tier.pan.offset(-inset, Join::Round),
    }
}

/// Even places along a line, the first half a step from the front, in the cake's plan.
fn places(tier: &CakeTier, line: &Outline, count: u32) -> Vec<DVec2> {
    let step = line.perimeter() / f64::from(count.max(1));
    let place = |number: u32| {
        let at = line.at(step * (f64::from(number) + 0.5)).point;
        let at = tier.pose().transform_point3(DVec3::new(at.x, 0.0, at.y));
        DVec2::new(at.x, at.z)
    };
    (0..count).map(place).collect()
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::art::Shelf;
    use crate::cake::resolve;
    use crate::design::read_design;

    fn stacked(upper: &str) -> Cake {
        let text = format!(
            "title = \"t\"\nunit = \"in\"\n[[tier]]\nname = \"low\"\nsize = 10\nheight = 4\nmeasured = {{ height = \"4 1/8\" }}\n\
             [[tier]]\nname = \"high\"\n{upper}\n"
        );
        resolve(&Arc::new(read_design(&text, "cake.toml").unwrap()), &Arc::new(Shelf::default())).unwrap()
    }

    #[test]
    fn dowels_are_as_long_as_the_tier_was_measured_and_stand_inside_the_one_above() {
        let cake = stacked("size = 8\nheight = 4\nat = [1, 0]");
        let [support] = &supports(&cake)[..] else { panic!("one") };
        assert_eq!((support.count, support.length, support.row.range), (6, Length::inches(4.125), [4, 6]));
        assert!((support.circle.as_inches() - 5.0).abs() < 1e-5, "{support:?}");
        for place in &support.places {
            assert!((place.distance(DVec2::new(25.4, 0.0)) - 63.5).abs() < 1e-4);
        }
        // Evenly: each a sixth of a turn from the next, which on a circle is one radius.
        for (one, next) in support.places.iter().zip(support.places.iter().cycle().skip(1)) {
            assert!((one.distance(*next) - 63.5).abs() < 1e-4);
        }
        // What stands on them is the upper tier alone.
        assert!((support.load - laden(&cake)[1]).abs() < 1e-9 && support.load > 1000.0);
    }

    #[test]
    fn small_and_raised_and_square_tiers_have_theirs_too() {
        let small = stacked("size = 4\nheight = 4\ngap = 2");
        let [support] = &supports(&small)[..] else { panic!("one") };
        assert_eq!(support.count, 4);
        assert!((support.length.as_inches() - 6.125).abs() < 1e-9 && (support.circle.as_inches() - 2.0).abs() < 1e-5);
        let square = stacked("shape = \"square\"\nsize = 6\nheight = 4");
        let [support] = &supports(&square)[..] else { panic!("one") };
        // Four on a square's line stand at its corners.
        assert!((support.places[0].abs() - DVec2::splat(38.1)).length() < 1e-3, "{:?}", support.places);
        let own = stacked("size = 6\nheight = 4\ndowels = { count = 9, diameter = \"1/2\", inset = 1 }");
        let [support] = &supports(&own)[..] else { panic!("one") };
        assert_eq!((support.count, support.places.len(), support.diameter), (9, 9, Length::inches(0.5)));
        assert!((support.circle.as_inches() - 4.0).abs() < 1e-5);
    }

    #[test]
    fn every_row_of_the_handbook_is_read_in_order() {
        let rows = read_table(include_str!("../../assets/tables/dowels.csv")).unwrap();
        assert_eq!(rows.len(), ROWS.len());
        assert!(ROWS.is_sorted_by(|a, b| a.up_to < b.up_to));
        for row in ROWS.iter() {
            assert!((row.range[0]..=row.range[1]).contains(&row.count), "{row:?}");
        }
    }
}

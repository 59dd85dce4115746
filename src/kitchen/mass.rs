//! Masses: of tiers, of pieces, of the whole cake.
//!
//! Derived from volumes: the bare cake is the pan's outline less icing and paste in height, the icing what lies between pan and
//! iced outline and on top, paste as everywhere by its own density. Densities of cake and icing are rows of
//! `assets/tables/densities.csv`, where books differ by more than two to one; so take a mass as good to a third. Sticks, candles,
//! flowers, prints and boards are not counted.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::paste::MM3_PER_CM3;
use crate::cake::{Cake, CakeTier, course_volumes};
use crate::design::Design;
use crate::design::model::Target;
use crate::measure::table::read_table;

static DENSITIES: LazyLock<BTreeMap<String, f64>> = LazyLock::new(|| {
    let rows = read_table(include_str!("../../assets/tables/densities.csv")).unwrap_or_default();
    let density =
        |row: &crate::measure::table::Row| Some((row.text("name").ok()?.to_owned(), row.figure("density_g_cm3").ok()?));
    rows.iter().filter_map(density).collect()
});

/// g/cm³ of a row of the table. A test reads the rows asked for.
fn density(name: &str) -> f64 {
    DENSITIES.get(name).copied().unwrap_or(f64::NAN)
}

/// Mass of a tier with its icing, covering and courses, g.
#[must_use]
pub fn tier_mass(design: &Design, tier: &CakeTier) -> f64 {
    let grams = |volume: f64, density: f64| volume.max(0.0) / MM3_PER_CM3 * density;
    let of_paste = |finish: &str, volume: f64| grams(volume, design.paste_of(finish).1.density);
    let under_paste = (tier.height - tier.paste).as_mm();
    let bare = tier.pan.area().min(tier.iced.area()) * (under_paste - icing(design, tier)).max(0.0);
    let iced = tier.iced.area() * under_paste - bare;
    let courses = tier.courses.iter().flat_map(|course| course_volumes(course, &tier.outline));
    grams(bare, density("cake"))
        + grams(iced, density("icing"))
        + of_paste(&tier.finish, tier.paste_volume())
        + courses.map(|(finish, volume)| of_paste(&finish, volume)).sum::<f64>()
}

/// Icing on a tier's top, mm: as thick as round its side.
fn icing(design: &Design, tier: &CakeTier) -> f64 {
    design.tiers.iter().find(|designed| designed.name == tier.name).map_or(0.0, |designed| designed.icing.as_mm())
}

/// Mass of each tier with all pieces that it carries, from the board up, g; and last what stands on the board itself.
#[must_use]
pub fn laden(cake: &Cake) -> Vec<f64> {
    let mut masses: Vec<f64> = cake.tiers.iter().map(|tier| tier_mass(&cake.design, tier)).collect();
    masses.push(0.0);
    let board = cake.tiers.len();
    let tiers: BTreeMap<&str, usize> = cake.tiers.iter().zip(0..).map(|(tier, number)| (&*tier.name, number)).collect();
    let under = under_riders(&cake.design);
    let mut densities: BTreeMap<&str, f64> = BTreeMap::new();
    for placed in &cake.pieces {
        let Some(mut seat) = cake.designed(placed).map(|piece| &piece.seat.on) else { continue };
        // A piece on a piece is carried by what carries that one; a design never goes round in rings.
        while let Target::Piece(name) = seat
            && let Some(next) = under.get(&**name)
        {
            seat = next;
        }
        let carrier = match seat {
            Target::Tier(name) => tiers.get(&**name).copied().unwrap_or(board),
            Target::Board | Target::Piece(_) => board,
        };
        for (finish, volume) in &placed.measure.volumes {
            let density = *densities.entry(finish).or_insert_with(|| cake.design.paste_of(finish).1.density);
            if let Some(mass) = masses.get_mut(carrier) {
                *mass += volume / MM3_PER_CM3 * density;
            }
        }
    }
    masses
}

/// What each piece sits on, by name; empty where no piece sits on another.
fn under_riders(design: &Design) -> BTreeMap<&str, &Target> {
    let rides = design.pieces.iter().any(|piece| matches!(piece.seat.on, Target::Piece(_)));
    let pieces = design.pieces.iter().filter(|_| rides);
    pieces.map(|piece| (&*piece.name, &piece.seat.on)).collect()
}

/// Mass of the whole cake without its board, g.
#[must_use]
pub fn cake_mass(cake: &Cake) -> f64 {
    laden(cake).into_iter().sum()
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::art::Shelf;
    use crate::cake::resolve;
    use crate::design::read_design;

    #[test]
    fn a_tier_weighs_its_cake_its_icing_and_its_paste() {
        let text = "title = \"t\"\nunit = \"mm\"\n[[tier]]\nname = \"a\"\nshape = \"square\"\nsize = 200\nheight = 110\nicing = 10\n\
                    [[piece]]\nname = \"plate\"\nkind = \"plaque\"\nseat = { on = \"a\", surface = \"top\" }\nat = { x = 0, z = 0 }\n\
                    size = [50, 40]\nthickness = 5\nfinish = \"white\"\n\
                    [[piece]]\nname = \"on it\"\nkind = \"ball\"\nseat = { on = \"plate\", surface = \"top\" }\nat = { x = 0, z = 0 }\n\
                    size = 10\nfinish = \"white\"\n";
        let design = Arc::new(read_design(text, "cake.toml").unwrap());
        let cake = resolve(&design, &Arc::new(Shelf::default())).unwrap();
        // 20 x 20 x 10 cm of cake; icing up to 22 x 22 x 11 cm; 10 cm3 of plate and π/6 cm3 of ball at 1.4.
        let (bare, iced) = (4000.0, 5324.0 - 4000.0);
        let on_it = (10.0 + std::f64::consts::PI / 6.0) * 1.4;
        assert!((laden(&cake)[0] - (bare * 0.6 + iced * 1.0 + on_it)).abs() < 1e-6, "{:?}", laden(&cake));
        assert_eq!(laden(&cake)[1], 0.0);
        assert!((cake_mass(&cake) - laden(&cake)[0]).abs() < 1e-9);
    }

    #[test]
    fn every_density_lies_within_what_books_say() {
        let rows = read_table(include_str!("../../assets/tables/densities.csv")).unwrap();
        for row in &rows {
            let figure = |column| row.figure(column).unwrap();
            assert!((figure("low")..=figure("high")).contains(&figure("density_g_cm3")), "{row:?}");
        }
        assert!(density("cake") > 0.0 && density("icing") > 0.0 && rows.len() == DENSITIES.len());
    }
}

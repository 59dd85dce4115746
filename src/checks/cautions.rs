//! Cautions: where this cake can hurt someone, said once and shortly. The words and their sources are rows of
//! `assets/tables/cautions.csv`; here stands only when each matters. Local food rules go before all of them.

use std::sync::LazyLock;

use crate::cake::Cake;
use crate::design::Look;
use crate::design::model::pieces::SolidForm;
use crate::design::model::{CourseKind, Form, Piece};
use crate::kitchen::cake_mass;
use crate::measure::table::{Row, read_table};
use crate::measure::{Mass, show_load};

/// One caution.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// One word: `sticks`, `finishes` …
    pub about: String,
    /// What to mind.
    pub text: String,
    /// Where it is from.
    pub source: String,
}

static ROWS: LazyLock<Vec<Row>> =
    LazyLock::new(|| read_table(include_str!("../../assets/tables/cautions.csv")).unwrap_or_default());

/// Those that this cake gives cause for, in the table's order.
#[must_use]
pub fn cautions(cake: &Cake) -> Vec<Caution> {
    let said = ROWS.iter().filter_map(|row| {
        let about = row.text("about").ok()?;
        matters(about, cake).then(|| Caution {
            about: about.to_owned(),
            text: filled_in(row.maybe("text").unwrap_or_default(), cake),
            source: row.source().to_owned(),
        })
    });
    said.collect()
}

/// The words with the cake's own figures.
fn filled_in(text: &str, cake: &Cake) -> String {
    const MASS: &str = "{mass}";
    if !text.contains(MASS) {
        return text.to_owned();
    }
    text.replace(MASS, &show_load(Mass::grams(cake_mass(cake))))
}

fn matters(about: &str, cake: &Cake) -> bool {
    let solid =
        |form: SolidForm| pieces(cake).any(|piece| matches!(&piece.form, Form::Solid(solid) if solid.form == form));
    match about {
        // What the cake is made of is not in the design.
        "allergens" | "cold" => true,
        "sticks" => cake.tiers.len() > 1 || cake.pieces.iter().any(|placed| !placed.measure.picks.is_empty()),
        "finishes" => finishes(cake)
            .any(|name| matches!(cake.design.finish(name).look, Look::Metal | Look::Glitter | Look::Pearl)),
        "flowers" => solid(SolidForm::Flowers),
        "candles" => solid(SolidForm::Candle),
        "load" => cake.tiers.len() > 1,
        "pictures" => {
            let wrap = |kind: &CourseKind| matches!(kind, CourseKind::Wrap(_));
            let printed = cake.tiers.iter().flat_map(|tier| &tier.courses).any(|course| wrap(&course.kind));
            printed || pieces(cake).any(|piece| piece.form.art().is_some())
        }
        _ => false,
    }
}

/// Every piece that is not hidden, as designed.
fn pieces(cake: &Cake) -> impl Iterator<Item = &Piece> {
    cake.pieces.iter().filter_map(|placed| cake.designed(placed))
}

/// Names of all finishes on the cake.
fn finishes(cake: &Cake) -> impl Iterator<Item = &str> {
    let courses = cake.tiers.iter().flat_map(|tier| &tier.courses).filter_map(|course| match &course.kind {
        CourseKind::Rope { finish, .. } | CourseKind::Pearls { finish, .. } | CourseKind::Band { finish, .. } => {
            Some(finish.as_str())
        }
        CourseKind::Wrap(_) | CourseKind::Bare { .. } => None,
    });
    let pieces = cake.pieces.iter().flat_map(|placed| &placed.measure.volumes).map(|(finish, _)| finish.as_str());
    cake.tiers.iter().map(|tier| tier.finish.as_str()).chain(courses).chain(pieces)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::cake;

    fn about(tables: &str) -> Vec<String> {
        cautions(&cake(tables)).into_iter().map(|caution| caution.about).collect()
    }

    #[test]
    fn each_caution_comes_where_it_matters_and_once() {
        let tier = |name: &str, finish: &str| {
            format!("[[tier]]\nname = \"{name}\"\nsize = 150\nheight = 100\npaste = 3\nfinish = \"{finish}\"\n")
        };
        assert_eq!(about(&tier("a", "white")), ["allergens", "cold"]);
        assert_eq!(about(&tier("a", "gold")), ["allergens", "finishes", "cold"]);
        let stacked = tier("a", "white") + &tier("b", "white");
        assert_eq!(about(&stacked), ["allergens", "sticks", "load", "cold"]);
        let candle = |hidden: bool| {
            format!(
                "[[piece]]\nname = \"c\"\nkind = \"solid\"\nform = \"candle\"\nseat = {{ on = \"a\", surface = \"top\" }}\n\
                 at = {{ x = 0, z = 0 }}\nsize = [6, 60]\nfinish = \"white\"\nhidden = {hidden}\n"
            )
        };
        assert_eq!(about(&(tier("a", "white") + &candle(false))), ["allergens", "candles", "cold"]);
        assert_eq!(about(&(tier("a", "white") + &candle(true))), ["allergens", "cold"]);
    }

    #[test]
    fn every_row_is_known_and_the_mass_is_filled_in() {
        for row in ROWS.iter() {
            let known = ["allergens", "sticks", "finishes", "flowers", "candles", "load", "cold", "pictures"];
            assert!(known.contains(&row.text("about").unwrap()), "{row:?}");
        }
        let stacked = cake(
            "[[tier]]\nname = \"a\"\nsize = 200\nheight = 100\n[[tier]]\nname = \"b\"\nsize = 150\nheight = 100\n",
        );
        let load = cautions(&stacked).into_iter().find(|caution| caution.about == "load").unwrap();
        // 3.1416 and 1.7671 dm3 of cake at 0.6 kg each.
        assert!(load.text.contains("about 2.9 kg (6.5 lb)"), "{}", load.text);
    }
}

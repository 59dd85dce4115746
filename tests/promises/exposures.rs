//! How visible seams are: many places at once as one by one, on every design that comes with the program and on cakes with
//! everything that can stand before a seam.

use std::sync::Arc;

use tierproof::art::Shelf;
use tierproof::cake::{Cake, resolve};
use tierproof::design::read_design;
use tierproof::wraps::Onlookers;

use super::tape::designs;

/// Every course of a cake, at places `step` mm apart: looked at together and one by one.
fn is_one_by_one(name: &str, cake: &Cake, step: f64) {
    let onlookers = Onlookers::new(cake);
    for (number, tier) in cake.tiers.iter().enumerate() {
        let around = tier.outline.perimeter();
        let readings: Vec<f64> =
            (0..(around / step) as u32).map(|count| f64::from(count) * step - around / 2.0).collect();
        for course in 0..tier.courses.len() {
            let sight = onlookers.course(number, course).expect("a course");
            let together = sight.exposures(&readings);
            assert_eq!(together.len(), readings.len());
            for (&along, together) in readings.iter().zip(together) {
                let alone = sight.exposure(along);
                // A sight line that grazes an edge may fall to either side of it: one in 64 heights of 5 eye levels of 32 azimuths.
                assert!((together - alone).abs() < 2.0 / (64.0 * 5.0 * 32.0), "{name}, {along}: {together} {alone}");
                assert!(together.is_sign_positive() && alone.is_sign_positive(), "{name}, {along}");
            }
        }
    }
}

#[test]
fn places_looked_at_together_are_seen_as_one_by_one() {
    for (name, cake) in designs() {
        is_one_by_one(&name, &cake, 23.0);
    }
}

#[test]
fn so_are_those_of_cakes_of_every_shape_with_everything_before_them() {
    for shape in ["round", "square", "hexagon", "oval", "heart", "petal"] {
        let size = if shape == "oval" { "[220, 170]" } else { "220" };
        let text = format!(
            "title = 't'\nunit = 'mm'\n[board]\nsize = 420\n[[tier]]\nname = 'base'\nshape = '{shape}'\nsize = {size}\nheight = 100\n\
             paste = 3\nturn = 25\n[[tier.course]]\nname = 'foot'\nkind = 'rope'\nsize = 9\n[[tier.course]]\nname = 'print'\n\
             kind = 'wrap'\nheight = 70\nart = 'a.svg'\nsheet = 'a4'\n[[tier.course]]\nname = 'lid'\nkind = 'band'\nheight = 'fill'\n\
             size = 4\n[[tier]]\nname = 'upper'\nsize = 110\nheight = 80\n[[piece]]\nname = 'bow'\nkind = 'bow'\n\
             seat = {{ on = 'base', surface = 'side' }}\nat = {{ along = 60, up = 60 }}\nribbon = 30\nloop = 40\ntail = 50\n\
             [[piece]]\nname = 'sign'\nkind = 'sign'\nseat = {{ on = 'base', surface = 'side' }}\nat = {{ along = -50, up = 40 }}\n\
             text = 'Ahoy'\nletters = {{ height = 12 }}\nsize = [70, 25]\nthickness = 3\nborder = 3\n[[piece]]\nname = 'pearls'\n\
             kind = 'scatter'\nseat = {{ on = 'base', surface = 'side' }}\nover = {{ along = [80, 170], up = [20, 80] }}\nsizes = [[8, 30]]\n\
             seed = 4\n[[piece]]\nname = 'oar'\nkind = 'rod'\nseat = {{ on = 'board', surface = 'board' }}\nat = {{ x = -150, z = 90 }}\n\
             leans_on = 'base'\nparts = [{{ length = 190, from = 22, to = 12, finish = 'white' }}]\n[[piece]]\nname = 'blooms'\n\
             kind = 'solid'\nform = 'flowers'\nseat = {{ on = 'board', surface = 'board' }}\nat = {{ x = 90, z = 130 }}\nsize = [60, 45]\n"
        );
        let design = read_design(&text, "cake.toml").unwrap_or_else(|problems| panic!("{problems}"));
        is_one_by_one(shape, &resolve(&Arc::new(design), &Arc::new(Shelf::default())).expect("a cake"), 17.0);
    }
}

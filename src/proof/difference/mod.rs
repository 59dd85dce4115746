//! What differs between two cakes: sizes, and what was printed or cut for the one that is of no use for the other.
//!
//! In: both cakes with their planned wraps. Out: sizes before and after, and what must be printed or cut again, each with why.
//! `figures` lists the sizes of one cake; `remade` finds what is made again although every size stays; `changed` says what to
//! mark on pictures of both.

mod changed;
mod figures;
mod remade;

use std::collections::{BTreeMap, BTreeSet};

use crate::cake::Cake;
use crate::measure::{Length, show_length};
use crate::wraps::WrapPlan;

pub use changed::changed;
use figures::{Figure, figures};

/// Something made that differs by more than this is made again, mm: more than a knife or a little stretching can make up.
const MADE_SLACK: f64 = 0.5;

/// A size that differs by less than this reads the same on a tape, mm.
const SAME: f64 = 0.25;

/// A cake with its planned wraps.
#[derive(Clone, Copy, Debug)]
pub struct Planned<'a> {
    /// The cake.
    pub cake: &'a Cake,
    /// Its wraps.
    pub plans: &'a [WrapPlan],
}

/// What changes from one cake to another.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Changes {
    /// Sizes that change, in the order of the cake from the board up.
    pub sizes: Vec<SizeChange>,
    /// What must be printed again.
    pub reprints: Vec<Remade>,
    /// What must be cut or made again.
    pub recuts: Vec<Remade>,
}

/// A size that changes.
#[derive(Clone, Debug, PartialEq)]
pub struct SizeChange {
    /// Of what, and which: `“base”, around`, `“waves”, strip 1 wide`.
    pub what: String,
    /// Before; `None` where it was not there.
    pub before: Option<Length>,
    /// After; `None` where it is no more.
    pub after: Option<Length>,
    /// `“base”, around: 24 in → 24 3/8 in`.
    pub words: String,
}

/// Something that must be printed or cut again.
#[derive(Clone, Debug, PartialEq)]
pub struct Remade {
    /// What: a wrap, a rope, a topper, its sticks.
    pub what: String,
    /// Why, in a sentence.
    pub why: String,
}

/// How something of the cake comes to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Made {
    Printed,
    Cut,
}

/// Compares a cake before and after.
#[must_use]
pub fn changes(before: Planned<'_>, after: Planned<'_>) -> Changes {
    let unit = after.cake.design.unit;
    let (old, new) = (figures(before), figures(after));
    let (old_by, new_by) = (by_name(&old), by_name(&new));
    let mut found = Changes::default();
    let mut told = BTreeSet::new();
    for figure in new.iter().chain(&old).filter(|figure| told.insert(figure.name.as_str())) {
        let (was, is) = (old_by.get(figure.name.as_str()), new_by.get(figure.name.as_str()));
        let (from, to) = (was.map(|figure| figure.size), is.map(|figure| figure.size));
        let by = from.zip(to).map_or(f64::INFINITY, |(from, to)| (to - from).abs().as_mm());
        if by <= SAME {
            continue;
        }
        let says =
            |length: Option<Length>| length.map_or_else(|| "none".to_owned(), |length| show_length(length, unit));
        let words = format!("{}: {} → {}", figure.name, says(from), says(to));
        if let Some((made, what)) = is.and_then(|figure| figure.made.clone()).filter(|_| by > MADE_SLACK) {
            found.again(made, what, &words);
        }
        found.sizes.push(SizeChange { what: figure.name.clone(), before: from, after: to, words });
    }
    for (made, what, why) in remade::courses(before, after).into_iter().chain(remade::pieces(before, after)) {
        found.again(made, what, &why);
    }
    found
}

impl Changes {
    /// Each thing once, with the first reason.
    fn again(&mut self, made: Made, what: String, why: &str) {
        let list = match made {
            Made::Printed => &mut self.reprints,
            Made::Cut => &mut self.recuts,
        };
        if !list.iter().any(|known| known.what == what) {
            list.push(Remade { what, why: why.to_owned() });
        }
    }
}

fn by_name(figures: &[Figure]) -> BTreeMap<&str, &Figure> {
    figures.iter().map(|figure| (figure.name.as_str(), figure)).collect()
}

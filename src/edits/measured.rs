//! *Measured it?*: what a reading of the tape changes, before it is taken over, and what must be printed again.

use std::collections::BTreeMap;

use crate::cake::Cake;
use crate::cake::extent::board_needed;
use crate::design::model::Form;
use crate::measure::{Length, show_length};
use crate::wraps::WrapPlan;

/// A printed size that differs by more than this is printed again, mm: more than a cut with a knife can make up.
const PRINT_SLACK: f64 = 0.5;

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
    pub reprints: Vec<Reprint>,
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

/// Something that must be printed again.
#[derive(Clone, Debug, PartialEq)]
pub struct Reprint {
    /// What: a wrap, the print of a topper or a sign.
    pub what: String,
    /// Why, in a sentence.
    pub why: String,
}

/// Compares a cake before and after.
#[must_use]
pub fn changes(before: Planned<'_>, after: Planned<'_>) -> Changes {
    let unit = after.cake.design.unit;
    let (old, new) = (figures(before), figures(after));
    let mut sizes = Vec::new();
    let mut reprints: Vec<Reprint> = Vec::new();
    let names = new.iter().map(|figure| &figure.name).chain(old.iter().map(|figure| &figure.name));
    let mut told = std::collections::BTreeSet::new();
    let by_name = |figures: &[Figure]| {
        figures.iter().map(|figure| (figure.name.clone(), figure.clone())).collect::<BTreeMap<_, _>>()
    };
    let (old_by, new_by) = (by_name(&old), by_name(&new));
    for name in names.filter(|name| told.insert((*name).clone())) {
        let (was, is) = (old_by.get(name), new_by.get(name));
        let (from, to) = (was.map(|figure| figure.size), is.map(|figure| figure.size));
        let by = from.zip(to).map_or(f64::INFINITY, |(from, to)| (to - from).abs().as_mm());
        if by <= SAME {
            continue;
        }
        let says =
            |length: Option<Length>| length.map_or_else(|| "none".to_owned(), |length| show_length(length, unit));
        let words = format!("{name}: {} → {}", says(from), says(to));
        if let Some(print) = is.and_then(|figure| figure.print.clone()).filter(|_| by > PRINT_SLACK)
            && !reprints.iter().any(|reprint| reprint.what == print)
        {
            reprints.push(Reprint { what: print, why: words.clone() });
        }
        sizes.push(SizeChange { what: name.clone(), before: from, after: to, words });
    }
    Changes { sizes, reprints }
}

/// One size of the cake; of what is printed, with the print's name.
#[derive(Clone, Debug)]
struct Figure {
    name: String,
    size: Length,
    print: Option<String>,
}

fn figures(of: Planned<'_>) -> Vec<Figure> {
    let cake = of.cake;
    let mut figures = Vec::new();
    let mut note = |name: String, size: Length, print: Option<&str>| {
        figures.push(Figure { name, size, print: print.map(str::to_owned) });
    };
    for (tier_index, tier) in cake.tiers.iter().enumerate() {
        note(format!("“{}”, around", tier.name), tier.around(), None);
        note(format!("“{}”, across", tier.name), tier.across(), None);
        note(format!("“{}”, high", tier.name), tier.height, None);
        for (index, course) in tier.courses.iter().enumerate() {
            let name = format!("“{}” of “{}”", course.name, tier.name);
            let plan = of.plans.iter().find(|plan| plan.tier == tier_index && plan.course == index);
            let Some(plan) = plan else {
                note(format!("{name}, high"), Length::mm(course.height()), None);
                note(format!("{name}, long"), course.length, None);
                continue;
            };
            note(format!("{name}, high"), Length::mm(plan.height), Some(&name));
            note(format!("{name}, long"), Length::mm(plan.length), Some(&name));
            for (number, strip) in plan.strips.iter().enumerate() {
                note(format!("{name}, strip {} wide", number + 1), Length::mm(strip.width), Some(&name));
            }
            if let Some(under) = plan.under.map(|under| under.length) {
                note(format!("{name}, strip of paste beneath, long"), Length::mm(under), None);
            }
        }
    }
    for placed in &cake.pieces {
        let Some(piece) = cake.designed(placed) else { continue };
        let is_printed = match &piece.form {
            Form::Topper(topper) => topper.print,
            Form::Sign(sign) => sign.art.is_some(),
            _ => false,
        };
        let name = format!("“{}”", piece.name);
        let print = is_printed.then_some(name.as_str());
        note(format!("{name}, wide"), placed.measure.size.width, print);
        note(format!("{name}, high"), placed.measure.size.height, print);
        for cut in &placed.measure.cuts {
            note(format!("{name}, {} long", cut.what), cut.length, None);
        }
    }
    note("the board, at least".to_owned(), board_needed(cake), None);
    figures
}

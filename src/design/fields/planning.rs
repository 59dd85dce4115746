//! What a wrap's seams are weighed by.

use super::{Bound, Field, Kind, Shape};
use crate::design::model::Planning;
use crate::design::tree::record;

/// Weights beyond this would drown what they are weighed against.
const WEIGHT: Kind = Kind::Number(0.0, 100.0);

/// `[planning]`.
pub(super) static PLANNING: Shape = Shape {
    name: "planning",
    meaning: "What a wrap's seams are weighed by; the plan that costs least is taken. A plan costs the exposure of each seam (1 in full \
              view), `strip` for each strip, `sliver` × (1 - width / `comfortable`) for each narrow one, and `waste` × (sheets begun - \
              sheets' worth of print); for a seam on a sharp corner `corner` is taken off. Of plans that cost the \
              same, the one whose seams keep furthest from the front is taken.",
    fields: &[
        Field::may("strip", WEIGHT, "What each strip costs; 1 when left out."),
        Field::may(
            "sliver",
            WEIGHT,
            "What a strip without any width costs, a narrow one its share of that; 0.5 when left out.",
        ),
        Field::may("waste", WEIGHT, "What a sheet costs that is begun and not used; 0.25 when left out."),
        Field::may(
            "corner",
            Kind::Number(0.0, 1.0),
            "Taken off for a seam on a sharp vertical corner, at most what a strip costs; 0.15 when left out.",
        ),
        Field::may(
            "comfortable",
            Kind::Length(Bound::Above),
            "A strip at least so wide, without its overlap, is not narrow; 3 in when left out.",
        ),
        Field::may("least_strip", Kind::Length(Bound::Above), "Least width of any strip; 1 in when left out."),
    ],
    kinds: &[],
    rules: &[],
};

record!(Planning {
    strip: "strip",
    sliver: "sliver",
    waste: "waste",
    corner: "corner",
    comfortable: "comfortable",
    least_strip: "least_strip",
});

//! What a wrap's seams are weighed by, where the person departs from the usual weights.

use crate::measure::Length;

/// The person's own weights; each that is left out is the usual one of `assets/tables/planning.csv`.
///
/// A seam in full view costs 1; everything else is reckoned against that.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Planning {
    /// Of each strip.
    pub strip: Option<f64>,
    /// Of a strip without any width; one of comfortable width costs nothing, one between them its share.
    pub sliver: Option<f64>,
    /// Of each sheet's worth of paper that is begun and not used.
    pub waste: Option<f64>,
    /// Taken off for a seam on a sharp vertical corner.
    pub corner: Option<f64>,
    /// A strip at least so wide is no sliver.
    pub comfortable: Option<Length>,
    /// Least width of a strip of any wrap that says none of its own.
    pub least_strip: Option<Length>,
}

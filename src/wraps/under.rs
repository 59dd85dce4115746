//! The strip of paste beneath a print: a cut of its own, with its own length and its own seam.

use super::lay::{Exposures, Laid, On, round_exposure};
use super::plan::Seam;

/// A strip of paste beneath a print.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UnderStrip {
    /// Cut length at its own neutral line, mm.
    pub length: f64,
    /// Cut height, mm.
    pub height: f64,
    /// Where its two ends meet; `None` on an open stretch, where they don't.
    pub seam: Option<Seam>,
}

/// The strip of paste beneath a wrap, its seam away from the print's, so that no gap shows through both.
pub(super) fn under_strip(
    (tier, course, wrap): On<'_>,
    (laid, seams): (&Laid, &[Seam]),
    exposures: Exposures<'_>,
) -> Option<UnderStrip> {
    let under = wrap.under.as_ref()?;
    let own = under.seam.map(|seam| {
        let along = tier.outline.reading(seam.along(tier.around()).as_mm());
        let exposure = exposures(&[along]).first().copied().unwrap_or(1.0);
        Seam { along, exposure: round_exposure(exposure), pinned: true, mismatch: None }
    });
    let seam = laid.closed.then(|| own.or_else(|| hidden_seam(laid, seams))).flatten();
    Some(UnderStrip {
        length: tier.outline.run(course.span, under.paste.as_mm() / 2.0),
        height: course.height(),
        seam: seam.map(|seam| Seam { along: laid.reading(seam.along), ..seam }),
    })
}

/// How far a place is from the nearest of some seams, mm.
pub(super) fn apart(laid: &Laid, along: f64, seams: &[Seam]) -> f64 {
    seams.iter().map(|seam| laid.apart(along, seam.along)).fold(f64::INFINITY, f64::min)
}

/// Of the places far enough from every seam of the print, the best hidden ones; of those the one that is farthest from them.
fn hidden_seam(laid: &Laid, seams: &[Seam]) -> Option<Seam> {
    let places = || laid.spots.iter().map(|spot| (spot, apart(laid, spot.along, seams)));
    let farthest = places().map(|(_, apart)| apart).fold(0.0, f64::max);
    let enough = laid.weights.under_apart.min(farthest);
    let least =
        places().filter(|&(_, apart)| apart >= enough).map(|(spot, _)| spot.exposure).fold(f64::INFINITY, f64::min);
    let hidden =
        places().filter(|&(spot, apart)| apart >= enough && spot.exposure <= least + laid.weights.under_hidden);
    // Distances that a tape can't tell apart are equal; then the one nearer to the back.
    let rank = |apart: f64| (apart * 2.0).round() as i64;
    let best = hidden.max_by_key(|&(spot, apart)| (rank(apart), -laid.off_back(spot.along)))?.0;
    Some(Seam { along: best.along, exposure: best.exposure, pinned: false, mismatch: None })
}

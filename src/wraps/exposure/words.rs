//! An exposure in words.

use crate::findings::Threshold;

/// How visible a seam is, in words, from its exposure and its place on a tape of length `around`: `at the back` (within an
/// eighth of the way round of the back, and no more seen than barely), `hidden` (up to 0.02), `barely seen` (up to 0.15),
/// `seen from the side` (up to 0.5), `in sight`. The figures are rows of `thresholds.csv`.
#[must_use]
pub fn exposure_words(exposure: f64, along: f64, around: f64) -> &'static str {
    let from_front = (along.rem_euclid(around) / around - 0.5).abs().mul_add(-2.0, 1.0);
    match exposure {
        seen if seen <= Threshold::SeamBarelySeen.value() && from_front > 0.75 => "at the back",
        seen if seen <= Threshold::SeamHidden.value() => "hidden",
        seen if seen <= Threshold::SeamBarelySeen.value() => "barely seen",
        seen if seen <= Threshold::SeamInSight.value() => "seen from the side",
        _ => "in sight",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_exposure_has_its_words() {
        for (exposure, along, words) in [
            (0.0, 300.0, "at the back"),
            (0.1, -240.0, "at the back"),
            (0.3, 290.0, "seen from the side"),
            (0.0, 10.0, "hidden"),
            (0.1, 120.0, "barely seen"),
            (0.5, 150.0, "seen from the side"),
            (0.9, 0.0, "in sight"),
            (1.0, 300.0, "in sight"),
        ] {
            assert_eq!(exposure_words(exposure, along, 600.0), words, "{exposure} at {along}");
        }
    }
}

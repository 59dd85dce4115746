//! Sizes in proportion, as an eye takes them: `half the top's width`.

use crate::cake::CakeTier;
use crate::measure::Length;

/// What a size is compared with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Against {
    /// The tier's width.
    Width,
    /// The tier's height.
    Height,
}

/// Shares that have a name, and how far from one its name still holds: our own choice.
const NAMED: [(f64, &str); 9] = [
    (0.25, "a quarter of"),
    (1.0 / 3.0, "a third of"),
    (0.5, "half"),
    (2.0 / 3.0, "two thirds of"),
    (0.75, "three quarters of"),
    (1.0, "as much as"),
    (1.5, "one and a half times"),
    (2.0, "twice"),
    (3.0, "three times"),
];
const NEAR: f64 = 0.02;

/// A size against its tier's; `None` where there is nothing to compare.
pub(super) fn proportion(size: Length, against: Against, tier: &CakeTier) -> Option<String> {
    let (whole, word) = match against {
        Against::Width => (tier.across(), "the top’s width"),
        Against::Height => (tier.height, "the tier’s height"),
    };
    let share = size / whole;
    share.is_finite().then(|| format!("{} {word}", share_words(share)))
}

fn share_words(share: f64) -> String {
    let named = NAMED.iter().find(|(named, _)| (share / named - 1.0).abs() <= NEAR);
    match named {
        Some((_, words)) => (*words).to_owned(),
        None if share >= 1.2 => format!("{share:.1} times"),
        None => format!("{:.0} % of", share * 100.0),
    }
}

#[cfg(test)]
mod tests {
    use super::share_words;

    #[test]
    fn shares_have_names_only_where_they_are_near_them() {
        let says: Vec<String> = [0.5, 0.505, 0.43, 0.334, 1.0, 1.25, 2.0].into_iter().map(share_words).collect();
        assert_eq!(says, ["half", "half", "43 % of", "a third of", "as much as", "1.2 times", "twice"]);
    }
}

//! A mass, kept in grams.

/// Grams in one avoirdupois ounce, exactly (NIST SP 811, appendix B.8; the ounce of 16 CFR 500.19).
pub const GRAMS_PER_OUNCE: f64 = 28.349_523_125;

/// A mass in grams.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Mass(f64);

impl Mass {
    /// A mass of so many grams.
    #[must_use]
    pub const fn grams(value: f64) -> Self {
        Self(value)
    }

    /// The mass in grams.
    #[must_use]
    pub const fn as_grams(self) -> f64 {
        self.0
    }

    /// The mass in avoirdupois ounces.
    #[must_use]
    pub const fn as_ounces(self) -> f64 {
        self.0 / GRAMS_PER_OUNCE
    }
}

/// A mass for people, on either scale: `397 g (14 oz)`; under 10 g to the tenth of a gram.
#[must_use]
pub fn show_mass(mass: Mass) -> String {
    let (grams, ounces) = (mass.as_grams(), mass.as_ounces());
    let grams = if grams < 9.95 { format!("{grams:.1}") } else { format!("{grams:.0}") };
    let ounces = if ounces < 9.95 { format!("{ounces:.1}") } else { format!("{ounces:.0}") };
    format!("{} g ({} oz)", grams.trim_end_matches(".0"), ounces.trim_end_matches(".0"))
}

#[cfg(test)]
mod tests {
    use super::{GRAMS_PER_OUNCE, Mass, show_mass};

    #[test]
    fn sixteen_ounces_are_a_pound() {
        // 1 lb = 453.592 37 g exactly (NIST SP 811, appendix B.8).
        assert!((GRAMS_PER_OUNCE * 16.0 - 453.592_37).abs() < 1e-12);
    }

    #[test]
    fn masses_are_shown_on_both_scales() {
        assert_eq!(show_mass(Mass::grams(397.0)), "397 g (14 oz)");
        assert_eq!(show_mass(Mass::grams(4.26)), "4.3 g (0.2 oz)");
        assert_eq!(show_mass(Mass::grams(0.0)), "0 g (0 oz)");
    }
}

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

/// Grams in one avoirdupois pound, exactly (NIST SP 811, appendix B.8).
pub const GRAMS_PER_POUND: f64 = 453.592_37;

/// What is carried rather than weighed out, on either scale and no finer than anybody feels: `7.7 kg (17 lb)`.
#[must_use]
pub fn show_load(mass: Mass) -> String {
    let coarse = |value: f64| if value < 9.95 { format!("{value:.1}") } else { format!("{value:.0}") };
    format!("{} kg ({} lb)", coarse(mass.as_grams() / 1000.0), coarse(mass.as_grams() / GRAMS_PER_POUND))
}

#[cfg(test)]
mod tests {
    use super::{GRAMS_PER_OUNCE, GRAMS_PER_POUND, Mass, show_load, show_mass};

    #[test]
    fn sixteen_ounces_are_a_pound() {
        assert!((GRAMS_PER_OUNCE * 16.0 - GRAMS_PER_POUND).abs() < 1e-12);
    }

    #[test]
    fn loads_are_shown_coarsely() {
        assert_eq!(show_load(Mass::grams(7653.0)), "7.7 kg (17 lb)");
        assert_eq!(show_load(Mass::grams(12_400.0)), "12 kg (27 lb)");
        assert_eq!(show_load(Mass::grams(527.0)), "0.5 kg (1.2 lb)");
    }

    #[test]
    fn masses_are_shown_on_both_scales() {
        assert_eq!(show_mass(Mass::grams(397.0)), "397 g (14 oz)");
        assert_eq!(show_mass(Mass::grams(4.26)), "4.3 g (0.2 oz)");
        assert_eq!(show_mass(Mass::grams(0.0)), "0 g (0 oz)");
    }
}

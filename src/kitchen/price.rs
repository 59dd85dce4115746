//! The price, from the person's own figures and nothing else.
//!
//! * cost = materials + paste + printed sheets + hours × rate + overhead
//! * with a *markup* of m %: price = cost × (1 + m / 100); with a *margin* of m %: price = cost / (1 - m / 100). A markup of
//!   50 % is a margin of 33 1/3 %.
//!
//! What is not set is said, and no price is told while something that every cake costs is missing.

use super::paste::PasteMass;
use crate::design::model::Kitchen;

/// One line of the reckoning.
#[derive(Clone, Debug, PartialEq)]
pub struct PriceLine {
    /// What it is for.
    pub what: String,
    /// How it was reckoned.
    pub how: String,
    /// How much.
    pub amount: f64,
}

/// What is added to the cost.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Gain {
    /// Percent of the cost.
    Markup(f64),
    /// Percent of the price.
    Margin(f64),
}

/// The reckoning of one cake.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Price {
    /// Of all amounts; `None` where the person set none.
    pub currency: Option<String>,
    /// What it costs, line by line.
    pub lines: Vec<PriceLine>,
    /// What is added.
    pub gain: Option<Gain>,
    /// Keys of the design that a price needs and that are not set.
    pub missing: Vec<&'static str>,
}

impl Price {
    /// All lines together, so far as they are set.
    #[must_use]
    pub fn cost(&self) -> f64 {
        self.lines.iter().map(|line| line.amount).sum::<f64>() + 0.0
    }

    /// The price; `None` while something is missing.
    #[must_use]
    pub fn total(&self) -> Option<f64> {
        let cost = self.cost();
        let total = match self.gain {
            None => cost,
            Some(Gain::Markup(percent)) => cost * (1.0 + percent / 100.0),
            Some(Gain::Margin(percent)) => cost / (1.0 - percent / 100.0),
        };
        self.missing.is_empty().then_some(total)
    }
}

/// What the work and the material of a cake amount to.
#[derive(Clone, Copy, Debug)]
pub struct Effort<'a> {
    /// Its pastes.
    pub pastes: &'a [PasteMass],
    /// Sheets printed for it.
    pub sheets: usize,
    /// Minutes of work in the plan.
    pub minutes: i64,
}

/// Reckons a cake by the person's rates.
#[must_use]
pub fn price(rates: &Kitchen, effort: Effort) -> Price {
    // Nothing costs nothing: a rate of zero is one that nobody has set yet.
    let set = |rate: Option<f64>| rate.filter(|rate| *rate > 0.0);
    let mut price = Price { currency: rates.currency.clone(), ..Price::default() };
    let mut line = |what: &str, how: String, amount: f64| {
        price.lines.push(PriceLine { what: what.to_owned(), how, amount });
    };
    if let Some(materials) = set(rates.materials) {
        line("materials", "as set".to_owned(), materials);
    }
    if let Some(rate) = set(rates.paste_price) {
        let kilograms = effort.pastes.iter().map(|paste| paste.to_mix).sum::<f64>() / 1000.0;
        line("paste", format!("{kilograms:.2} kg × {rate:.2}"), kilograms * rate);
    }
    if let Some(rate) = set(rates.sheet_price).filter(|_| effort.sheets > 0) {
        line("printed sheets", format!("{} × {rate:.2}", effort.sheets), effort.sheets as f64 * rate);
    }
    let (hours, whose) = match set(rates.hours) {
        Some(hours) => (hours, "as set"),
        None => (effort.minutes as f64 / 60.0, "of the plan"),
    };
    if let Some(rate) = set(rates.hour_rate) {
        line("work", format!("{hours:.1} h ({whose}) × {rate:.2}"), hours * rate);
    }
    if let Some(overhead) = set(rates.overhead) {
        line("overhead", "as set".to_owned(), overhead);
    }
    price.gain = set(rates.markup).map(Gain::Markup).or_else(|| set(rates.margin).map(Gain::Margin));
    let needed = [("materials", set(rates.materials).is_some()), ("hour_rate", set(rates.hour_rate).is_some())];
    let needed = needed.into_iter().chain([("currency", rates.currency.is_some())]);
    price.missing = needed.filter(|(_, there)| !there).map(|(key, _)| key).collect();
    price
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::art::Colour;

    fn rates() -> Kitchen {
        Kitchen {
            hour_rate: Some(20.0),
            materials: Some(30.0),
            paste_price: Some(8.0),
            sheet_price: Some(2.5),
            overhead: Some(10.0),
            currency: Some("EUR".into()),
            ..Kitchen::default()
        }
    }

    fn reckoned(rates: &Kitchen) -> Price {
        let pastes = [PasteMass { name: "white".into(), colour: Colour::default(), on_cake: 900.0, to_mix: 1250.0 }];
        price(rates, Effort { pastes: &pastes, sheets: 2, minutes: 390 })
    }

    #[test]
    fn a_markup_is_of_the_cost_and_a_margin_of_the_price() {
        // 30 + 1.25 × 8 + 2 × 2.5 + 6.5 × 20 + 10 = 185
        assert!((reckoned(&rates()).cost() - 185.0).abs() < 1e-9);
        assert_eq!(reckoned(&rates()).total(), Some(reckoned(&rates()).cost()));
        let marked = Kitchen { markup: Some(50.0), ..rates() };
        assert!((reckoned(&marked).total().unwrap() - 277.5).abs() < 1e-9);
        let margin = Kitchen { margin: Some(100.0 / 3.0), ..rates() };
        assert!((reckoned(&margin).total().unwrap() - 277.5).abs() < 1e-9);
        let own = Kitchen { hours: Some(10.0), ..rates() };
        assert!((reckoned(&own).cost() - 255.0).abs() < 1e-9);
    }

    #[test]
    fn nothing_is_invented_for_a_rate_that_is_missing() {
        let none = reckoned(&Kitchen::default());
        assert_eq!((none.total(), none.lines.len()), (None, 0));
        assert_eq!(none.missing, ["materials", "hour_rate", "currency"]);
        let zero = reckoned(&Kitchen { hour_rate: Some(0.0), ..rates() });
        assert_eq!((zero.total(), zero.missing), (None, vec!["hour_rate"]));
    }
}

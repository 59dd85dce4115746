//! For whom, when and how many; the person's own habits; the paper of the proof.

use jiff::civil::{Date, DateTime, Time};

use crate::measure::Length;

/// The order behind the cake. Everything in it is optional.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Order {
    /// Printed on the proof.
    pub customer: String,
    /// What is celebrated.
    pub event: String,
    /// Local time of the hand-over.
    pub handover: Option<DateTime>,
    /// The day on which work can begin, if the person said so.
    pub planned_on: Option<Date>,
    /// Portions wanted.
    pub portions: Option<u32>,
    /// How it is cut.
    pub slice: Slice,
    /// As the decorator declares them.
    pub allergens: Vec<String>,
    /// Anything else, for the proof.
    pub notes: String,
}

/// How the cake is cut.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Slice {
    /// 1 1/2 in × 2 in.
    #[default]
    Party,
    /// 1 in × 2 in.
    Wedding,
    /// Width and depth of the person's own slice.
    Own(Length, Length),
}

/// The person's own habits and rates; nothing is invented for them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Kitchen {
    /// First and last working hour of a day.
    pub working_hours: Option<(Time, Time)>,
    /// What pieces and courses are stuck on with, where they say nothing of their own.
    pub stuck_with: Option<String>,
    /// Price of one hour's work.
    pub hour_rate: Option<f64>,
    /// Hours of work; `None` takes those of the plan.
    pub hours: Option<f64>,
    /// Cost of all that is bought but paste and sheets.
    pub materials: Option<f64>,
    /// Cost of one kilogram of paste.
    pub paste_price: Option<f64>,
    /// Cost of one printed sheet.
    pub sheet_price: Option<f64>,
    /// Share of what the kitchen costs anyway.
    pub overhead: Option<f64>,
    /// Percent of the cost that is added to it.
    pub markup: Option<f64>,
    /// Percent of the price that is left after the cost.
    pub margin: Option<f64>,
    /// ISO 4217 code.
    pub currency: Option<String>,
    /// Name of the sheet that pieces are printed on; `None` takes that of the first wrap, else the unit's usual one.
    pub sheet: Option<String>,
}

/// How the proof is made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Proof {
    /// Its paper; `None` takes Letter for a design in inches, else A4.
    pub paper: Option<Paper>,
    /// Whether it names the price; `None`: it doesn't.
    pub price: Option<bool>,
}

/// Paper of a printed page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 8.5 in × 11 in (ANSI A).
    Letter,
    /// 210 mm × 297 mm (ISO 216).
    A4,
}

//! Facts of the work: what is done when, and what it costs.

use jiff::civil::DateTime;
use serde::Serialize;

use crate::cake::Cake;
use crate::kitchen::{Effort, Gain, Step, pastes, price, schedule, work_minutes};

/// A stretch of the plan.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StepFacts {
    /// What is done.
    pub task: String,
    /// For which pieces or tier; empty for the whole cake.
    pub piece: String,
    /// RFC 3339 with the offset `-00:00`: a local time whose offset is not known (4.3).
    pub start: String,
    /// As `start`.
    pub end: String,
    /// `work` or `dry`.
    pub kind: &'static str,
}

/// One line of the reckoning.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PriceLineFacts {
    /// What it is for.
    pub what: String,
    /// How it was reckoned.
    pub how: String,
    /// How much.
    pub amount: f64,
}

/// What is added to the cost.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GainFacts {
    /// `markup` or `margin`.
    pub kind: &'static str,
    /// `30 % of the cost`, `30 % of the price`.
    pub how: String,
    /// Percent.
    pub percent: f64,
}

/// The price of the cake, as far as the person's rates go.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct PriceFacts {
    /// ISO 4217; absent where none is set.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub currency: Option<String>,
    /// What it costs, line by line.
    pub lines: Vec<PriceLineFacts>,
    /// All lines together.
    pub cost: f64,
    /// What is added; absent where none is set.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gain: Option<GainFacts>,
    /// The price; absent while something is missing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub total: Option<f64>,
    /// Keys under `[kitchen]` that a price needs and that are not set.
    pub missing: Vec<&'static str>,
}

pub(super) fn schedule_facts(cake: &Cake, sheets: usize) -> Vec<StepFacts> {
    let stamp = |at: DateTime| format!("{}-00:00", at.strftime("%Y-%m-%dT%H:%M:%S"));
    let step = |step: Step| StepFacts {
        task: step.task,
        piece: step.of,
        start: stamp(step.start),
        end: stamp(step.end),
        kind: step.doing.word(),
    };
    schedule(cake, sheets).map_or_else(Vec::new, |plan| plan.steps.into_iter().map(step).collect())
}

pub(super) fn price_facts(cake: &Cake, sheets: usize) -> PriceFacts {
    let (pastes, minutes) = (pastes(cake), work_minutes(cake, sheets));
    let reckoned = price(&cake.design.kitchen, Effort { pastes: &pastes, sheets, minutes });
    let gain = |gain: Gain| match gain {
        Gain::Markup(percent) => GainFacts { kind: "markup", how: format!("{percent} % of the cost"), percent },
        Gain::Margin(percent) => GainFacts { kind: "margin", how: format!("{percent} % of the price"), percent },
    };
    PriceFacts {
        cost: reckoned.cost(),
        total: reckoned.total(),
        currency: reckoned.currency,
        gain: reckoned.gain.map(gain),
        missing: reckoned.missing,
        lines: reckoned
            .lines
            .into_iter()
            .map(|line| PriceLineFacts { what: line.what, how: line.how, amount: line.amount })
            .collect(),
    }
}

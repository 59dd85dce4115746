//! The plan against the calendar: a hand-over that is past, work that should have begun before it can, a cake that waits too
//! long. There is no clock here: the day is the design's `planned_on`, or the one the person named.

use jiff::civil::{Date, DateTime};

use crate::cake::Cake;
use crate::findings::{Code, Finding, Place};
use crate::kitchen::{Doing, Schedule, Step, schedule};

/// Sheets are no part of it: printing takes minutes.
const NO_SHEETS: usize = 0;

pub(super) fn check(cake: &Cake) -> Vec<Finding> {
    let Some(plan) = schedule(cake, NO_SHEETS) else { return Vec::new() };
    let mut findings: Vec<Finding> = waits(&plan).into_iter().collect();
    if let Some(today) = cake.design.order.planned_on {
        findings.extend(late(&plan, today));
    }
    findings
}

fn told(at: DateTime) -> String {
    at.strftime("%Y-%m-%d %H:%M").to_string()
}

/// What can't be done any more.
fn late(plan: &Schedule, today: Date) -> Vec<Finding> {
    let [opens, _] = plan.hours;
    let from = today.to_datetime(opens);
    if plan.handover <= from {
        let sentence = format!("the hand-over, {}, is over by {today}", told(plan.handover));
        let mend = "set the hand-over to a later day, or planned_on to the day on which work begins";
        return vec![Finding::new(Code::HandoverPast, "order", sentence, mend)];
    }
    let early: Vec<&Step> = plan.steps.iter().filter(|step| step.doing == Doing::Work && step.start < from).collect();
    let Some(first) = early.first() else { return Vec::new() };
    // Made, and then dry: what waits on drying is told by itself.
    let dries = |step: &&&Step| {
        step.task == "make"
            && plan
                .steps
                .iter()
                .any(|other| other.doing == Doing::Dry && other.of == step.of && other.start >= step.end)
    };
    let mut findings: Vec<Finding> = early.iter().filter(dries).map(|step| not_dry(step, today)).collect();
    let sentence = format!("the work has to begin on {}, before {today}", told(first.start));
    let mend = "a later hand-over, longer working hours, less to make, or pieces made by someone else";
    findings.push(Finding::new(Code::PlanTooLate, "order", sentence, mend));
    findings
}

fn not_dry(step: &Step, today: Date) -> Finding {
    let sentence = format!("to be dry in time it has to be made on {}, before {today}", told(step.start));
    let mend = "a later hand-over, a thinner piece that dries sooner, or one that needs no drying";
    Finding::new(Code::PieceNotDry, Place::piece(&step.of), sentence, mend)
}

/// A cake that is baked long before it is eaten.
fn waits(plan: &Schedule) -> Option<Finding> {
    let bakes = plan.bakes?;
    let waits = plan.handover.duration_since(bakes).as_hours();
    (waits > Schedule::keeps()).then(|| {
        let sentence = format!(
            "it is baked on {}, {waits} hours before the hand-over, which is long for a cake to wait",
            told(bakes)
        );
        let mend =
            "longer working hours, or fewer pieces made after baking; fillings that go off must stay in the cold";
        Finding::new(Code::CakeWaitsLong, "order", sentence, mend)
    })
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::art::Shelf;
    use crate::cake::resolve;
    use crate::design::read_design;

    fn codes(order: &str) -> Vec<(Code, String)> {
        let text = format!(
            "title = \"t\"\nunit = \"mm\"\n[order]\n{order}\n[[tier]]\nname = \"base\"\nsize = 200\nheight = 100\n\
             [[piece]]\nname = \"plate\"\nkind = \"plaque\"\nseat = {{ on = \"base\", surface = \"top\" }}\nsize = [50, 40]\n\
             thickness = 5\nfinish = \"white\"\ndry = \"72 h\"\n"
        );
        let cake = resolve(&Arc::new(read_design(&text, "cake.toml").unwrap()), &Arc::new(Shelf::default())).unwrap();
        check(&cake).into_iter().map(|finding| (finding.code, finding.place.to_string())).collect()
    }

    #[test]
    fn a_plan_is_judged_by_the_day_it_is_made() {
        let handover = "handover = \"2027-05-15T11:00\"";
        assert_eq!(codes(handover), []);
        assert_eq!(codes(&format!("{handover}\nplanned_on = \"2027-05-01\"")), []);
        let late = codes(&format!("{handover}\nplanned_on = \"2027-05-13\""));
        assert!(late.contains(&(Code::PieceNotDry, "piece 'plate'".into())), "{late:?}");
        assert!(late.iter().any(|(code, _)| *code == Code::PlanTooLate));
        assert_eq!(codes(&format!("{handover}\nplanned_on = \"2027-05-16\"")), [(Code::HandoverPast, "order".into())]);
        assert_eq!(codes(""), []);
    }
}

//! The plan: what to do when, backwards from the hand-over, within the person's working hours.
//!
//! In: the resolved cake and how many sheets are printed for it. Out: stretches of work and of drying in order of time; no plan
//! without a hand-over. `tasks` lists what is to be done, `times` says how long each takes, `backward` finds the hours.
//! Times are local, as the hand-over is.

mod backward;
mod tasks;
mod times;

use jiff::civil::{Date, DateTime, Time};
use jiff::{Span, ToSpan};

use self::backward::{DAY, Hours, Stretches, backward};
use self::tasks::{Task, Tasks};
use self::times::takes;
use crate::cake::Cake;

/// What is done in a stretch of the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doing {
    /// Work.
    Work,
    /// Something dries, firms, cools.
    Dry,
}

impl Doing {
    /// The word in lists: `work` or `dry`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Work => "work",
            Self::Dry => "dry",
        }
    }
}

/// A stretch of the plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// What is done, in words: `make`, `dries`.
    pub task: String,
    /// For which pieces or tier; empty for the whole cake.
    pub of: String,
    /// Local time.
    pub start: DateTime,
    /// Local time.
    pub end: DateTime,
    /// Work or drying.
    pub doing: Doing,
}

/// A whole plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Schedule {
    /// In order of their beginning.
    pub steps: Vec<Step>,
    /// Work of all steps, minutes.
    pub minutes: i64,
    /// First and last hour of a working day.
    pub hours: [Time; 2],
    /// When baking begins.
    pub bakes: Option<DateTime>,
    /// The hand-over.
    pub handover: DateTime,
}

impl Schedule {
    /// How long the cake may wait from baking to the hand-over, hours.
    #[must_use]
    pub fn keeps() -> i64 {
        takes("cake keeps").wait / 60
    }
}

/// Minutes of work that a cake takes, whenever it is done.
#[must_use]
pub fn work_minutes(cake: &Cake, sheets: usize) -> i64 {
    Tasks::of(cake, sheets).tasks.iter().map(|task| task.minutes).sum()
}

/// The plan of a cake with so many printed sheets; `None` without a hand-over.
#[must_use]
pub fn schedule(cake: &Cake, sheets: usize) -> Option<Schedule> {
    let handover = cake.design.order.handover?;
    let hours = working_hours(cake);
    let tasks = Tasks::of(cake, sheets).tasks;
    let deadline = i64::from(handover.hour()) * 60 + i64::from(handover.minute());
    let laid = backward(&tasks, deadline, hours);
    let mut steps = Vec::new();
    for (task, stretches) in tasks.iter().zip(&laid) {
        steps.extend(steps_of(task, stretches, handover.date()));
    }
    steps.sort_by(|a, b| (a.start, a.end, &a.task, &a.of).cmp(&(b.start, b.end, &b.task, &b.of)));
    let bakes = steps.iter().find(|step| step.task == "bake").map(|step| step.start);
    Some(Schedule {
        minutes: tasks.iter().map(|task| task.minutes).sum(),
        hours: [hours.from, hours.to].map(clock),
        steps,
        bakes,
        handover,
    })
}

fn working_hours(cake: &Cake) -> Hours {
    let minutes = |time: Time| i64::from(time.hour()) * 60 + i64::from(time.minute());
    let usual = Hours { from: takes("day begins").minutes, to: takes("day ends").minutes };
    cake.design.kitchen.working_hours.map_or(usual, |(from, to)| Hours { from: minutes(from), to: minutes(to) })
}

fn clock(minutes: i64) -> Time {
    let part = |value: i64| i8::try_from(value).unwrap_or(0);
    Time::new(part(minutes / 60), part(minutes % 60), 0, 0).unwrap_or(Time::midnight())
}

/// The steps of a task: its work, and what waits after it.
fn steps_of(task: &Task, stretches: &Stretches, day: Date) -> Vec<Step> {
    let step = |what: &str, (start, end): (i64, i64), doing: Doing| {
        let (start, end) = moment(day, start).zip(moment(day, end))?;
        Some(Step { task: what.to_owned(), of: task.of.clone(), start, end, doing })
    };
    let mut steps: Vec<Step> = stretches.iter().filter_map(|&stretch| step(&task.what, stretch, Doing::Work)).collect();
    let (waits, minutes) = task.wait;
    if let Some(&(_, end)) = stretches.last().filter(|_| minutes > 0) {
        steps.extend(step(waits, (end, end + minutes), Doing::Dry));
    }
    steps
}

/// So many minutes after the midnight that begins a day.
fn moment(day: Date, minutes: i64) -> Option<DateTime> {
    let days: Span = minutes.div_euclid(DAY).days();
    Some(day.checked_add(days).ok()?.to_datetime(clock(minutes.rem_euclid(DAY))))
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::art::Shelf;
    use crate::cake::resolve;
    use crate::design::read_design;

    const TEXT: &str = "title = \"t\"\nunit = \"mm\"\n[order]\nhandover = \"2027-03-28T11:00\"\n\
        [kitchen]\nworking_hours = [\"08:00\", \"16:00\"]\n\
        [[tier]]\nname = \"base\"\nsize = 200\nheight = 100\npaste = 3\n\
        [[piece]]\nname = \"plate\"\nkind = \"plaque\"\nseat = { on = \"base\", surface = \"top\" }\n\
        size = [50, 40]\nthickness = 5\nfinish = \"white\"\ndry = \"30 h\"\n";

    fn planned(text: &str) -> Option<Schedule> {
        let cake = resolve(&Arc::new(read_design(text, "cake.toml").unwrap()), &Arc::new(Shelf::default())).unwrap();
        schedule(&cake, 0)
    }

    #[test]
    fn everything_is_done_in_order_within_working_hours() {
        let plan = planned(TEXT).unwrap();
        let find =
            |task: &str, of: &str| plan.steps.iter().find(|step| (&*step.task, &*step.of) == (task, of)).unwrap();
        let order = ["bake", "fill and ice", "cover", "stand"].map(|task| find(task, "base").start);
        assert!(order.is_sorted(), "{plan:?}");
        let (make, dries, set) = (find("make", "plate"), find("dries", "plate"), find("set the pieces on", "base"));
        assert!(make.end == dries.start && dries.end <= set.start, "{plan:?}");
        assert_eq!(dries.end.duration_since(dries.start).as_hours(), 30);
        for step in plan.steps.iter().filter(|step| step.doing == Doing::Work) {
            assert!(step.start.hour() >= 8 && step.end.time() <= clock(16 * 60), "{step:?}");
            assert!(step.end <= plan.handover);
        }
        let mut work: Vec<_> = plan.steps.iter().filter(|step| step.doing == Doing::Work).collect();
        work.sort_by_key(|step| step.start);
        assert!(work.iter().zip(work.iter().skip(1)).all(|(one, next)| one.end <= next.start));
        assert_eq!(plan.bakes, Some(find("bake", "base").start));
    }

    #[test]
    fn without_a_hand_over_there_is_no_plan() {
        assert_eq!(planned(&TEXT.replace("handover", "# handover")), None);
    }
}

//! Planning backwards: every task as late as it may be, one at a time, within working hours.
//!
//! Time counts in minutes from the midnight before the hand-over; what comes before is negative. Of the tasks whose
//! followers all have their time, the one that may end last is laid next, in the latest gap that holds it; work longer
//! than a day is spread over days.

use super::tasks::Task;

/// Minutes of a day.
pub(super) const DAY: i64 = 24 * 60;
/// No plan reaches further back, days.
const FURTHEST: i64 = 3_650;

/// When a person works: from and to, minutes after midnight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Hours {
    pub from: i64,
    pub to: i64,
}

/// When a task is done: its stretches of work in order.
pub(super) type Stretches = Vec<(i64, i64)>;

/// When each task is done, so that everything is ready at `deadline`; in the order of the tasks.
pub(super) fn backward(tasks: &[Task], deadline: i64, hours: Hours) -> Vec<Stretches> {
    let mut day = Days { hours, busy: Vec::new() };
    let mut done: Vec<Option<Stretches>> = vec![None; tasks.len()];
    let mut open: Vec<usize> = vec![0; tasks.len()];
    let mut due: Vec<i64> = tasks.iter().map(|task| deadline - task.wait.1).collect();
    for &before in tasks.iter().flat_map(|task| &task.after) {
        if let Some(count) = open.get_mut(before) {
            *count += 1;
        }
    }
    while let Some(next) = latest(&done, &open, &due) {
        let (Some(task), Some(end)) = (tasks.get(next), due.get(next).copied()) else { break };
        let stretches = day.lay(task.minutes, end);
        let start = stretches.first().map_or(end, |(start, _)| *start);
        if let Some(slot) = done.get_mut(next) {
            *slot = Some(stretches);
        }
        for &before in &task.after {
            let wait = tasks.get(before).map_or(0, |before| before.wait.1);
            if let Some((due, open)) = due.get_mut(before).zip(open.get_mut(before)) {
                *due = (*due).min(start - wait);
                *open -= 1;
            }
        }
    }
    done.into_iter().map(Option::unwrap_or_default).collect()
}

/// The task that is due last, of those whose followers are all laid; of equal ones the later in the list.
fn latest(done: &[Option<Stretches>], open: &[usize], due: &[i64]) -> Option<usize> {
    let ready =
        (0..done.len()).filter(|&number| done.get(number).is_some_and(Option::is_none) && open.get(number) == Some(&0));
    ready.max_by_key(|&number| (due.get(number).copied(), number))
}

/// Which stretches are taken already, in order.
struct Days {
    hours: Hours,
    busy: Vec<(i64, i64)>,
}

impl Days {
    /// Takes the latest free stretch that ends by `end`; more than one where the work is longer than a day.
    fn lay(&mut self, minutes: i64, end: i64) -> Stretches {
        let whole = (self.hours.to - self.hours.from).max(1);
        let mut rest = minutes;
        let mut end = end;
        let mut stretches = Vec::new();
        while rest > 0 {
            let part = rest.min(whole);
            let Some(stretch) = self.gap(part, end) else { break };
            let place = self.busy.partition_point(|taken| *taken < stretch);
            self.busy.insert(place, stretch);
            stretches.push(stretch);
            (rest, end) = (rest - part, stretch.0);
        }
        stretches.reverse();
        stretches
    }

    fn gap(&self, minutes: i64, end: i64) -> Option<(i64, i64)> {
        let last = end.div_euclid(DAY);
        (0..FURTHEST).find_map(|back| {
            let midnight = (last - back) * DAY;
            let (from, mut to) = (midnight + self.hours.from, (midnight + self.hours.to).min(end));
            for &(start, stop) in self.busy.iter().rev() {
                if stop <= from || to - from < minutes {
                    break;
                }
                if to - stop.max(from) >= minutes {
                    break;
                }
                to = to.min(start);
            }
            (to - from >= minutes).then_some((to - minutes, to))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NINE_TO_FIVE: Hours = Hours { from: 9 * 60, to: 17 * 60 };

    fn task(minutes: i64, wait: i64, after: &[usize]) -> Task {
        Task { minutes, wait: ("dries", wait), after: after.to_vec(), ..Task::default() }
    }

    #[test]
    fn what_dries_two_days_is_made_two_days_before() {
        // Make 40 min, dries 48 h; set 5 min; ready by 11:00.
        let tasks = [task(40, 48 * 60, &[]), task(5, 0, &[0])];
        let plan = backward(&tasks, 11 * 60, NINE_TO_FIVE);
        assert_eq!(plan[1], [(655, 660)]);
        assert_eq!(plan[0], [(655 - 48 * 60 - 40, 655 - 48 * 60)]);
    }

    #[test]
    fn one_person_does_one_thing_at_a_time_and_goes_home_at_five() {
        let tasks = [task(300, 0, &[]), task(300, 0, &[]), task(60, 0, &[0, 1])];
        let plan = backward(&tasks, 12 * 60, NINE_TO_FIVE);
        assert_eq!(plan[2], [(660, 720)]);
        // Only two hours are left that morning, so each goes to a day before it.
        assert_eq!(plan[1], [(17 * 60 - 300 - DAY, 17 * 60 - DAY)]);
        assert_eq!(plan[0], [(17 * 60 - 300 - 2 * DAY, 17 * 60 - 2 * DAY)]);
    }

    #[test]
    fn work_longer_than_a_day_is_spread() {
        let plan = backward(&[task(600, 0, &[])], 17 * 60, NINE_TO_FIVE);
        assert_eq!(plan[0], [(17 * 60 - 120 - DAY, 17 * 60 - DAY), (9 * 60, 17 * 60)]);
    }

    #[test]
    fn short_work_fills_a_gap_that_long_work_left() {
        let tasks = [task(30, 0, &[]), task(420, 0, &[]), task(60, 0, &[0, 1])];
        let plan = backward(&tasks, 17 * 60, NINE_TO_FIVE);
        assert_eq!((plan[2].clone(), plan[1].clone()), (vec![(960, 1020)], vec![(540, 960)]));
        assert_eq!(plan[0], [(17 * 60 - 30 - DAY, 17 * 60 - DAY)]);
    }
}

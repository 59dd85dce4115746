//! A plan as an iCalendar file (RFC 5545): one event a step, in floating local time, as the hand-over is.
//!
//! Identifiers follow from the cake's title and the step, so that a plan read again moves its events instead of doubling them.
//! The stamp is the day the design gives, never the clock.

use std::collections::BTreeMap;
use std::fmt::Write;

use jiff::civil::{Date, DateTime};

use super::words::moment;
use crate::files::digest;
use crate::kitchen::{Doing, Schedule, Step};

/// Octets of a content line, its line end not counted (RFC 5545, 3.1).
const MOST_OCTETS: usize = 75;

/// What a calendar is made from.
#[derive(Clone, Copy, Debug)]
pub struct Calendar<'a> {
    /// The cake's title.
    pub title: &'a str,
    /// Of the design.
    pub revision: &'a str,
    /// What is put down.
    pub plan: &'a Schedule,
    /// The day it was planned.
    pub planned_on: Date,
}

/// The file.
#[must_use]
pub fn ics(calendar: &Calendar) -> Vec<u8> {
    let mut out = String::new();
    for line in
        ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Tierproof//Plan//EN", "CALSCALE:GREGORIAN", "METHOD:PUBLISH"]
    {
        fold(&mut out, line);
    }
    fold(&mut out, &format!("NAME:{}", escaped(calendar.title)));
    let mut seen: BTreeMap<String, u32> = BTreeMap::new();
    for step in &calendar.plan.steps {
        let key = format!("{}\n{}\n{}", calendar.title, step.task, step.of);
        let part = seen.entry(key.clone()).and_modify(|part| *part += 1).or_insert(0);
        event(&mut out, calendar, (step, &format!("{key}\n{part}")));
    }
    let handed = calendar.plan.handover;
    let hand_over = Step {
        task: "hand-over".to_owned(),
        of: calendar.title.to_owned(),
        start: handed,
        end: handed,
        doing: Doing::Work,
    };
    event(&mut out, calendar, (&hand_over, &format!("{}\nhand-over", calendar.title)));
    fold(&mut out, "END:VCALENDAR");
    out.into_bytes()
}

fn event(out: &mut String, calendar: &Calendar, (step, key): (&Step, &str)) {
    let uid: String = digest(key.as_bytes()).chars().take(32).collect();
    let what = if step.of.is_empty() { step.task.clone() } else { format!("{}: {}", step.task, step.of) };
    let told =
        format!("{} · revision {} · hand-over {}", calendar.title, calendar.revision, moment(calendar.plan.handover));
    let mut lines = vec![
        "BEGIN:VEVENT".to_owned(),
        format!("UID:{uid}@tierproof"),
        format!("DTSTAMP:{}T000000Z", calendar.planned_on.strftime("%Y%m%d")),
        format!("DTSTART:{}", stamp(step.start)),
    ];
    if step.end > step.start {
        lines.push(format!("DTEND:{}", stamp(step.end)));
    }
    lines.push(format!("SUMMARY:{}", escaped(&what)));
    lines.push(format!("DESCRIPTION:{}", escaped(&told)));
    lines.push(format!("CATEGORIES:{}", step.doing.word()));
    // What dries leaves the person free.
    lines.push(format!("TRANSP:{}", if step.doing == Doing::Dry { "TRANSPARENT" } else { "OPAQUE" }));
    lines.push("END:VEVENT".to_owned());
    for line in lines {
        fold(out, &line);
    }
}

/// A floating time: no zone, no `Z` (RFC 5545, 3.3.5, form 1).
fn stamp(at: DateTime) -> String {
    let (date, time) = (at.date(), at.time());
    let mut text = String::new();
    let _ = write!(
        text,
        "{:04}{:02}{:02}T{:02}{:02}{:02}",
        date.year(),
        date.month(),
        date.day(),
        time.hour(),
        time.minute(),
        time.second()
    );
    text
}

/// A TEXT value (RFC 5545, 3.3.11); what no text may hold becomes a space.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '\\' | ';' | ',' => {
                out.push('\\');
                out.push(character);
            }
            '\n' => out += "\\n",
            control if control.is_control() => out.push(' '),
            other => out.push(other),
        }
    }
    out
}

/// Adds a content line, folded between characters, with its line end.
fn fold(out: &mut String, line: &str) {
    let mut filled = 0;
    for character in line.chars() {
        let octets = character.len_utf8();
        if filled + octets > MOST_OCTETS {
            *out += "\r\n ";
            filled = 1;
        }
        out.push(character);
        filled += octets;
    }
    *out += "\r\n";
}

#[cfg(test)]
mod tests {
    use jiff::civil::{date, time};

    use super::*;

    fn plan(of: &str) -> Schedule {
        let start = date(2027, 5, 13).at(9, 0, 0, 0);
        let step = |task: &str, hours: i8, doing: Doing| Step {
            task: task.into(),
            of: of.into(),
            start,
            end: date(2027, 5, 13).at(9 + hours, 0, 0, 0),
            doing,
        };
        Schedule {
            steps: vec![step("make", 1, Doing::Work), step("make", 2, Doing::Work), step("dries", 4, Doing::Dry)],
            minutes: 180,
            hours: [time(9, 0, 0, 0), time(17, 0, 0, 0)],
            bakes: None,
            handover: date(2027, 5, 15).at(11, 0, 0, 0),
        }
    }

    fn made(title: &str, of: &str) -> String {
        let plan = plan(of);
        let calendar = Calendar { title, revision: "3fa9c1d0", plan: &plan, planned_on: date(2027, 5, 1) };
        String::from_utf8(ics(&calendar)).unwrap()
    }

    #[test]
    fn lines_are_folded_at_75_octets_between_characters() {
        let text = made("Hafenfest · größer, schöner; und mehr", &"Möwe und Leuchtturm, ".repeat(12));
        assert!(text.ends_with("END:VCALENDAR\r\n") && !text.replace("\r\n", "").contains(['\r', '\n']));
        assert!(text.split("\r\n").all(|line| line.len() <= 75));
        let whole = text.replace("\r\n ", "");
        assert!(whole.contains("NAME:Hafenfest · größer\\, schöner\\; und mehr\r\n"), "{whole}");
        assert!(whole.contains("DTSTART:20270513T090000\r\n") && whole.contains("DTSTAMP:20270501T000000Z\r\n"));
    }

    #[test]
    fn every_event_has_its_own_lasting_identifier() {
        let uids = |text: &str| -> Vec<String> {
            text.split("\r\n").filter(|line| line.starts_with("UID:")).map(str::to_owned).collect()
        };
        let (once, again) = (uids(&made("t", "flag")), uids(&made("t", "flag")));
        assert_eq!(once, again);
        let mut distinct = once.clone();
        distinct.sort();
        distinct.dedup();
        assert_eq!((once.len(), distinct.len()), (4, 4));
    }
}

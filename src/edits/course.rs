//! Edits of a course.

use super::Refusal;
use super::edit::CourseName;
use super::names::{free_among, put, tier_mut};
use crate::design::Design;
use crate::design::model::{Course, CourseHeight, CourseKind, SeamPlace, Wrap};
use crate::measure::Length;

/// Pins closer together than this are one seam.
const SAME_SEAM: Length = Length::mm(0.5);

/// An edit of a course.
#[derive(Clone, Debug, PartialEq)]
pub enum CourseEdit {
    /// What it is, with all its sizes.
    Set(Box<CourseKind>),
    /// How high it is; for ropes and pearls their diameter.
    Height(CourseHeight),
    /// Its finish; of a wrap, that of the paste beneath.
    Finish(String),
    /// The art of a wrap: a path in the design's folder.
    Art(String),
    /// Where the ends of a rope, a band or a row of pearls meet.
    Seam(SeamPlace),
    /// Fixes a seam of a wrap at a place on the tape.
    Pin(Length),
    /// Moves a seam of a wrap along the course, and fixes it there: from, to.
    MoveSeam(Length, Length),
    /// Lets a fixed seam of a wrap go; the planner moves it back.
    Unpin(Length),
    /// Another name.
    Rename(String),
    /// Keeps it as it is, or lets it go.
    Lock(bool),
    /// Its place among the courses of its tier, from the foot up.
    Order(usize),
    /// A copy right above it.
    Duplicate,
    /// Left and right exchanged.
    Mirror,
    /// Takes it away.
    Delete,
}

pub(super) fn carry_out(design: &mut Design, name: &CourseName, edit: &CourseEdit) -> Result<(), Refusal> {
    let tier = tier_mut(design, &name.tier)?;
    let place = tier.courses.iter().position(|course| course.name == name.course);
    let missing = || Refusal::missing("course", &name.course);
    let place = place.ok_or_else(missing)?;
    let course = tier.courses.get_mut(place).ok_or_else(missing)?;
    if course.locked && !matches!(edit, CourseEdit::Lock(_) | CourseEdit::Order(_) | CourseEdit::Duplicate) {
        return Err(Refusal::locked("course", &name.course));
    }
    match edit {
        CourseEdit::Set(kind) => course.kind = (**kind).clone(),
        CourseEdit::Height(height) => set_height(&mut course.kind, *height)?,
        CourseEdit::Finish(finish) => set_finish(&mut course.kind, finish)?,
        CourseEdit::Art(path) => path.clone_into(&mut wrap(course)?.art),
        CourseEdit::Seam(seam) => set_seam(&mut course.kind, *seam)?,
        CourseEdit::Pin(at) => pin(wrap(course)?, *at),
        CourseEdit::MoveSeam(from, to) => {
            let wrap = wrap(course)?;
            unpin(wrap, *from);
            pin(wrap, *to);
        }
        CourseEdit::Unpin(at) => unpin(wrap(course)?, *at),
        CourseEdit::Rename(to) => to.clone_into(&mut course.name),
        CourseEdit::Lock(locked) => course.locked = *locked,
        CourseEdit::Order(to) => put(&mut tier.courses, place, *to),
        CourseEdit::Duplicate => {
            let copy = course.clone();
            let taken: Vec<&str> = tier.courses.iter().map(|course| course.name.as_str()).collect();
            let name = free_among(&taken, &name.course);
            tier.courses.insert(place + 1, Course { name, locked: false, ..copy });
        }
        CourseEdit::Mirror => mirrored_course(&mut course.kind),
        CourseEdit::Delete => {
            tier.courses.remove(place);
        }
    }
    Ok(())
}

fn wrap(course: &mut Course) -> Result<&mut Wrap, Refusal> {
    match &mut course.kind {
        CourseKind::Wrap(wrap) => Ok(wrap),
        _ => {
            let sentence = format!("the course “{}” is no wrap", course.name);
            Err(Refusal::senseless(sentence, "choose a wrap, or make this course one"))
        }
    }
}

fn set_height(kind: &mut CourseKind, to: CourseHeight) -> Result<(), Refusal> {
    match (kind, to) {
        (CourseKind::Rope { diameter, .. } | CourseKind::Pearls { diameter, .. }, CourseHeight::Fixed(to)) => {
            *diameter = to;
        }
        (CourseKind::Rope { .. } | CourseKind::Pearls { .. }, CourseHeight::Fill { .. }) => {
            return Err(Refusal::senseless("a rope is as high as it is thick", "give it a diameter"));
        }
        (CourseKind::Band { height, .. } | CourseKind::Bare { height }, to) => *height = to,
        (CourseKind::Wrap(wrap), to) => wrap.height = to,
    }
    Ok(())
}

fn set_finish(kind: &mut CourseKind, to: &str) -> Result<(), Refusal> {
    let finish = match kind {
        CourseKind::Rope { finish, .. } | CourseKind::Pearls { finish, .. } | CourseKind::Band { finish, .. } => {
            Some(finish)
        }
        CourseKind::Wrap(wrap) => wrap.under.as_mut().map(|under| &mut under.finish),
        CourseKind::Bare { .. } => None,
    };
    let none = || Refusal::senseless("nothing of this course is made of paste", "give the tier another finish");
    to.clone_into(finish.ok_or_else(none)?);
    Ok(())
}

fn set_seam(kind: &mut CourseKind, to: SeamPlace) -> Result<(), Refusal> {
    match kind {
        CourseKind::Rope { seam, .. } | CourseKind::Pearls { seam, .. } | CourseKind::Band { seam, .. } => {
            *seam = to;
            Ok(())
        }
        CourseKind::Wrap(_) | CourseKind::Bare { .. } => {
            Err(Refusal::senseless("this course has no two ends that meet", "pin the seams of a wrap one by one"))
        }
    }
}

fn pin(wrap: &mut Wrap, at: Length) {
    unpin(wrap, at);
    wrap.pins.push(at);
    wrap.pins.sort_by(|a, b| a.as_mm().total_cmp(&b.as_mm()));
}

fn unpin(wrap: &mut Wrap, at: Length) {
    wrap.pins.retain(|pin| (*pin - at).abs() > SAME_SEAM);
}

/// Left and right exchanged: whatever has a place along the tape goes to the other side of front centre.
pub(super) fn mirrored_course(kind: &mut CourseKind) {
    match kind {
        CourseKind::Rope { seam, .. } | CourseKind::Pearls { seam, .. } | CourseKind::Band { seam, .. } => {
            if let SeamPlace::Along(along) = seam {
                *along = -*along;
            }
        }
        CourseKind::Wrap(wrap) => {
            wrap.focus_along = -wrap.focus_along;
            wrap.stretch = wrap.stretch.map(|(from, to)| (-to, -from));
            wrap.pins = wrap.pins.iter().rev().map(|pin| -*pin).collect();
            if let Some(free) = &mut wrap.join_free {
                free.centre = -free.centre;
            }
        }
        CourseKind::Bare { .. } => {}
    }
}

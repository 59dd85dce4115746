//! The cards of a course and of a seam.

use egui::Ui;

use super::blanks;
use super::rows::Rows;
use super::{named, title, wish};
use crate::design::model::{Course, CourseKind, SeamPlace};
use crate::design::{Design, blanks_of, filled_in_course, shape_of_course};
use crate::edits::choose::Thing;
use crate::edits::{CourseEdit, CourseName, Edit};
use crate::measure::{Length, show_length, tape_words};
use crate::panels::signs::muted;
use crate::panels::{ForArt, Look, Memo, Wish};
use crate::wraps::exposure_words;

pub(super) fn course(ui: &mut Ui, (look, memo): (&Look<'_>, &mut Memo), name: &CourseName, wishes: &mut Vec<Wish>) {
    let Some(course) = find(look.bench.design(), name) else { return };
    title(ui, &name.course, &format!("{} on “{}”", course.kind.word(), name.tier));
    let rename = |to| Edit::Course(name.clone(), CourseEdit::Rename(to));
    named::rename(ui, (look, &mut memo.fields), (&name.course, &rename), wishes);
    facts(ui, look, name);
    let Some(shape) = shape_of_course() else { return };
    let table = blanks_of(course);
    let of = format!("course {} of {}", name.course, name.tier);
    let mut rows = Rows::new(look.bench.design(), &mut memo.fields, of);
    let change = blanks::table(ui, &mut rows, (shape, &table), &|field| !["name", "locked"].contains(&field.key));
    if rows.wants_art {
        memo.dialogs.choose_picture(ForArt::Course(name.clone()));
    }
    if let Some(change) = change {
        let edit = |table| {
            let kind = filled_in_course(table)?.kind;
            Some(Edit::Course(name.clone(), CourseEdit::Set(Box::new(kind))))
        };
        wish((look.bench.settled(), &mut memo.fields), change, edit, wishes);
    }
    seams(ui, look, name, wishes);
}

fn find<'a>(design: &'a Design, name: &CourseName) -> Option<&'a Course> {
    let tier = design.tiers.iter().find(|tier| tier.name == name.tier)?;
    tier.courses.iter().find(|course| course.name == name.course)
}

/// Where it lies and how long it is cut.
fn facts(ui: &mut Ui, look: &Look<'_>, name: &CourseName) {
    let unit = look.bench.design().unit;
    let says = |mm: f64| show_length(Length::mm(mm), unit);
    let tier = look.bench.cake().tier(&name.tier);
    let Some(laid) = tier.and_then(|tier| tier.courses.iter().find(|course| course.name == name.course)) else {
        return;
    };
    let (from, to, length) = (says(laid.bottom), says(laid.top), show_length(laid.length, unit));
    muted(ui, format!("From {from} to {to} above the tier’s foot; cut {length} long"));
    if let Some(plan) = look.bench.plan_of(name) {
        let strips: Vec<String> = plan.strips.iter().map(|strip| says(strip.width)).collect();
        let many = if strips.len() == 1 { "strip" } else { "strips" };
        muted(
            ui,
            format!("Printed in {} {many}, {} high: {} wide", strips.len(), says(plan.height), strips.join(", ")),
        );
        if let Some(ppi) = plan.ppi {
            muted(ui, format!("{ppi:.0} pixels to the inch"));
        }
    }
}

/// The seams of a wrap, each with its place and how well it is hidden; a click chooses it.
fn seams(ui: &mut Ui, look: &Look<'_>, name: &CourseName, wishes: &mut Vec<Wish>) {
    let Some((plan, around)) = look.bench.plan_of(name).zip(around(look, name)) else { return };
    if !plan.seams.is_empty() {
        crate::panels::signs::heading(ui, "Seams");
    }
    for (number, seam) in plan.seams.iter().enumerate() {
        let place = tape_words(seam.along, around, look.bench.design().unit);
        let seen = exposure_words(seam.exposure, seam.along, around);
        let pinned = if seam.pinned { ", pinned" } else { "" };
        if ui.link(format!("Seam {}: {place}; {seen}{pinned}", number + 1)).clicked() {
            wishes.push(Wish::Choose(Some(Thing::Seam(name.clone(), Length::mm(seam.along)))));
        }
    }
}

fn around(look: &Look<'_>, name: &CourseName) -> Option<f64> {
    look.bench.cake().tier(&name.tier).map(|tier| tier.outline.perimeter())
}

pub(super) fn seam(ui: &mut Ui, look: &Look<'_>, (name, along): (&CourseName, Length), wishes: &mut Vec<Wish>) {
    let design = look.bench.design();
    let Some((course, around)) = find(design, name).zip(around(look, name)) else { return };
    title(ui, "Seam", &format!("of “{}”, {}", name.course, tape_words(along.as_mm(), around, design.unit)));
    let seam = look
        .bench
        .plan_of(name)
        .and_then(|plan| plan.seams.iter().find(|seam| (seam.along - along.as_mm()).abs() < 0.6));
    if let Some(seam) = seam {
        let seen = exposure_words(seam.exposure, seam.along, around);
        muted(ui, format!("How it shows: {seen}, in {:.0} % of the customer’s sight lines", seam.exposure * 100.0));
    }
    let edit = |edit| Wish::Edit(Edit::Course(name.clone(), edit));
    let (words, hint, change) = match &course.kind {
        CourseKind::Wrap(_) if seam.is_some_and(|seam| seam.pinned) => {
            ("Let it go", "It goes back to where it shows least", CourseEdit::Unpin(along))
        }
        CourseKind::Wrap(_) => ("Pin it here", "It stays here whatever else changes", CourseEdit::Pin(along)),
        _ => ("To the back", "Where the customer sees it least", CourseEdit::Seam(SeamPlace::Back)),
    };
    if ui.button(words).on_hover_text(hint).clicked() {
        wishes.push(edit(change));
    }
    muted(ui, "Drag it on the tape or on the cake to move it; where you drop it, it is pinned.");
    if ui.link(format!("The whole of “{}”", name.course)).clicked() {
        wishes.push(Wish::Choose(Some(Thing::Course(name.clone()))));
    }
}

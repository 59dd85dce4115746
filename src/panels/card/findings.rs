//! What the checks say of what is chosen, each with its mend; where there is one mend, as a button.

use egui::{RichText, Ui};

use crate::edits::choose::Thing;
use crate::edits::mend;
use crate::findings::Finding;
use crate::panels::signs::{heading, ink, muted, sign};
use crate::panels::theme::palette;
use crate::panels::{Look, Wish};

pub(super) fn findings(ui: &mut Ui, look: &Look<'_>, chosen: Option<&Thing>, wishes: &mut Vec<Wish>) {
    let design = look.bench.design();
    if let Some(trouble) = look.bench.trouble() {
        crate::panels::signs::complaint(ui, &trouble.to_string());
    }
    let Some(work) = look.bench.work() else { return };
    let about = |finding: &&Finding| about(Thing::of_place(design, &finding.place).as_ref(), chosen);
    let found: Vec<&Finding> = work.findings.iter().filter(about).collect();
    if found.is_empty() {
        return;
    }
    heading(ui, "Findings");
    if look.bench.is_behind() {
        muted(ui, "being looked at again…");
    }
    for finding in found {
        one(ui, look, finding, wishes);
    }
}

/// A finding of a tier's course is shown with the tier too, and one of a course with its seams.
fn about(of: Option<&Thing>, chosen: Option<&Thing>) -> bool {
    match (of, chosen) {
        (Some(Thing::Course(of)), Some(Thing::Seam(chosen, _))) => of == chosen,
        (Some(Thing::Course(of)), Some(Thing::Tier(chosen))) => of.tier == *chosen,
        // What is no part of the cake is told with the whole design.
        (of, chosen) => of == chosen,
    }
}

fn one(ui: &mut Ui, look: &Look<'_>, finding: &Finding, wishes: &mut Vec<Wish>) {
    let colour = ink(finding.severity, palette(ui));
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(format!("{} {}", sign(finding.severity), finding.severity.word())).color(colour));
        muted(ui, finding.code.word());
    });
    ui.label(&finding.sentence);
    muted(ui, format!("Mend: {}", finding.mend));
    if let Some(mend) = mend::mend(look.bench, finding)
        && ui.button(&mend.words).clicked()
    {
        wishes.push(Wish::Edit(mend.edit));
    }
}

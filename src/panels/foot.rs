//! The foot: overall size, portions, findings (a click goes there), packs being made, saved or not, revision.

use egui::{RichText, ScrollArea, Ui};

use super::signs::{button, ink, muted, sign};
use super::theme::palette;
use super::{Look, Memo, Wish};
use crate::edits::choose::Thing;
use crate::edits::journal::State;
use crate::findings::{Finding, Severity};
use crate::measure::{Length, show_length};

/// Shows the foot.
pub fn foot(ui: &mut Ui, look: &Look<'_>, memo: &mut Memo) -> Vec<Wish> {
    let mut wishes = Vec::new();
    ui.horizontal_wrapped(|ui| {
        sizes(ui, look);
        counts(ui, (look, memo));
        making(ui, look, &mut wishes);
        saved(ui, look, &mut wishes);
    });
    if memo.findings_open {
        list(ui, look, memo, &mut wishes);
    }
    wishes
}

fn sizes(ui: &mut Ui, look: &Look<'_>) {
    let Some(work) = look.bench.work() else {
        muted(ui, "working it out…");
        return;
    };
    let says = |mm: f64| show_length(Length::mm(mm), look.bench.design().unit);
    let whole = &work.facts.overall;
    let size = format!("{} × {} × {}", says(whole.width), says(whole.depth), says(whole.height));
    ui.label(size).on_hover_text("Width, depth and height, board included");
    ui.label(format!("about {:.1} kg", whole.mass / 1000.0)).on_hover_text("Without the board");
    let served = work.facts.servings.ordered;
    let wanted = look.bench.design().order.portions.map(|wanted| format!(" of {wanted} wanted")).unwrap_or_default();
    ui.label(format!("{served} portions{wanted}"));
    if look.bench.is_behind() {
        muted(ui, "working out the rest…");
    }
    ui.separator();
}

/// How many findings there are of each severity; opens their list.
fn counts(ui: &mut Ui, (look, memo): (&Look<'_>, &mut Memo)) {
    let Some(work) = look.bench.work() else { return };
    let count = |severity| work.findings.iter().filter(|finding| finding.severity == severity).count();
    let counts = [Severity::Stop, Severity::Warn, Severity::Note].map(|severity| (severity, count(severity)));
    let words: Vec<String> = counts
        .iter()
        .filter(|(_, count)| *count > 0)
        .map(|(severity, count)| format!("{} {count} {}", sign(*severity), severity.word()))
        .collect();
    let words = if words.is_empty() { "nothing found".to_owned() } else { words.join("  ") };
    let gravest = counts.iter().find(|(_, count)| *count > 0).map(|(severity, _)| *severity);
    let colour = gravest.map_or(palette(ui).ink, |severity| ink(severity, palette(ui)));
    let toggle = ui.selectable_label(memo.findings_open, RichText::new(words).color(colour));
    super::typing::name(ui, &toggle, "Findings");
    if toggle.on_hover_text("Show what the checks say (F8 goes from one to the next)").clicked() {
        memo.findings_open = !memo.findings_open;
    }
}

fn list(ui: &mut Ui, look: &Look<'_>, memo: &mut Memo, wishes: &mut Vec<Wish>) {
    let Some(work) = look.bench.work() else { return };
    ui.separator();
    let most = ui.text_style_height(&egui::TextStyle::Body) * 9.0;
    ScrollArea::vertical().id_salt("findings").max_height(most).auto_shrink([false, true]).show(ui, |ui| {
        for (number, finding) in work.findings.iter().enumerate() {
            line(ui, (look, memo), (number, finding), wishes);
        }
        for caution in &work.facts.cautions {
            muted(ui, format!("Mind: {}", caution.text));
        }
        muted(ui, "Where local food rules say more or otherwise, they hold.");
    });
}

fn line(
    ui: &mut Ui,
    (look, memo): (&Look<'_>, &mut Memo),
    (number, finding): (usize, &Finding),
    wishes: &mut Vec<Wish>,
) {
    let thing = Thing::of_place(look.bench.design(), &finding.place);
    let colour = ink(finding.severity, palette(ui));
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(sign(finding.severity)).color(colour)).on_hover_text(finding.severity.word());
        let words = format!("{}: {}", finding.place, finding.sentence);
        let is_told = memo.told == Some(number);
        if ui.selectable_label(is_told, words).on_hover_text(format!("Mend: {}", finding.mend)).clicked() {
            memo.told = Some(number);
            wishes.extend(thing.map(Wish::GoTo));
        }
    });
}

/// Goes to the next finding that is about a part of the cake.
pub(super) fn next_finding(look: &Look<'_>, memo: &mut Memo) -> Option<Wish> {
    let findings = &look.bench.work()?.findings;
    let from = memo.told.map_or(0, |told| told + 1);
    let mut order = (0..findings.len()).map(|step| (from + step) % findings.len().max(1));
    let (number, thing) = order.find_map(|number| {
        let thing = Thing::of_place(look.bench.design(), &findings.get(number)?.place)?;
        Some((number, thing))
    })?;
    memo.told = Some(number);
    memo.findings_open = true;
    Some(Wish::GoTo(thing))
}

fn making(ui: &mut Ui, look: &Look<'_>, wishes: &mut Vec<Wish>) {
    let Some(making) = look.making else { return };
    ui.separator();
    let width = ui.spacing().slider_width;
    let words = format!("{}: {}", making.pack.word(), making.words);
    ui.add(egui::ProgressBar::new(making.share.clamp(0.0, 1.0)).desired_width(width));
    ui.label(words);
    if button(ui, "Stop", &format!("Stop making the {}", making.pack.word().to_lowercase())).clicked() {
        wishes.push(Wish::StopMaking);
    }
}

/// How the design stands with its file, and its revision.
fn saved(ui: &mut Ui, look: &Look<'_>, wishes: &mut Vec<Wish>) {
    ui.separator();
    let palette = palette(ui);
    let (words, colour, mend) = match look.desk.state {
        State::Saved => ("saved".to_owned(), palette.muted, String::new()),
        State::Unsaved => ("to be saved in a moment".to_owned(), palette.muted, String::new()),
        State::Troubled(trouble) => {
            (format!("✖ not saved: {}", trouble.sentence), palette.stop, trouble.mend.to_owned())
        }
        State::Conflict => ("✖ changed elsewhere".to_owned(), palette.stop, String::new()),
        State::ReadOnly(trouble) => {
            (format!("only to look at: {}", trouble.sentence), palette.warn, trouble.mend.to_owned())
        }
    };
    let label = ui.label(RichText::new(words).color(colour));
    if !mend.is_empty() {
        label.on_hover_text(mend);
    }
    if matches!(look.desk.state, State::Unsaved | State::Troubled(_)) && ui.small_button("Save now").clicked() {
        wishes.push(Wish::Save);
    }
    if let Some(work) = look.bench.work() {
        muted(ui, format!("revision {}", work.facts.revision));
        if let Some(approval) = &work.facts.approval {
            let stands = if approval.stands { "approved" } else { "▲ changed since it was approved" };
            muted(ui, stands).on_hover_text(approval.sentence());
        }
    }
}

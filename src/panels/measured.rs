//! *Measured it?*: what the tape reads on the iced cake, and before it counts, what it changes.

use egui::{Grid, Id, ScrollArea, Ui, Window};

use super::signs::{complaint, heading, muted};
use super::{Look, Memo, Wish};
use crate::cake::resolve;
use crate::design::model::{Measured, Tier};
use crate::edits::measured::{Changes, Planned, changes};
use crate::edits::{Edit, TierEdit, apply};
use crate::measure::{Length, Unit, read_length, show_length, write_length};

/// The form while it is open.
#[derive(Clone, Debug)]
pub(super) struct Measuring {
    tier: String,
    /// What was read round, across, up.
    texts: [String; 3],
    /// What it would change, and for which readings that was worked out.
    changes: Option<(Measured, Result<Changes, String>)>,
}

const ROWS: [(&str, &str); 3] = [
    ("Once round the side", "The surest reading: it overrides what was read across"),
    ("Across", "As the pan’s size is meant; corner to corner for hexagons and octagons"),
    ("Height", "From the board or the tier below to the top"),
];

impl Measuring {
    pub fn of(tier: &Tier, unit: Unit) -> Self {
        let text = |length: Option<Length>| length.map(|length| write_length(length, unit)).unwrap_or_default();
        let measured = tier.measured;
        let texts = [text(measured.around), text(measured.across), text(measured.height)];
        Self { tier: tier.name.clone(), texts, changes: None }
    }

    /// What is typed; for each row that can't be read, why.
    fn read(&self, unit: Unit) -> [Result<Option<Length>, String>; 3] {
        self.texts.each_ref().map(|text| {
            if text.trim().is_empty() {
                return Ok(None);
            }
            let length = read_length(text, unit).map_err(|error| error.to_string())?;
            if length > Length::ZERO { Ok(Some(length)) } else { Err("a tape reads more than nothing".to_owned()) }
        })
    }
}

/// Shows the form, while it is open.
pub fn measured(ui: &mut Ui, look: &Look<'_>, memo: &mut Memo) -> Vec<Wish> {
    let Some(mut form) = memo.measuring.take() else { return Vec::new() };
    let (mut open, mut done) = (true, false);
    let mut wishes = Vec::new();
    let title = format!("Measured “{}”", form.tier);
    Window::new(title).id(Id::new("measured")).open(&mut open).collapsible(false).resizable(true).show(
        ui.ctx(),
        |ui| {
            done = inside(ui, look, &mut form, &mut wishes);
        },
    );
    let is_there = look.bench.design().tiers.iter().any(|tier| tier.name == form.tier);
    let escaped = ui.input(|input| input.key_pressed(egui::Key::Escape)) && !ui.ctx().text_edit_focused();
    if open && !done && is_there && !escaped {
        memo.measuring = Some(form);
    }
    wishes
}

fn inside(ui: &mut Ui, look: &Look<'_>, form: &mut Measuring, wishes: &mut Vec<Wish>) -> bool {
    let unit = look.bench.design().unit;
    muted(ui, "Leave empty what was not measured. Pieces that are anchored to this tier follow.");
    rows(ui, look, form);
    let read = form.read(unit);
    let wrong = read.iter().any(Result::is_err);
    let [around, across, height] = read.map(|read| read.ok().flatten());
    let to = Measured { around, across, height };
    if !wrong && form.changes.as_ref().is_none_or(|(of, _)| *of != to) {
        form.changes = Some((to, what_changes(look, &form.tier, to)));
    }
    let fits = show_changes(ui, form);
    let mut done = false;
    ui.horizontal(|ui| {
        let take = ui.add_enabled(!wrong && fits, egui::Button::new("Take these readings"));
        if take.clicked() {
            wishes.push(Wish::Edit(Edit::tier(&form.tier, TierEdit::Measured(to))));
            done = true;
        }
        done |= ui.button("Leave it").clicked();
    });
    done
}

fn rows(ui: &mut Ui, look: &Look<'_>, form: &mut Measuring) {
    let unit = look.bench.design().unit;
    let cake = look.bench.cake();
    let planned = cake.tier(&form.tier).map(|tier| [tier.around(), tier.across(), tier.height]);
    let read = form.read(unit);
    Grid::new("readings").num_columns(3).show(ui, |ui| {
        for (number, (label, meaning)) in ROWS.iter().enumerate() {
            let Some(text) = form.texts.get_mut(number) else { continue };
            ui.label(*label).on_hover_text(*meaning);
            let response = ui.text_edit_singleline(text);
            super::typing::name(ui, &response, label);
            let now = planned.and_then(|planned| planned.get(number).copied());
            muted(ui, now.map(|now| format!("now {}", show_length(now, unit))).unwrap_or_default());
            ui.end_row();
            if let Some(Err(wrong)) = read.get(number) {
                ui.label("");
                complaint(ui, wrong);
                ui.end_row();
            }
        }
    });
}

/// What the readings would change: both cakes resolved, and their wraps planned, before anything counts.
fn what_changes(look: &Look<'_>, tier: &str, to: Measured) -> Result<Changes, String> {
    let before = look.bench.cake();
    let design = apply(look.bench.settled(), &Edit::tier(tier, TierEdit::Measured(to)));
    let design = design.map_err(|refusal| super::words::refused(&refusal))?;
    let after = resolve(&design.into(), look.bench.shelf()).map_err(|error| error.to_string())?;
    let (plans, _) = crate::wraps::plan(&after);
    let old = Planned { cake: before, plans: look.bench.plans() };
    Ok(changes(old, Planned { cake: &after, plans: &plans }))
}

/// The list of what changes; whether the readings can be taken.
fn show_changes(ui: &mut Ui, form: &Measuring) -> bool {
    let Some((_, found)) = &form.changes else { return false };
    let found = match found {
        Ok(found) => found,
        Err(wrong) => {
            complaint(ui, wrong);
            return false;
        }
    };
    if found.sizes.is_empty() {
        muted(ui, "Nothing changes size.");
        return true;
    }
    let most = ui.text_style_height(&egui::TextStyle::Body) * 14.0;
    ScrollArea::vertical().id_salt("changes").max_height(most).show(ui, |ui| {
        heading(ui, if found.reprints.is_empty() { "Nothing is printed again" } else { "To be printed again" });
        for reprint in &found.reprints {
            ui.label(format!("{}: {}", reprint.what, reprint.why));
        }
        if !found.recuts.is_empty() {
            heading(ui, "To be cut or made again");
        }
        for recut in &found.recuts {
            ui.label(format!("{}: {}", recut.what, recut.why));
        }
        heading(ui, "Before → after");
        for change in &found.sizes {
            ui.label(&change.words);
        }
    });
    true
}

//! The card of a tier.

use egui::Ui;

use super::blanks;
use super::rows::Rows;
use super::{named, title, wish};
use crate::design::model::Tier;
use crate::design::{blanks_of, filled_in, shape_of};
use crate::edits::{Edit, TierEdit};
use crate::measure::show_length;
use crate::panels::signs::muted;
use crate::panels::{Look, Memo, Wish};

/// Keys that the stack, the measured form and the courses' own cards change.
const ELSEWHERE: [&str; 4] = ["name", "measured", "course", "locked"];

pub(super) fn tier(ui: &mut Ui, (look, memo): (&Look<'_>, &mut Memo), name: &str, wishes: &mut Vec<Wish>) {
    let design = look.bench.settled();
    let Some(tier) = look.bench.design().tiers.iter().find(|tier| tier.name == name) else { return };
    title(ui, name, tier.shape.word());
    named::rename(ui, (look, &mut memo.fields), (name, &|to| Edit::tier(name, TierEdit::Rename(to))), wishes);
    if let Some(found) = look.bench.cake().tier(name) {
        let unit = design.unit;
        let [across, around, high] =
            [found.across(), found.around(), found.height].map(|length| show_length(length, unit));
        muted(ui, format!("Finished: {across} across, {around} round, {high} high"));
    }
    if ui.button("Measured it?").on_hover_text("Type what the tape reads on the iced cake").clicked() {
        memo.measuring = Some(crate::panels::measured::Measuring::of(tier, design.unit));
    }
    let Some(shape) = shape_of("tier") else { return };
    let table = blanks_of(tier);
    let mut rows = Rows::new(look.bench.design(), &mut memo.fields, format!("tier {name}"));
    let is_petal = tier.shape.word() == "petal";
    let shown = |field: &crate::design::Field| !ELSEWHERE.contains(&field.key) && (field.key != "petals" || is_petal);
    let change = blanks::table(ui, &mut rows, (shape, &table), &shown);
    if let Some(change) = change {
        let edit = |table| Some(Edit::tier(name, TierEdit::Set(Box::new(filled_in::<Tier>(table)?))));
        wish((design, &mut memo.fields), change, edit, wishes);
    }
}

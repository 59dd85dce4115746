//! What the first page of every list begins with: the cake's name, and whether the customer has approved something else.

use glam::DVec2;

use super::KitchenInput;
use crate::packs::pdf::{ACCENT, Flow, Style};
use crate::packs::words::shortened;

/// Letters of a title that fit on a line.
const MOST_LETTERS: usize = 40;

/// Sets it.
pub(super) fn set(flow: &mut Flow, input: &KitchenInput) {
    let at = flow.rest();
    let name = Style::TITLE.line(&shortened(&input.facts.title, MOST_LETTERS));
    flow.page().text(DVec2::new(at.x, at.y + Style::TITLE.rise()), name, Style::TITLE.colour);
    flow.space(Style::TITLE.step());
    if let Some(approval) = input.facts.approval.as_ref().filter(|approval| !approval.stands) {
        flow.paragraph(&approval.sentence(), Style::STRONG.coloured(ACCENT));
    }
}

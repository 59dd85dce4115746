//! A page for plain paper, at the end of the sheets: the rules and the words that a full sheet has no room for.

use glam::DVec2;

use super::lie::{Hand, Lie};
use super::{legend, words};
use crate::packs::kitchen_pack::KitchenInput;
use crate::packs::pdf::{Facing, MARGIN, Page, Style, break_lines, paper_of, paper_size};
use crate::sheets::LEGEND;

/// The page, where a sheet lacks something.
pub(super) fn page(input: &KitchenInput, hand: Hand) -> Option<Page> {
    let lacking = lacking(input, hand);
    if lacking.is_empty() {
        return None;
    }
    let mut page = Page::new(paper_size(paper_of(&input.cake.design)));
    let mut y = MARGIN;
    let mut line = |page: &mut Page, text: &str, style: Style| {
        for words in break_lines(text, style, page.size[0] - 2.0 * MARGIN) {
            page.text(DVec2::new(MARGIN, y + style.rise()), words, style.colour);
            y += style.step();
        }
        y
    };
    line(&mut page, "For plain paper: check this page before printing on sheets", Style::HEADING);
    line(&mut page, &words::title(input), Style::LABEL);
    let text = "These sheets have no room for a rule or for some words beside their prints. Print this page at actual size on \
                plain paper, with the same printer and the same settings, and lay a ruler against it.";
    let below = line(&mut page, text, Style::BODY);
    let lie = Lie { at: DVec2::new(MARGIN, below), size: LEGEND, facing: Facing::Up, hand: Hand::Right };
    legend::rules(&mut page, &lie);
    for _ in 0..4 {
        line(&mut page, " ", Style::BODY);
    }
    let most = ((page.size[1] - 2.0 * MARGIN) / Style::BODY.step()) as usize - 14;
    for text in lacking.iter().take(most) {
        line(&mut page, text, Style::BODY);
    }
    Some(page)
}

/// What sheets have no room for, in words.
fn lacking(input: &KitchenInput, hand: Hand) -> Vec<String> {
    let mut lacking = Vec::new();
    for (number, sheet) in input.sheets.sheets.iter().enumerate() {
        if sheet.legend.is_none() {
            lacking.push(format!("{}: no rule on it", words::sheet(input, number)));
        }
        for placed in sheet.placed.iter().filter(|placed| placed.label.is_none()) {
            let Some(print) = input.sheets.prints.get(placed.print) else { continue };
            let Some(said) = words::beside(print, input.cake.design.unit, hand).into_iter().next() else { continue };
            let lie = Lie::of(sheet, placed, hand);
            let turned = match lie.facing {
                Facing::Up => "",
                Facing::Right => "turned, its upper edge at the right; ",
                Facing::Left => "turned, its upper edge at the left; ",
            };
            let ends = [said.left, said.right].into_iter().flatten().collect::<Vec<_>>().join(", ");
            let place = format!("{:.0} mm from the left, {:.0} mm from the top", lie.at.x, lie.at.y);
            let name = said.middle.replace("   ↑ up   ", ", ");
            lacking.push(format!("sheet {}: {name}; {turned}{place}; {ends}", number + 1));
        }
    }
    lacking
}

//! `measure`: every size, strip, seam, mass and count, for a person or for a program.

use std::fmt::Write;

use super::load::load;
use super::output::{say, say_json};
use super::work::{code, work};
use super::{Asked, CommandError};
use crate::measure::{Length, Unit, show_length};
use crate::proof::facts::{Facts, SheetFacts, TierFacts, WrapFacts};

pub(super) fn run(asked: &Asked) -> Result<u8, CommandError> {
    let loaded = load(&asked.design.path)?.on(&asked.today);
    let work = work(&loaded)?;
    if asked.json {
        say_json(&work.facts)?;
    } else {
        say(&listing(&work.facts, loaded.design.unit))?;
    }
    Ok(code(&work))
}

/// The measurements as a person reads them, in the design's unit.
fn listing(facts: &Facts, unit: Unit) -> String {
    let says = |mm: f64| show_length(Length::mm(mm), unit);
    let mut text = format!("{}  (revision {})\n", facts.title, facts.revision);
    text += &facts.approval.as_ref().map(|approval| approval.sentence() + "\n").unwrap_or_default();
    for tier in &facts.tiers {
        text += &tier_lines(tier, unit);
    }
    for wrap in &facts.wraps {
        text += &wrap_lines(wrap, unit);
    }
    for sheet in &facts.sheets {
        text += &sheet_lines(sheet, unit);
    }
    text += "\npieces\n";
    for piece in &facts.pieces {
        let size = [piece.size.width, piece.size.height, piece.size.depth].map(says).join(" × ");
        let _ = writeln!(text, "  {} ({}): {size}, {:.0} g", piece.name, piece.kind, piece.mass);
    }
    text += "\npastes\n";
    for paste in &facts.pastes {
        let _ = writeln!(
            text,
            "  {} {}: {:.0} g on the cake, mix {:.0} g",
            paste.name, paste.color, paste.on_cake, paste.mass
        );
    }
    text += &standing_lines(facts, unit);
    let overall = [facts.overall.width, facts.overall.depth, facts.overall.height].map(says).join(" × ");
    let _ = writeln!(text, "\nboard {} across, {} needed", says(facts.board.across), says(facts.board.needed));
    let _ = writeln!(text, "overall {overall}, board included; about {:.1} kg without it", facts.overall.mass / 1000.0);
    let carton =
        [facts.overall.carton.width, facts.overall.carton.depth, facts.overall.carton.height].map(says).join(" × ");
    let _ = writeln!(text, "a box for it: {carton} inside");
    let served = facts.servings;
    let _ = write!(text, "portions {} as ordered, {} party, {} wedding", served.ordered, served.party, served.wedding);
    text
}

/// Dowels under the tiers, and every stick to cut.
fn standing_lines(facts: &Facts, unit: Unit) -> String {
    let says = |mm: f64| show_length(Length::mm(mm), unit);
    let mut text = String::new();
    for support in &facts.supports {
        let _ = writeln!(
            text,
            "\ndowels under {}: {} of {} × {} in {}, on a line {} across (books: {} to {}), {:.1} kg on them",
            support.under,
            support.count,
            says(support.diameter),
            says(support.length),
            support.stands_in,
            says(support.circle),
            support.books[0],
            support.books[1],
            support.load / 1000.0
        );
    }
    if !facts.sticks.is_empty() {
        text += "\nsticks to cut\n";
    }
    for sticks in &facts.sticks {
        let _ =
            writeln!(text, "  {} {}: {} × {}", sticks.count, sticks.what, says(sticks.diameter), says(sticks.length));
    }
    text
}

fn tier_lines(tier: &TierFacts, unit: Unit) -> String {
    let says = |mm: f64| show_length(Length::mm(mm), unit);
    let size = &tier.finished;
    let mut text = format!(
        "\ntier {} ({}): {} across, {} high, {} round\n",
        tier.name,
        tier.shape,
        says(size.across),
        says(size.height),
        says(size.around)
    );
    for course in tier.courses.iter().rev() {
        let (bottom, top, length) = (says(course.bottom), says(course.top), says(course.length));
        let _ = writeln!(text, "  {} ({}): {bottom} to {top}, {length} long", course.name, course.kind);
    }
    text
}

fn sheet_lines(sheet: &SheetFacts, unit: Unit) -> String {
    let says = |mm: f64| show_length(Length::mm(mm), unit);
    let mut text = format!("\nsheet {} ({}), {:.0} % used\n", sheet.sheet, sheet.size, sheet.used * 100.0);
    for placed in &sheet.placed {
        let turned = if placed.turned { ", turned" } else { "" };
        let _ = writeln!(text, "  {}: {} × {}{turned}", placed.what, says(placed.width), says(placed.height));
    }
    text
}

fn wrap_lines(wrap: &WrapFacts, unit: Unit) -> String {
    let says = |mm: f64| show_length(Length::mm(mm), unit);
    let mut text =
        format!("\nwrap {} · {}: {} long, {} high\n", wrap.tier, wrap.course, says(wrap.length), says(wrap.height));
    if let Some(repeat) = wrap.repeat {
        let _ = write!(text, "  {} repeats at {:.1} % of the asked width", repeat.count, repeat.scale * 100.0);
        if repeat.shift != 0.0 {
            let side = if repeat.shift > 0.0 { "right" } else { "left" };
            let _ = write!(text, ", moved {} to the {side}", says(repeat.shift.abs()));
        }
        text.push('\n');
    }
    for (number, strip) in wrap.strips.iter().enumerate() {
        let _ = write!(text, "  strip {}: {} × {}", number + 1, says(strip.width), says(strip.height));
        if let Some(ppi) = strip.ppi {
            let _ = write!(text, ", {ppi:.0} pixels to the inch");
        }
        text.push('\n');
    }
    for seam in &wrap.seams {
        let pinned = if seam.pinned { ", pinned" } else { "" };
        let shows = seam.mismatch.map(|mismatch| format!(", the art differs by {mismatch:.1} ΔE00 across it"));
        let seen = seam.exposure * 100.0;
        let _ = writeln!(text, "  seam at {}, {seen:.0} % seen{pinned}{}", says(seam.along), shows.unwrap_or_default());
    }
    if let Some(under) = wrap.under {
        let _ = write!(text, "  paste beneath: {} × {}", says(under.length), says(under.height));
        text.push_str(&under.seam.map(|along| format!(", joined at {}", says(along))).unwrap_or_default());
        text.push('\n');
    }
    text
}

//! One line of the stack: its sign, its name, what can be done with it; dragged, a course goes to another place up its side.

use egui::{Key, Modifiers, RichText, Sense, Ui, vec2};

use super::order::{Kind, Line};
use crate::edits::choose::Thing;
use crate::edits::{Copy, CourseEdit, Edit, PieceEdit, TierEdit};
use crate::findings::Severity;
use crate::panels::signs::{ink, muted_line, sign};
use crate::panels::theme::{palette, strong};
use crate::panels::typing::name;
use crate::panels::{Look, Memo, Wish};

/// A long name takes this share of its line: what is found about it must be seen too.
const MOST_NAME: f32 = 0.8;

/// Height of a line.
pub(super) fn height(ui: &Ui) -> f32 {
    ui.spacing().interact_size.y
}

pub(super) fn row(
    ui: &mut Ui,
    (look, memo): (&Look<'_>, &mut Memo),
    (line, lines): (&Line, &[Line]),
    wishes: &mut Vec<Wish>,
) {
    let chosen = look.bench.chosen() == Some(&line.thing);
    let palette = palette(ui);
    let inner = ui.horizontal(|ui| {
        ui.set_height(height(ui));
        ui.add_space(line.depth as f32 * ui.spacing().indent);
        let words = RichText::new(&line.name).color(if is_hidden(line) { palette.muted } else { palette.ink });
        let words = match line.kind {
            Kind::Tier { .. } | Kind::Board => {
                words.font(egui::FontId::new(ui.text_style_height(&egui::TextStyle::Body) * 0.8, strong()))
            }
            _ if is_hidden(line) => words.strikethrough(),
            _ => words,
        };
        let label = ui.scope(|ui| {
            ui.set_max_width(ui.available_width() * MOST_NAME);
            ui.add(egui::Button::selectable(chosen, words).sense(Sense::click_and_drag()).truncate())
        });
        name(ui, &label.inner, &heard(line));
        if let Some(severity) = gravest(look, &line.thing) {
            ui.label(RichText::new(sign(severity)).color(ink(severity, palette))).on_hover_text(severity.word());
        }
        muted_line(ui, if line.locked { format!("{}, locked", line.kind.word()) } else { line.kind.word().to_owned() });
        label.inner
    });
    let label = inner.inner;
    if label.clicked() {
        wishes.push(Wish::Choose(Some(line.thing.clone())));
    }
    if label.double_clicked() {
        wishes.push(Wish::GoTo(line.thing.clone()));
    }
    label.context_menu(|ui| menu(ui, (line, lines), wishes));
    drag(ui, (&label, memo), (line, lines), wishes);
}

fn is_hidden(line: &Line) -> bool {
    matches!(line.kind, Kind::Piece { hidden: true, .. })
}

/// What those hear who don't see: `bow, bow, hidden`.
fn heard(line: &Line) -> String {
    let hidden = if is_hidden(line) { ", hidden" } else { "" };
    let locked = if line.locked { ", locked" } else { "" };
    format!("{}, {}{hidden}{locked}", line.name, line.kind.word())
}

/// The gravest finding about a thing.
fn gravest(look: &Look<'_>, thing: &Thing) -> Option<Severity> {
    look.bench.severity_of(thing)
}

/// What can be done with a line; each has a key too.
fn menu(ui: &mut Ui, (line, lines): (&Line, &[Line]), wishes: &mut Vec<Wish>) {
    let mut offer = |ui: &mut Ui, words: &str, key: &str, wish: Option<Wish>| {
        if let Some(wish) = wish
            && ui.add(egui::Button::new(words).shortcut_text(key)).clicked()
        {
            wishes.push(wish);
            ui.close();
        }
    };
    let edit = |act| act_on(line, act).map(Wish::Edit);
    offer(ui, "Look at it", "Enter", Some(Wish::GoTo(line.thing.clone())));
    offer(ui, "Up", "Alt+↑", reorder(line, lines, Way::Up));
    offer(ui, "Down", "Alt+↓", reorder(line, lines, Way::Down));
    offer(ui, "Copy", "Ctrl+D", edit(Act::Duplicate));
    offer(ui, "Copy to the other side", "Ctrl+Shift+D", edit(Act::Twin));
    offer(ui, "Mirror", "Ctrl+M", edit(Act::Mirror));
    offer(ui, if is_hidden(line) { "Show" } else { "Hide" }, "H", edit(Act::Hide));
    offer(ui, if line.locked { "Unlock" } else { "Lock" }, "L", edit(Act::Lock));
    offer(ui, "Delete", "Del", edit(Act::Delete));
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Act {
    Duplicate,
    Twin,
    Mirror,
    Hide,
    Lock,
    Delete,
}

fn act_on(line: &Line, act: Act) -> Option<Edit> {
    match &line.thing {
        Thing::Board | Thing::Seam(..) => None,
        Thing::Piece(piece) => Some(Edit::piece(
            piece,
            match act {
                Act::Duplicate => PieceEdit::Duplicate(Copy::Beside),
                Act::Twin => PieceEdit::Duplicate(Copy::Mirrored),
                Act::Mirror => PieceEdit::Mirror,
                Act::Hide => PieceEdit::Hide(!is_hidden(line)),
                Act::Lock => PieceEdit::Lock(!line.locked),
                Act::Delete => PieceEdit::Delete,
            },
        )),
        Thing::Tier(tier) => Some(Edit::tier(
            tier,
            match act {
                Act::Duplicate => TierEdit::Duplicate,
                Act::Mirror => TierEdit::Mirror,
                Act::Lock => TierEdit::Lock(!line.locked),
                Act::Delete => TierEdit::Delete,
                Act::Twin | Act::Hide => return None,
            },
        )),
        Thing::Course(course) => Some(Edit::Course(
            course.clone(),
            match act {
                Act::Duplicate => CourseEdit::Duplicate,
                Act::Mirror => CourseEdit::Mirror,
                Act::Lock => CourseEdit::Lock(!line.locked),
                Act::Delete => CourseEdit::Delete,
                Act::Twin | Act::Hide => return None,
            },
        )),
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    Up,
    Down,
}

/// Another place for a line: a course up or down its side, a tier among the tiers.
fn reorder(line: &Line, lines: &[Line], way: Way) -> Option<Wish> {
    let to = |own: usize, last: usize| match way {
        Way::Up => (own < last).then_some(own + 1),
        Way::Down => own.checked_sub(1),
    };
    match (&line.thing, &line.kind) {
        (Thing::Course(course), Kind::Course { number, .. }) => {
            let of_tier = |other: &&Line| matches!(&other.thing, Thing::Course(name) if name.tier == course.tier);
            let to = to(*number, lines.iter().filter(of_tier).count().saturating_sub(1))?;
            Some(Wish::Edit(Edit::Course(course.clone(), CourseEdit::Order(to))))
        }
        (Thing::Tier(tier), Kind::Tier { number, .. }) => {
            let tiers = lines.iter().filter(|line| matches!(line.kind, Kind::Tier { .. })).count();
            let to = to(*number, tiers.saturating_sub(1))?;
            Some(Wish::Edit(Edit::tier(tier, TierEdit::Order(to))))
        }
        _ => None,
    }
}

/// A course that is dragged goes to the place of the course it is dropped on.
fn drag(
    ui: &mut Ui,
    (label, memo): (&egui::Response, &mut Memo),
    (line, lines): (&Line, &[Line]),
    wishes: &mut Vec<Wish>,
) {
    if matches!(line.kind, Kind::Course { .. }) && label.drag_started() {
        memo.dragged = Some(line.thing.clone());
    }
    let over = ui.rect_contains_pointer(label.rect.expand2(vec2(f32::INFINITY, 0.0)).intersect(ui.clip_rect()));
    let (Some(Thing::Course(dragged)), true) = (memo.dragged.clone(), over) else { return };
    let Thing::Course(target) = &line.thing else { return };
    let Kind::Course { number, .. } = line.kind else { return };
    if dragged.tier != target.tier || !lines.iter().any(|line| line.thing == Thing::Course(dragged.clone())) {
        return;
    }
    let accent = palette(ui).accent;
    ui.painter().hline(label.rect.x_range(), label.rect.top(), (2.0, accent));
    if ui.input(|input| input.pointer.any_released()) {
        memo.dragged = None;
        if dragged != *target {
            wishes.push(Wish::Edit(Edit::Course(dragged, CourseEdit::Order(number))));
        }
    }
}

/// Keys for what is chosen, while nobody types.
pub(super) fn keys(ui: &Ui, look: &Look<'_>, lines: &[Line], wishes: &mut Vec<Wish>) {
    if ui.ctx().text_edit_focused() {
        return;
    }
    let place = lines.iter().position(|line| look.bench.chosen() == Some(&line.thing));
    let pressed = |modifiers: Modifiers, key: Key| ui.input_mut(|input| input.consume_key(modifiers, key));
    if let Some(line) = place.and_then(|place| lines.get(place)) {
        for (way, key) in [(Way::Up, Key::ArrowUp), (Way::Down, Key::ArrowDown)] {
            if pressed(Modifiers::ALT, key) {
                wishes.extend(reorder(line, lines, way));
            }
        }
        let keys = [
            (Modifiers::COMMAND | Modifiers::SHIFT, Key::D, Act::Twin),
            (Modifiers::COMMAND, Key::D, Act::Duplicate),
            (Modifiers::COMMAND, Key::M, Act::Mirror),
            (Modifiers::NONE, Key::H, Act::Hide),
            (Modifiers::NONE, Key::L, Act::Lock),
            (Modifiers::NONE, Key::Delete, Act::Delete),
        ];
        for (modifiers, key, act) in keys {
            if pressed(modifiers, key) {
                wishes.extend(act_on(line, act).map(Wish::Edit));
            }
        }
    }
    for (step, key) in [(-1_isize, Key::PageUp), (1, Key::PageDown)] {
        if pressed(Modifiers::NONE, key) {
            let from = place.map_or(if step > 0 { -1 } else { lines.len() as isize }, |place| place as isize);
            let to = usize::try_from(from + step).ok().and_then(|to| lines.get(to));
            wishes.extend(to.map(|line| Wish::Choose(Some(line.thing.clone()))));
        }
    }
}

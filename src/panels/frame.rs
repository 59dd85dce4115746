//! The panels in their places round the cake.

use egui::containers::panel::PanelState;
use egui::{Area, Context, Frame, Id, Key, Modifiers, Panel, Rect, Ui, UiBuilder};

use super::theme::palette;
use super::{Entrance, Look, Memo, Wish, bar, card, foot, keys, measured, stack, start, tape, theme, told};
use crate::edits::choose::Thing;
use crate::edits::snap::{Direction, nudge, nudge_step, ruler_step};
use crate::panels::words;

/// The panels whose size a hand can change.
const STACK: &str = "stack";
const CARD: &str = "card";
const TAPE: &str = "tape";

/// A window that has so many letters more is of another kind.
const MUCH: f32 = 12.0;

/// What became of a frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// What the person asks for, in order.
    pub wishes: Vec<Wish>,
    /// The part of the window that is left to the cake, points.
    pub cake: Rect,
}

/// Shows the editor's panels over a whole context: for a window that keeps one.
pub fn editor_over(context: &Context, look: &Look<'_>, memo: &mut Memo) -> Shown {
    let mut ui = root(context);
    editor(&mut ui, look, memo)
}

/// Shows the start page over a whole context.
pub fn start_over(context: &Context, entrance: &Entrance<'_>, memo: &mut Memo) -> Vec<Wish> {
    let mut ui = root(context);
    start::start(&mut ui, entrance, memo)
}

fn root(context: &Context) -> Ui {
    let builder = UiBuilder::new().max_rect(context.content_rect());
    Ui::new(context.clone(), Id::new("tierproof"), builder)
}

/// Shows the editor's panels; the middle is left free.
pub fn editor(ui: &mut Ui, look: &Look<'_>, memo: &mut Memo) -> Shown {
    if !theme::follow(ui.ctx(), look.settings) {
        return Shown { wishes: Vec::new(), cake: Rect::NOTHING };
    }
    let letter = ui.text_style_height(&egui::TextStyle::Body);
    let whole = ui.available_size();
    fit_anew(ui, whole / letter);
    let side = |letters: f32, share: f32| (letter * letters).min(whole.x * share);
    let panel = |ui: &Ui| Frame::new().fill(palette(ui).paper).inner_margin(letter * 0.45);
    let mut wishes = shortcuts(ui, look, memo);
    let frame = panel(ui);
    Panel::top("bar").frame(frame).show(ui, |ui| wishes.extend(bar::bar(ui, look, memo)));
    Panel::bottom("foot").frame(frame).show(ui, |ui| wishes.extend(foot::foot(ui, look, memo)));
    Panel::left(STACK)
        .frame(frame)
        .default_size(side(16.0, 0.24))
        .max_size(whole.x * 0.4)
        .show(ui, |ui| wishes.extend(stack::stack(ui, look, memo)));
    Panel::right(CARD)
        .frame(frame)
        .default_size(side(21.0, 0.31))
        .max_size(whole.x * 0.45)
        .show(ui, |ui| wishes.extend(card::card(ui, look, memo)));
    let high = ui.available_height();
    Panel::bottom(TAPE)
        .frame(frame)
        .resizable(true)
        .default_size((letter * 15.0).min(high * 0.4))
        .max_size(high * 0.6)
        .show(ui, |ui| wishes.extend(tape::tape(ui, look, memo)));
    let cake = ui.available_rect_before_wrap();
    if told::has_something(look) {
        // Over the cake, no larger than it must be: what it leaves free is the cake's.
        let area = Area::new(Id::new("told")).fixed_pos(cake.min + egui::Vec2::splat(letter * 0.5));
        area.show(ui.ctx(), |ui| {
            ui.set_max_width((cake.width() - letter).max(letter * 8.0));
            wishes.extend(told::told(ui, look));
        });
    }
    wishes.extend(measured::measured(ui, look, memo));
    wishes.extend(memo.dialogs.show(ui));
    keys::keys(ui, memo);
    Shown { wishes, cake }
}

/// In a window of quite another size, or with quite other letters, panels are as wide and high as they are at first; what was
/// drawn out by hand holds until then.
fn fit_anew(ui: &Ui, letters: egui::Vec2) {
    let now = [letters.x, letters.y].map(|letters| (letters / MUCH) as u32);
    ui.data_mut(|data| {
        let was = std::mem::replace(data.get_temp_mut_or_default(Id::new("kind of window")), now);
        if was != now {
            [STACK, CARD, TAPE].into_iter().for_each(|panel| data.remove::<PanelState>(Id::new(panel)));
        }
    });
}

/// Keys that mean the same wherever the pointer is, while nobody types and nothing asks.
fn shortcuts(ui: &Ui, look: &Look<'_>, memo: &mut Memo) -> Vec<Wish> {
    let mut wishes = Vec::new();
    let pressed = |modifiers: Modifiers, key: Key| ui.input_mut(|input| input.consume_key(modifiers, key));
    if memo.is_asking() {
        return wishes;
    }
    if pressed(Modifiers::COMMAND, Key::S) {
        wishes.push(Wish::Save);
    }
    if pressed(Modifiers::NONE, Key::F8) {
        wishes.extend(foot::next_finding(look, memo));
    }
    if ui.ctx().text_edit_focused() {
        return wishes;
    }
    if pressed(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z) || pressed(Modifiers::COMMAND, Key::Y) {
        wishes.push(Wish::Redo);
    }
    if pressed(Modifiers::COMMAND, Key::Z) {
        wishes.push(Wish::Undo);
    }
    if pressed(Modifiers::COMMAND, Key::O) {
        memo.dialogs.open_design();
    }
    for (key, name, _) in words::VIEW_KEYS {
        let keys = Key::from_name(&key.to_string()).filter(|key| pressed(Modifiers::NONE, *key));
        wishes.extend(keys.and_then(|_| words::view(name)).map(Wish::View));
    }
    let has_focus = ui.memory(|memory| memory.focused().is_some());
    if let Some(thing) = look.bench.chosen() {
        // A button that is focused takes Enter itself.
        if !has_focus && pressed(Modifiers::NONE, Key::Enter) {
            wishes.push(Wish::GoTo(thing.clone()));
        }
        if !has_focus {
            wishes.extend(nudged(look, thing, &pressed));
        }
    }
    // An open menu takes Escape itself, and what is under way is given up by whoever holds it.
    let is_free = !egui::Popup::is_any_open(ui.ctx()) && !look.bench.history().is_held() && !memo.is_dragging();
    if is_free && pressed(Modifiers::NONE, Key::Escape) {
        wishes.push(Wish::Choose(None));
    }
    wishes
}

/// Arrow keys move what is chosen.
fn nudged(look: &Look<'_>, thing: &Thing, pressed: &dyn Fn(Modifiers, Key) -> bool) -> Option<Wish> {
    let Thing::Piece(name) = thing else { return None };
    let design = look.bench.design();
    let ways = [
        (Key::ArrowLeft, Direction::Left),
        (Key::ArrowRight, Direction::Right),
        (Key::ArrowUp, Direction::Up),
        (Key::ArrowDown, Direction::Down),
    ];
    let steps = [(Modifiers::SHIFT, ruler_step(design.unit)), (Modifiers::NONE, nudge_step(design.unit))];
    for (modifiers, step) in steps {
        for (key, direction) in ways {
            if pressed(modifiers, key) {
                return nudge(design, name, (direction, step)).map(Wish::Edit);
            }
        }
    }
    None
}

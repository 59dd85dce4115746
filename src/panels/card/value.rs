//! One value of a card, by what it may be.

use egui::{ComboBox, Ui};

use super::blanks::{self, Act, Change};
use super::rows::Rows;
use crate::art::Colour;
use crate::design::{Field, Kind, Names, Need, TextForm, Value, as_typed, typed};
use crate::panels::signs::{button, patch, small};
use crate::panels::typing::{Blank, Typed, name};
use crate::panels::words;

/// Shows a value, and gives what it is to be instead.
pub(super) fn one(
    ui: &mut Ui,
    rows: &mut Rows<'_>,
    (kind, field): (&Kind, &Field),
    value: Option<&Value>,
) -> Option<Change> {
    let is_extra = matches!(field.need, Need::Optional);
    match kind {
        Kind::Truth => truth(ui, rows, value),
        Kind::Word(words) => word(ui, rows, words, (value, is_extra)),
        Kind::Name(names) => named(ui, rows, *names, (value, is_extra)),
        Kind::Text(TextForm::Path) => path(ui, rows, (value, is_extra)),
        Kind::Text(TextForm::Colour) => colour(ui, rows, (kind, field.meaning), value),
        Kind::Lengths(bound) => pair(ui, rows, [&Kind::Length(*bound); 2], (value, field.meaning)),
        Kind::Stretch => pair(ui, rows, [&STRETCH; 2], (value, field.meaning)),
        Kind::Size => match value {
            Some(Value::List(_)) => pair(ui, rows, [&SIZE; 2], (value, field.meaning)),
            _ => text(ui, rows, (&SIZE, field.meaning), (value, is_extra)),
        },
        Kind::Either(words, Kind::Lengths(bound)) => words_or_pair(ui, rows, (words, *bound), (value, field.meaning)),
        Kind::Pair(one, other) => pair(ui, rows, [one, other], (value, field.meaning)),
        Kind::Table(_) | Kind::Tables(..) | Kind::ByName(_) | Kind::List(..) => None,
        Kind::Length(_) | Kind::Either(..) | Kind::Text(_) | Kind::Count(..) => {
            text(ui, rows, (kind, field.meaning), (value, is_extra))
        }
        Kind::Number(..) | Kind::Angle | Kind::Hours => text(ui, rows, (kind, field.meaning), (value, is_extra)),
    }
}

const SIZE: Kind = Kind::Length(crate::design::Bound::Above);
const STRETCH: Kind = Kind::Length(crate::design::Bound::Any);

/// A value that is typed. Empty means nothing is given, where that may be.
fn text(
    ui: &mut Ui,
    rows: &mut Rows<'_>,
    (kind, meaning): (&Kind, &str),
    (value, is_extra): (Option<&Value>, bool),
) -> Option<Change> {
    let id = rows.id("text");
    let shown = value.map(|value| as_typed(kind, value, rows.unit())).unwrap_or_default();
    let letters = match kind {
        Kind::Text(_) => 22.0,
        Kind::Count(..) => 4.0,
        _ => 9.0,
    };
    let name = rows.name();
    let lines = if matches!(kind, Kind::Text(TextForm::Lines)) { 3 } else { 1 };
    let ghost = if is_extra { words::NONE_GIVEN } else { "" };
    let blank = Blank { name: &name, value: &shown, meaning, letters, ghost, lines };
    let typed = rows.fields.line(ui, id, blank);
    match typed {
        Typed::Still => None,
        Typed::Left => Some(Change { act: Act::Kept, value: value.cloned() }),
        Typed::GivenUp => Some(Change { act: Act::GivenUp, value: value.cloned() }),
        Typed::Says(said) if is_extra && said.trim().is_empty() => Some(Change { act: Act::Typing(id), value: None }),
        Typed::Says(said) => match self::typed(kind, &said, rows.unit()) {
            Ok(value) => Some(Change { act: Act::Typing(id), value: Some(value) }),
            Err(wrong) => {
                rows.fields.mark(id, Some(wrong));
                None
            }
        },
    }
}

/// One of some words, or two lengths of the person's own.
fn words_or_pair(
    ui: &mut Ui,
    rows: &mut Rows<'_>,
    (choices, bound): (&[&'static str], crate::design::Bound),
    (value, meaning): (Option<&Value>, &str),
) -> Option<Change> {
    let is_own = matches!(value, Some(Value::List(_)));
    let now = if is_own { words::OWN } else { value.and_then(text_of).unwrap_or_default() };
    let all: Vec<String> = choices.iter().copied().chain([words::OWN]).map(str::to_owned).collect();
    let chosen = combo(ui, rows, (&all, false), (now, &mut |_: &mut Ui, _: &str| {}));
    let own = || Change::now(rows.first_of(&Kind::Lengths(bound)));
    match chosen {
        Some(change) if change.value.as_ref().and_then(text_of) == Some(words::OWN) => Some(own()),
        Some(change) => Some(change),
        None if is_own => pair(ui, rows, [&Kind::Length(bound); 2], (value, meaning)),
        None => None,
    }
}

fn truth(ui: &mut Ui, rows: &Rows<'_>, value: Option<&Value>) -> Option<Change> {
    let mut truth = value == Some(&Value::Truth(true));
    let response = ui.checkbox(&mut truth, "");
    name(ui, &response, &rows.name());
    response.changed().then(|| Change::now(Value::Truth(truth)))
}

fn word(
    ui: &mut Ui,
    rows: &Rows<'_>,
    choices: &[&'static str],
    (value, is_extra): (Option<&Value>, bool),
) -> Option<Change> {
    let now = value.and_then(text_of).unwrap_or_default();
    let choices: Vec<String> = choices.iter().map(|word| (*word).to_owned()).collect();
    combo(
        ui,
        rows,
        (&choices, is_extra),
        (now, &mut |ui: &mut Ui, word: &str| {
            ui.label(words::word(word));
        }),
    )
}

fn named(ui: &mut Ui, rows: &Rows<'_>, names: Names, (value, is_extra): (Option<&Value>, bool)) -> Option<Change> {
    let now = value.and_then(text_of).unwrap_or_default();
    let design = rows.design;
    if names == Names::Finish && !now.is_empty() {
        patch(ui, design.finish(now).colour);
    }
    let mut before = |ui: &mut Ui, name: &str| {
        if names == Names::Finish {
            patch(ui, design.finish(name).colour);
        }
    };
    combo(ui, rows, (&rows.choices(names), is_extra), (now, &mut before))
}

/// Draws what stands before a name in a list.
type Before<'a> = &'a mut dyn FnMut(&mut Ui, &str);

/// A list to choose one of; what is shown before each name is drawn by `before`.
fn combo(
    ui: &mut Ui,
    rows: &Rows<'_>,
    (choices, is_extra): (&[String], bool),
    (now, before): (&str, Before<'_>),
) -> Option<Change> {
    let face = if now.is_empty() { words::NONE_GIVEN.to_owned() } else { words::word(now).to_owned() };
    let mut change = None;
    let shown = ComboBox::from_id_salt(rows.id("choice")).selected_text(face).height(320.0).show_ui(ui, |ui| {
        if is_extra && ui.selectable_label(now.is_empty(), words::NONE_GIVEN).clicked() {
            change = Some(Change::now(None));
        }
        for choice in choices {
            ui.horizontal(|ui| {
                let is_word = words::word(choice) != choice.as_str();
                if !is_word {
                    before(ui, choice);
                }
                if ui.selectable_label(choice == now, words::word(choice)).clicked() {
                    change = Some(Change::now(Value::Text(choice.clone())));
                }
            });
        }
    });
    name(ui, &shown.response, &rows.name());
    change
}

fn path(ui: &mut Ui, rows: &mut Rows<'_>, (value, is_extra): (Option<&Value>, bool)) -> Option<Change> {
    let now = value.and_then(text_of).unwrap_or_default();
    ui.label(if now.is_empty() { words::NO_PICTURE } else { now });
    let label = format!("Choose a picture for {}", rows.name().to_lowercase());
    if button(ui, "Choose…", &label).clicked() {
        rows.wants_art = true;
    }
    let removed = is_extra && !now.is_empty() && small(ui, "✖", "Without a picture").clicked();
    removed.then(|| Change::now(None))
}

fn colour(ui: &mut Ui, rows: &mut Rows<'_>, (kind, meaning): (&Kind, &str), value: Option<&Value>) -> Option<Change> {
    let now = value.and_then(text_of).and_then(Colour::read);
    let picked = now.and_then(|now| by_eye(ui, rows, (now, value)));
    picked.or(text(ui, rows, (kind, meaning), (value, false)))
}

/// A colour chosen by eye: its patch opens a field of colours. While the pointer moves in it the cake shows what it would be;
/// what it shows when the button goes up is one step.
fn by_eye(ui: &mut Ui, rows: &Rows<'_>, (now, value): (Colour, Option<&Value>)) -> Option<Change> {
    let id = rows.id("by eye");
    let mut parts = [now.red, now.green, now.blue];
    let response = ui.color_edit_button_srgb(&mut parts);
    name(ui, &response, &format!("Choose {} by eye", rows.name().to_lowercase()));
    if response.changed() {
        ui.data_mut(|data| data.insert_temp(id, true));
        let [red, green, blue] = parts;
        let said = Colour::new(red, green, blue).to_string();
        return Some(Change { act: Act::Typing(id), value: Some(Value::Text(said)) });
    }
    let is_held = ui.data(|data| data.get_temp::<bool>(id)).unwrap_or_default();
    if is_held && !ui.input(|input| input.pointer.any_down()) {
        ui.data_mut(|data| data.remove_temp::<bool>(id));
        return Some(Change { act: Act::Kept, value: value.cloned() });
    }
    None
}

/// Two values side by side.
fn pair(
    ui: &mut Ui,
    rows: &mut Rows<'_>,
    kinds: [&Kind; 2],
    (value, meaning): (Option<&Value>, &str),
) -> Option<Change> {
    let now: &[Value] = match value {
        Some(Value::List(list)) => list,
        _ => &[],
    };
    let mut found = None;
    for (number, kind) in kinds.into_iter().enumerate() {
        let label = words::part_of_pair(number);
        let change = rows.under(label, label, |rows| text(ui, rows, (kind, meaning), (now.get(number), false)));
        found = found.or(change.map(|change| {
            let mut list = now.to_vec();
            if let (Some(place), Some(value)) = (list.get_mut(number), change.value) {
                *place = value;
            }
            Change { act: change.act, value: Some(Value::List(list)) }
        }));
        if number == 0 {
            ui.label("×");
        }
    }
    found
}

/// Values one below the other, with buttons to take one away and to add one.
pub(super) fn list(
    ui: &mut Ui,
    rows: &mut Rows<'_>,
    (kind, (least, most)): (&Kind, (usize, usize)),
    list: &[Value],
) -> Option<Change> {
    let mut found = None;
    for (number, value) in list.iter().enumerate() {
        let label = format!("number {}", number + 1);
        let change = rows.under(&number.to_string(), &label, |rows| {
            let mut change = None;
            let removed = ui
                .horizontal_wrapped(|ui| {
                    ui.label(format!("{}.", number + 1));
                    change = element(ui, rows, kind, value);
                    list.len() > least && small(ui, "✖", &format!("Take away {}", rows.name())).clicked()
                })
                .inner;
            if let (Kind::Table(shape), Value::Table(table)) = (kind, value) {
                let inside = blanks::table(ui, rows, (shape, table), &|_| true);
                change = inside.map(|inside| Change { act: inside.act, value: Some(Value::Table(inside.table)) });
            }
            if removed { Some(Change::now(None)) } else { change }
        });
        found = found.or(change.map(|change| put(list, (number, change))));
    }
    if list.len() < most && ui.button(format!("Add to {}", rows.name().to_lowercase())).clicked() {
        let new = list.last().cloned().or_else(|| rows.first_of(kind))?;
        return Some(Change::now(Value::List(list.iter().cloned().chain([new]).collect())));
    }
    found
}

fn element(ui: &mut Ui, rows: &mut Rows<'_>, kind: &Kind, value: &Value) -> Option<Change> {
    match kind {
        Kind::Pair(one, other) => pair(ui, rows, [one, other], (Some(value), "")),
        Kind::Stretch => pair(ui, rows, [&STRETCH; 2], (Some(value), "")),
        Kind::Name(names) => named(ui, rows, *names, (Some(value), false)),
        Kind::Table(_) => None,
        kind => text(ui, rows, (kind, ""), (Some(value), false)),
    }
}

/// The list with one of its values changed, or taken away.
fn put(list: &[Value], (number, change): (usize, Change)) -> Change {
    let mut list = list.to_vec();
    match (change.act, change.value) {
        (Act::Kept | Act::GivenUp, _) => {}
        (_, Some(value)) => {
            if let Some(place) = list.get_mut(number) {
                *place = value;
            }
        }
        (_, None) if number < list.len() => {
            list.remove(number);
        }
        (_, None) => {}
    }
    Change { act: change.act, value: Some(Value::List(list)) }
}

fn text_of(value: &Value) -> Option<&str> {
    match value {
        Value::Text(text) => Some(text),
        _ => None,
    }
}

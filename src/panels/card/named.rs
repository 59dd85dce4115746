//! Names: renaming a part, and the finishes, pastes and sheets that a design keeps by name.

use std::collections::BTreeMap;

use egui::{Id, Ui};

use super::blanks;
use super::rows::Rows;
use super::wish;
use crate::design::model::{Finish, Paste, Sheet};
use crate::design::{Design, Record, Table, TextForm, Value, blanks_of, filled_in, known_finishes, shape_of, typed};
use crate::edits::{Edit, NamedEdit, apply};
use crate::panels::signs::{muted, patch, small};
use crate::panels::typing::{Blank, Fields, Typed};
use crate::panels::{Look, Memo, Wish, words};

/// A field for a part's name; what names it follows.
pub(super) fn rename(
    ui: &mut Ui,
    (look, fields): (&Look<'_>, &mut Fields),
    (name, edit): (&str, &dyn Fn(String) -> Edit),
    wishes: &mut Vec<Wish>,
) {
    ui.horizontal_wrapped(|ui| {
        ui.label("Name");
        let id = Id::new(("rename", name));
        let blank =
            Blank { name: "Name", value: name, meaning: "What you call it", letters: 20.0, ghost: "", lines: 1 };
        match fields.line(ui, id, blank) {
            // A name goes over only when it is whole: what is chosen is known by it.
            Typed::Says(said) => {
                let kind = crate::design::Kind::Text(TextForm::Name);
                let wrong = match typed(&kind, &said, look.bench.design().unit) {
                    Err(wrong) => Some(wrong),
                    Ok(_) if said == name => None,
                    Ok(_) => {
                        apply(look.bench.settled(), &edit(said.clone())).err().map(|refusal| words::refused(&refusal))
                    }
                };
                fields.mark(id, wrong);
                fields.keep(id, said);
            }
            Typed::Left => {
                if let Some(said) = fields.take_right(id).filter(|said| said != name) {
                    wishes.push(Wish::Edit(edit(said)));
                }
            }
            Typed::Still | Typed::GivenUp => {}
        }
    });
}

/// The design's own finishes, pastes and sheets.
pub(super) fn all(ui: &mut Ui, look: &Look<'_>, memo: &mut Memo, wishes: &mut Vec<Wish>) {
    let design = look.bench.design();
    section::<Finish>(ui, (look, memo), &Kept { key: "finish", all: &design.finishes, edit: Edit::Finish }, wishes);
    section::<Paste>(ui, (look, memo), &Kept { key: "paste", all: &design.pastes, edit: Edit::Paste }, wishes);
    section::<Sheet>(ui, (look, memo), &Kept { key: "sheet", all: &design.sheets, edit: Edit::Sheet }, wishes);
}

/// What a design keeps by name.
struct Kept<'a, T> {
    key: &'static str,
    all: &'a BTreeMap<String, T>,
    edit: fn(String, NamedEdit<T>) -> Edit,
}

fn section<T: Record + Clone>(
    ui: &mut Ui,
    (look, memo): (&Look<'_>, &mut Memo),
    kept: &Kept<'_, T>,
    wishes: &mut Vec<Wish>,
) {
    let title = words::own(kept.key);
    egui::CollapsingHeader::new(title).id_salt(("own", kept.key)).show(ui, |ui| {
        muted(ui, words::own_meaning(kept.key));
        for (name, value) in kept.all {
            one(ui, (look, memo), (kept, name, value), wishes);
        }
        if ui.button(format!("Add a {}", kept.key)).clicked()
            && let Some(value) = first::<T>(look.bench.design(), kept.key)
        {
            let name = free(kept.all, kept.key);
            wishes.push(Wish::Edit((kept.edit)(name, NamedEdit::Set(value))));
        }
    });
}

fn one<T: Record + Clone>(
    ui: &mut Ui,
    (look, memo): (&Look<'_>, &mut Memo),
    (kept, name, value): (&Kept<'_, T>, &str, &T),
    wishes: &mut Vec<Wish>,
) {
    let Some(shape) = shape_of(kept.key) else { return };
    let table = blanks_of(value);
    ui.horizontal_wrapped(|ui| {
        if let Some(colour) = table.text("color").and_then(crate::art::Colour::read) {
            patch(ui, colour);
        }
        ui.strong(name);
        if small(ui, "✖", &format!("Delete the {} {name}", kept.key)).clicked() {
            wishes.push(Wish::Edit((kept.edit)(name.to_owned(), NamedEdit::Delete)));
        }
    });
    ui.indent(("own", kept.key, name), |ui| {
        let mut rows = Rows::new(look.bench.design(), &mut memo.fields, format!("{} {name}", kept.key));
        rows.called = Some(name.to_owned());
        let change = blanks::table(ui, &mut rows, (shape, &table), &|_| true);
        if let Some(change) = change {
            let edit = |table: Table| {
                let value = filled_in::<T>(table)?;
                Some((kept.edit)(name.to_owned(), NamedEdit::Set(value)))
            };
            wish((look.bench.settled(), &mut memo.fields), change, edit, wishes);
        }
    });
}

/// A first one: white paste, a Letter sheet.
fn first<T: Record>(design: &Design, key: &str) -> Option<T> {
    let mut table = match key {
        "sheet" => blanks_of(&design.sheet(None)),
        _ => Table::default(),
    };
    if key != "sheet" {
        table.set("color", Value::Text("#ffffff".to_owned()));
        crate::design::tidied(shape_of(key)?, &mut table, ("", &|_| None));
    }
    filled_in(table)
}

fn free<T>(all: &BTreeMap<String, T>, key: &str) -> String {
    let is_free = |name: &String| !all.contains_key(name) && !known_finishes().contains_key(name);
    let names = (1..=all.len() + 1).map(|number| format!("own {key} {number}"));
    names.into_iter().find(is_free).unwrap_or_else(|| format!("own {key}"))
}

//! Edits of what a design keeps by name: its finishes, pastes and printing sheets.

use std::collections::BTreeMap;

use super::Refusal;
use crate::design::model::{Finish, Paste, Sheet};
use crate::design::{Design, Names, known_finishes, known_sheets, mentions, renamed};

/// An edit of something by name.
#[derive(Clone, Debug, PartialEq)]
pub enum NamedEdit<T> {
    /// Sets it, or adds it where the design has none of that name. A known one is thereby changed for this design.
    Set(T),
    /// Gives it another name; everything that names it follows.
    Rename(String),
    /// Everything that names it names this other one instead, and it is deleted.
    Replace(String),
    /// Deletes it, when nothing names it.
    Delete,
}

/// What a design keeps by name.
pub(super) trait Named: Clone {
    /// What a person calls it.
    const KIND: &'static str;
    /// As what it is named.
    const NAMES: &'static [Names];

    fn of(design: &mut Design) -> &mut BTreeMap<String, Self>;

    /// The known one of a name, which every design may use.
    fn known(name: &str) -> Option<Self>;
}

impl Named for Finish {
    const KIND: &'static str = "finish";
    const NAMES: &'static [Names] = &[Names::Finish];

    fn of(design: &mut Design) -> &mut BTreeMap<String, Self> {
        &mut design.finishes
    }

    fn known(name: &str) -> Option<Self> {
        known_finishes().get(name).cloned()
    }
}

impl Named for Paste {
    const KIND: &'static str = "paste";
    const NAMES: &'static [Names] = &[Names::Paste];

    fn of(design: &mut Design) -> &mut BTreeMap<String, Self> {
        &mut design.pastes
    }

    fn known(_: &str) -> Option<Self> {
        None
    }
}

impl Named for Sheet {
    const KIND: &'static str = "sheet";
    const NAMES: &'static [Names] = &[Names::Sheet];

    fn of(design: &mut Design) -> &mut BTreeMap<String, Self> {
        &mut design.sheets
    }

    fn known(name: &str) -> Option<Self> {
        known_sheets().get(name).copied()
    }
}

pub(super) fn carry_out<T: Named>(design: &mut Design, name: &str, edit: &NamedEdit<T>) -> Result<(), Refusal> {
    match edit {
        NamedEdit::Set(value) => {
            T::of(design).insert(name.to_owned(), value.clone());
            Ok(())
        }
        NamedEdit::Rename(to) => rename::<T>(design, (name, to)),
        NamedEdit::Replace(with) => {
            let removed = T::of(design).remove(name).ok_or_else(|| Refusal::missing(T::KIND, name));
            follow::<T>(design, (name, with))?;
            removed.map(|_| ())
        }
        NamedEdit::Delete => delete::<T>(design, name),
    }
}

fn rename<T: Named>(design: &mut Design, (from, to): (&str, &str)) -> Result<(), Refusal> {
    if from == to {
        return Ok(());
    }
    if T::of(design).contains_key(to) || T::known(to).is_some() {
        let sentence = format!("there is a {} “{to}” already", T::KIND);
        return Err(Refusal::senseless(sentence, "choose another name, or replace one by the other"));
    }
    let own = T::of(design).remove(from).or_else(|| T::known(from));
    let value = own.ok_or_else(|| Refusal::missing(T::KIND, from))?;
    T::of(design).insert(to.to_owned(), value);
    follow::<T>(design, (from, to))
}

fn follow<T: Named>(design: &mut Design, names: (&str, &str)) -> Result<(), Refusal> {
    *design = renamed(design, T::NAMES, names).ok_or_else(|| Refusal::missing(T::KIND, names.0))?;
    Ok(())
}

fn delete<T: Named>(design: &mut Design, name: &str) -> Result<(), Refusal> {
    let removed = T::of(design).remove(name).ok_or_else(|| Refusal::missing(T::KIND, name))?;
    let users = mentions(design, T::NAMES, name);
    let Some(first) = users.first().filter(|_| T::known(name).is_none()) else { return Ok(()) };
    T::of(design).insert(name.to_owned(), removed);
    let more = users.len() - 1;
    let others = if more > 0 { format!(" and {more} more") } else { String::new() };
    let sentence = format!("the {} “{name}” is used: {first}{others}", T::KIND);
    Err(Refusal::senseless(sentence, format!("choose another {} to take its place", T::KIND)))
}

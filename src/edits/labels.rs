//! What a step is called in *Undo* and *Redo*: `move “bow”`, `change “bow”: ribbon, tail`.

use super::course::CourseEdit;
use super::edit::Edit;
use super::first::{NewCourse, NewKind};
use super::named::NamedEdit;
use super::piece::PieceEdit;
use super::tier::TierEdit;
use super::whole::WholeEdit;
use crate::design::{Design, differences};

/// Keys that are named one by one; of more, only the first.
const MOST_KEYS: usize = 3;

/// What an edit does to a design, as a person would say it.
#[must_use]
pub fn label(before: &Design, edit: &Edit) -> String {
    match edit {
        Edit::Whole(edit) => whole(before, edit),
        Edit::Tier(name, edit) => tier(before, name, edit),
        Edit::Course(name, edit) => course(before, (&name.tier, &name.course), edit),
        Edit::Piece(name, edit) => piece(before, name, edit),
        Edit::Finish(name, edit) => named("finish", name, edit),
        Edit::Paste(name, edit) => named("paste", name, edit),
        Edit::Sheet(name, edit) => named("sheet", name, edit),
        Edit::Several(edits) => match edits.as_slice() {
            [] => "nothing".to_owned(),
            [one] => label(before, one),
            [first, rest @ ..] => format!("{}, and {} more", label(before, first), rest.len()),
        },
    }
}

fn whole(before: &Design, edit: &WholeEdit) -> String {
    match edit {
        WholeEdit::Title(_) => "change the title".to_owned(),
        WholeEdit::Unit(unit) => format!("measure in {}", unit.word()),
        WholeEdit::Board(board) => change("the board", &differences(&before.board, board)),
        WholeEdit::Order(order) => change("the order", &differences(&before.order, order)),
        WholeEdit::Viewing(viewing) => change("the viewing", &differences(&before.viewing, viewing)),
        WholeEdit::Transport(transport) => change("the transport", &differences(&before.transport, transport)),
        WholeEdit::Kitchen(kitchen) => change("the kitchen’s habits", &differences(&before.kitchen, kitchen)),
        WholeEdit::Proof(proof) => change("the proof", &differences(&before.proof, proof)),
        WholeEdit::Become(_) => "take another design".to_owned(),
        WholeEdit::AddTier(_) => "add a tier".to_owned(),
        WholeEdit::AddPiece(new) => format!("add a {}", kind_word(&new.kind)),
    }
}

const fn kind_word(kind: &NewKind) -> &'static str {
    match kind {
        NewKind::Topper(_) => "topper",
        NewKind::Plaque(_) => "plaque",
        NewKind::Ball => "ball",
        NewKind::Scatter => "scatter of balls",
        NewKind::Rope => "rope",
        NewKind::Pearls => "line of pearls",
        NewKind::Bow => "bow",
        NewKind::Sign(_) => "sign",
        NewKind::Rod => "rod",
        NewKind::Solid(form) => form.word(),
    }
}

fn tier(before: &Design, name: &str, edit: &TierEdit) -> String {
    let now = before.tiers.iter().find(|tier| tier.name == name);
    match edit {
        TierEdit::Set(set) => {
            let keys = now.map(|now| differences(now, &**set)).unwrap_or_default();
            let keys: Vec<String> =
                keys.into_iter().filter(|key| !matches!(key.as_str(), "name" | "course" | "locked")).collect();
            change(&format!("“{name}”"), &keys)
        }
        TierEdit::Move(_) => format!("move “{name}”"),
        TierEdit::Turn(_) => format!("turn “{name}”"),
        TierEdit::Measured(_) => format!("measure “{name}”"),
        TierEdit::Rename(to) => format!("rename “{name}” to “{to}”"),
        TierEdit::Lock(locked) => lock(name, *locked),
        TierEdit::Order(_) => format!("restack “{name}”"),
        TierEdit::Duplicate => format!("copy “{name}”"),
        TierEdit::Mirror => format!("mirror “{name}”"),
        TierEdit::Delete => format!("delete “{name}”"),
        TierEdit::AddCourse(new, _) => {
            let word = match new {
                NewCourse::Rope => "rope",
                NewCourse::Pearls => "row of pearls",
                NewCourse::Band => "band",
                NewCourse::Wrap(_) => "wrap",
                NewCourse::Bare => "bare course",
            };
            format!("add a {word} to “{name}”")
        }
    }
}

fn course(before: &Design, (tier, name): (&str, &str), edit: &CourseEdit) -> String {
    let now = before.tiers.iter().filter(|found| found.name == tier).flat_map(|tier| &tier.courses);
    let now = now.into_iter().find(|course| course.name == name);
    match edit {
        CourseEdit::Set(kind) => {
            let keys = now
                .map(|now| differences(now, &crate::design::model::Course { kind: (**kind).clone(), ..now.clone() }));
            change(&format!("“{name}”"), &keys.unwrap_or_default())
        }
        CourseEdit::Height(_) => format!("change “{name}”: height"),
        CourseEdit::Finish(finish) => format!("make “{name}” {finish}"),
        CourseEdit::Art(_) => format!("change the picture of “{name}”"),
        CourseEdit::Seam(_) | CourseEdit::MoveSeam(..) => format!("move a seam of “{name}”"),
        CourseEdit::Pin(_) => format!("pin a seam of “{name}”"),
        CourseEdit::Unpin(_) => format!("let a seam of “{name}” go"),
        CourseEdit::Rename(to) => format!("rename “{name}” to “{to}”"),
        CourseEdit::Lock(locked) => lock(name, *locked),
        CourseEdit::Order(_) => format!("restack “{name}”"),
        CourseEdit::Duplicate => format!("copy “{name}”"),
        CourseEdit::Mirror => format!("mirror “{name}”"),
        CourseEdit::Delete => format!("delete “{name}”"),
    }
}

fn piece(before: &Design, name: &str, edit: &PieceEdit) -> String {
    let now = before.pieces.iter().find(|piece| piece.name == name);
    match edit {
        PieceEdit::Form(form) => {
            let keys =
                now.map(|now| differences(now, &crate::design::model::Piece { form: (**form).clone(), ..now.clone() }));
            change(&format!("“{name}”"), &keys.unwrap_or_default())
        }
        PieceEdit::Move(..) => format!("move “{name}”"),
        PieceEdit::Turn(_) => format!("turn “{name}”"),
        PieceEdit::Tilt(_) => format!("tilt “{name}”"),
        PieceEdit::Resize(_) => format!("resize “{name}”"),
        PieceEdit::Finish(finish) => format!("make “{name}” {finish}"),
        PieceEdit::Art(_) => format!("change the picture of “{name}”"),
        PieceEdit::Dry(_) => format!("change “{name}”: dry"),
        PieceEdit::Rename(to) => format!("rename “{name}” to “{to}”"),
        PieceEdit::Hide(hidden) => format!("{} “{name}”", if *hidden { "hide" } else { "show" }),
        PieceEdit::Lock(locked) => lock(name, *locked),
        PieceEdit::Order(_) => format!("reorder “{name}”"),
        PieceEdit::Duplicate(_) => format!("copy “{name}”"),
        PieceEdit::Mirror => format!("mirror “{name}”"),
        PieceEdit::Delete => format!("delete “{name}”"),
    }
}

fn named<T>(kind: &str, name: &str, edit: &NamedEdit<T>) -> String {
    match edit {
        NamedEdit::Set(_) => format!("change the {kind} “{name}”"),
        NamedEdit::Rename(to) => format!("rename the {kind} “{name}” to “{to}”"),
        NamedEdit::Replace(with) => format!("replace the {kind} “{name}” by “{with}”"),
        NamedEdit::Delete => format!("delete the {kind} “{name}”"),
    }
}

fn lock(name: &str, locked: bool) -> String {
    format!("{} “{name}”", if locked { "lock" } else { "unlock" })
}

fn change(what: &str, keys: &[String]) -> String {
    match keys {
        [] => format!("change {what}"),
        keys if keys.len() <= MOST_KEYS => format!("change {what}: {}", keys.join(", ")),
        [first, rest @ ..] => format!("change {what}: {first} and {} more", rest.len()),
    }
}

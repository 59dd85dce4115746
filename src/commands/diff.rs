//! `diff`: what changed between two designs, in words and pictures, and what was printed or cut that is of no use any more.

use std::path::{Path, PathBuf};

use serde::Serialize;

use super::CommandError;
use super::load::{Loaded, load};
use super::output::{Force, overwrite, room_for_pack, say, say_json, write_pack};
use super::work::{Work, code, work};
use crate::design::{Difference, compare};
use crate::proof::difference::{Changes, Planned, Remade, changes};

/// Characters of a value that are shown in a line.
const MOST_SHOWN: usize = 90;

#[derive(Debug, clap::Args)]
pub(super) struct Words {
    /// The design before; or, when it stands alone, the design to compare with what was approved of it
    #[arg(value_name = "A")]
    before: PathBuf,
    /// The design after
    #[arg(value_name = "B")]
    after: Option<PathBuf>,
    /// Print one JSON document: sizes in mm
    #[arg(long)]
    json: bool,
    /// Folder to write pictures of both into, with what changed marked
    #[arg(short, long, value_name = "FOLDER")]
    output: Option<PathBuf>,
    #[command(flatten)]
    force: Force,
}

/// What is written into the folder: both designs from the customer's side and from the back.
const PICTURES: [&str; 4] = ["before.png", "before-back.png", "after.png", "after-back.png"];

/// A design on either side.
struct One {
    loaded: Loaded,
    work: Work,
}

fn one(path: &Path) -> Result<One, CommandError> {
    let loaded = load(path)?;
    let work = work(&loaded)?;
    Ok(One { loaded, work })
}

pub(super) fn run(words: &Words) -> Result<u8, CommandError> {
    if let Some(folder) = &words.output {
        room_for_pack(folder, &PICTURES, overwrite(&words.force))?;
    }
    let (before, after) = match &words.after {
        Some(after) => (one(&words.before)?, one(after)?),
        None => {
            let after = one(&words.before)?;
            (one(&approved(&after.loaded)?)?, after)
        }
    };
    let said = compare(&before.loaded.design, &after.loaded.design);
    let [old, new] = [&before, &after].map(|one| Planned { cake: &one.work.cake, plans: &one.work.plans });
    let found = changes(old, new);
    if let Some(folder) = &words.output {
        write_pack(folder, &pictures([&before, &after])?, overwrite(&words.force))?;
    }
    if words.json {
        say_json(&document([&before, &after], &said, &found))?;
    } else {
        say(&listing([&before, &after], &said, &found))?;
    }
    Ok(code(&after.work))
}

/// The folder of the design that was approved last.
fn approved(loaded: &Loaded) -> Result<PathBuf, CommandError> {
    let shown = loaded.file.display();
    let Some(approval) = loaded.record.last() else {
        let message = format!("{shown}: nothing of it was approved yet; name a second design to compare it with");
        return Err(CommandError::Words(message));
    };
    Ok(loaded.folder().join(approval.folder()))
}

/// The differences as a person reads them.
fn listing([before, after]: [&One; 2], said: &[Difference], found: &Changes) -> String {
    let head = |one: &One| format!("{} (revision {})", one.work.facts.title, one.loaded.revision);
    if before.loaded.whole_revision == after.loaded.whole_revision {
        return format!("{}: nothing changed", head(after));
    }
    let mut text = format!("from {}\nto   {}\n", head(before), head(after));
    let mut section = |heading: &str, lines: Vec<String>| {
        if !lines.is_empty() {
            text += &format!("\n{heading}\n");
            text.extend(lines.into_iter().map(|line| format!("  {line}\n")));
        }
    };
    let remade = |list: &[Remade]| list.iter().map(|it| format!("{} ({})", it.what, it.why)).collect();
    section("changed", said.iter().map(line).collect());
    section("sizes", found.sizes.iter().map(|size| size.words.clone()).collect());
    section("print again", remade(&found.reprints));
    section("cut or make again", remade(&found.recuts));
    text.trim_end().to_owned()
}

fn line(difference: &Difference) -> String {
    let place = &difference.place;
    match (&difference.before, &difference.after) {
        (Some(before), Some(after)) => format!("{place}: {} → {}", shown(before), shown(after)),
        (None, Some(after)) => format!("{place}: new ({})", shown(after)),
        (Some(before), None) => format!("{place}: gone (was {})", shown(before)),
        (None, None) => place.clone(),
    }
}

/// A value in one line.
fn shown(value: &str) -> String {
    if value.is_empty() {
        return "nothing".to_owned();
    }
    let line: String = value.split_whitespace().collect::<Vec<_>>().join(" ");
    if line.chars().count() <= MOST_SHOWN {
        return line;
    }
    line.chars().take(MOST_SHOWN).collect::<String>().trim_end().to_owned() + "…"
}

#[derive(Serialize)]
struct Document<'a> {
    schema: u32,
    before: Named<'a>,
    after: Named<'a>,
    changes: Vec<Change<'a>>,
    sizes: Vec<Size<'a>>,
    print_again: Vec<Again<'a>>,
    cut_again: Vec<Again<'a>>,
}

#[derive(Serialize)]
struct Named<'a> {
    title: &'a str,
    revision: &'a str,
}

#[derive(Serialize)]
struct Change<'a> {
    what: &'a str,
    before: Option<&'a str>,
    after: Option<&'a str>,
}

#[derive(Serialize)]
struct Size<'a> {
    what: &'a str,
    before: Option<f64>,
    after: Option<f64>,
}

#[derive(Serialize)]
struct Again<'a> {
    what: &'a str,
    why: &'a str,
}

fn document<'a>(sides: [&'a One; 2], said: &'a [Difference], found: &'a Changes) -> Document<'a> {
    let [before, after] = sides.map(|one| Named { title: &one.work.facts.title, revision: &one.loaded.revision });
    let again = |list: &'a [Remade]| list.iter().map(|it| Again { what: &it.what, why: &it.why }).collect();
    let change =
        |it: &'a Difference| Change { what: &it.place, before: it.before.as_deref(), after: it.after.as_deref() };
    let mm = |length: Option<crate::measure::Length>| length.map(crate::measure::Length::as_mm);
    Document {
        schema: 1,
        before,
        after,
        changes: said.iter().map(change).collect(),
        sizes: found
            .sizes
            .iter()
            .map(|it| Size { what: &it.what, before: mm(it.before), after: mm(it.after) })
            .collect(),
        print_again: again(&found.reprints),
        cut_again: again(&found.recuts),
    }
}

#[cfg(not(feature = "view"))]
fn pictures(_sides: [&One; 2]) -> Result<Vec<(String, Vec<u8>)>, CommandError> {
    Err(CommandError::NoPictures)
}

/// Pictures of both sides, taken from the same places, with what changed in rings.
#[cfg(feature = "view")]
fn pictures(sides: [&One; 2]) -> Result<Vec<(String, Vec<u8>)>, CommandError> {
    use super::studio::{MARGIN, bodies, corners, photograph, stage, with_progress};
    use crate::art::encode_png;
    use crate::proof::difference::changed;
    use crate::proof::overlay::rings;
    use crate::proof::view::{Camera, Direction};
    use crate::scene::Quality;

    const SIZE: (u32, u32) = (1200, 900);
    const FROM: [Direction; 2] = [Direction::new(22.0, 16.0), Direction::new(202.0, 16.0)];

    let [old, new] = sides.map(|one| Planned { cake: &one.work.cake, plans: &one.work.plans });
    let mut names = PICTURES.into_iter();
    let [one, other] = sides;
    let [before, after] = [bodies(&one.work, SIZE)?, bodies(&other.work, SIZE)?];
    let all: Vec<glam::DVec3> = corners(&before).into_iter().chain(corners(&after)).collect();
    let cameras = FROM.map(|direction| Camera::framing(direction, &all, SIZE, MARGIN));
    let shots = cameras.map(|camera| (camera, Quality::Good));
    let mut files = Vec::new();
    for ((one, bodies), owners) in sides.into_iter().zip([before, after]).zip(changed(old, new)) {
        let cake = &one.work.cake;
        let named = owners.into_iter().map(|owner| (owner, owner.name(cake))).collect();
        let stage = stage(cake, bodies.clone());
        let taken = with_progress(|tell| photograph(&stage, &shots, tell))?;
        for (picture, camera) in taken.iter().zip(&cameras) {
            let marked = rings(&bodies, camera, &named).over(picture);
            let png = encode_png(&marked).map_err(|error| CommandError::Words(error.to_string()))?;
            files.push((names.next().unwrap_or_default().to_owned(), png));
        }
    }
    Ok(files)
}

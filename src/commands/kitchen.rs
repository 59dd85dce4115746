//! `kitchen`: the kitchen pack for the decorator.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::bar::with_bar;
use super::load::{Loaded, load};
use super::output::{Force, overwrite, say, write_pack};
use super::work::{Work, code, work};
use super::{CommandError, DesignPath, Today};
use crate::cake::bodies;
use crate::files::{Overwrite, ours, remove_ours};
use crate::kitchen::patterns;
use crate::packs::{KitchenInput, PACK_FOLDERS, is_of_pack, kitchen_pack};
use crate::proof::chart::Chart;
use crate::proof::tape::{TapeInput, tape};
use crate::wraps::Onlookers;

#[derive(Debug, clap::Args)]
pub(super) struct Words {
    #[command(flatten)]
    design: DesignPath,
    /// Folder to write the pack into
    #[arg(short, long, value_name = "FOLDER")]
    output: PathBuf,
    /// Print everything on this sheet instead: one of the design's, or letter, a4, tabloid or a3
    #[arg(long, value_name = "NAME")]
    sheet: Option<String>,
    #[command(flatten)]
    today: Today,
    #[command(flatten)]
    force: Force,
}

pub(super) fn run(words: &Words) -> Result<u8, CommandError> {
    let loaded = load(&words.design.path)?.on(&words.today);
    let loaded = match &words.sheet {
        Some(sheet) => printed_on(loaded, sheet)?,
        None => loaded,
    };
    let work = work(&loaded)?;
    let files = with_bar(|tell| pack(&work, tell))?;
    write(&words.output, &files, overwrite(&words.force))?;
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    say(&format!("{}: {}", words.output.display(), names.join(", ")))?;
    Ok(code(&work))
}

/// The files of the pack by name; `tell` is told how many of how many steps are done.
pub(super) fn pack(work: &Work, tell: &mut dyn FnMut(u64, u64)) -> Result<Vec<(String, Vec<u8>)>, CommandError> {
    let (patterns, left_out) = patterns(&work.cake, &work.plans)?;
    let input = KitchenInput {
        facts: &work.facts,
        cake: &work.cake,
        plans: &work.plans,
        sheets: &work.sheets,
        patterns: (&patterns, left_out),
        tapes: &tapes(work)?,
    };
    Ok(kitchen_pack(&input, tell)?)
}

/// Writes the pack, and removes what an earlier plan had and this one has not.
pub(super) fn write(folder: &Path, files: &[(String, Vec<u8>)], overwrite: Overwrite) -> Result<(), CommandError> {
    write_pack(folder, files, overwrite)?;
    remove_earlier(folder, files)
}

/// The side of each tier unrolled, from the board up.
fn tapes(work: &Work) -> Result<Vec<Chart>, CommandError> {
    let cake = &work.cake;
    let bodies = bodies(cake)?;
    let onlookers = Onlookers::new(cake);
    let revision = &work.facts.revision;
    let input =
        TapeInput { cake, plans: &work.plans, ends: &work.ends, bodies: &bodies, onlookers: &onlookers, revision };
    Ok((0..cake.tiers.len()).map(|tier| tape(&input, &[tier])).collect())
}

/// Removes what an earlier plan had and this one has not: it would be printed or cut with the rest.
fn remove_earlier(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<(), CommandError> {
    for below in PACK_FOLDERS {
        let place = folder.join(below);
        for name in ours(&place) {
            let made = if below.is_empty() { name.clone() } else { format!("{below}/{name}") };
            if !files.iter().any(|(kept, _)| *kept == made) && is_of_pack(&made) {
                remove_ours(&place.join(name))?;
            }
        }
    }
    Ok(())
}

/// The same design with everything printed on one kind of sheet; its revision is still that of the design.
fn printed_on(loaded: Loaded, sheet: &str) -> Result<Loaded, CommandError> {
    let design = loaded.design.printed_on(sheet).map_err(|near| {
        let mend = near.map_or_else(|| "add it under [sheet.NAME]".to_owned(), |near| format!("write {near}"));
        CommandError::Words(format!("--sheet {sheet}: there is no sheet of that name; {mend}"))
    })?;
    Ok(Loaded { design: Arc::new(design), ..loaded })
}

//! `kitchen`: the kitchen pack for the decorator.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::bar::with_bar;
use super::load::{Loaded, load};
use super::output::{Force, overwrite, say};
use super::work::{Work, code, work};
use super::{CommandError, DesignPath, Today};
use crate::cake::bodies;
use crate::files::{Staged, ours, remove_ours};
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
    let mut staged = Staged::new(&words.output, overwrite(&words.force))?;
    with_bar(|tell| pack(&work, &mut staged, tell))?;
    let names: Vec<String> = staged.names().map(str::to_owned).collect();
    write(&words.output, staged)?;
    say(&format!("{}: {}", words.output.display(), names.join(", ")))?;
    Ok(code(&work))
}

/// Makes the files of the pack, each kept on the disk as soon as it is made; `tell` is told how many of how many steps are
/// done.
pub(super) fn pack(work: &Work, staged: &mut Staged, tell: &mut dyn FnMut(u64, u64)) -> Result<(), CommandError> {
    let (patterns, left_out) = patterns(&work.cake, &work.plans)?;
    let input = KitchenInput {
        facts: &work.facts,
        cake: &work.cake,
        plans: &work.plans,
        sheets: &work.sheets,
        patterns: (&patterns, left_out),
        tapes: &tapes(work)?,
    };
    let mut keep = |name: String, bytes: Vec<u8>| Ok(staged.add(&name, &bytes)?);
    Ok(kitchen_pack(&input, &mut keep, tell)?)
}

/// Puts the files of the pack in their places, and removes what an earlier plan had and this one has not.
pub(super) fn write(folder: &Path, staged: Staged) -> Result<(), CommandError> {
    let names: BTreeSet<String> = staged.names().map(str::to_owned).collect();
    staged.put()?;
    remove_earlier(folder, &names)
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
fn remove_earlier(folder: &Path, kept: &BTreeSet<String>) -> Result<(), CommandError> {
    for below in PACK_FOLDERS {
        let place = folder.join(below);
        for name in ours(&place) {
            let made = if below.is_empty() { name.clone() } else { format!("{below}/{name}") };
            if !kept.contains(&made) && is_of_pack(&made) {
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

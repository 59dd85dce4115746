//! `kitchen`: the kitchen pack for the decorator.

use std::path::PathBuf;
use std::sync::Arc;

use super::bar::with_bar;
use super::load::{Loaded, load};
use super::output::{Force, overwrite, say, write_pack};
use super::work::work;
use super::{CommandError, DesignPath};
use crate::files::remove_ours;
use crate::packs::{KitchenInput, kitchen_pack, sheet_files};

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
    force: Force,
}

pub(super) fn run(words: &Words) -> Result<u8, CommandError> {
    let loaded = load(&words.design.path)?;
    let loaded = match &words.sheet {
        Some(sheet) => printed_on(loaded, sheet)?,
        None => loaded,
    };
    let work = work(&loaded)?;
    let input = KitchenInput { facts: &work.facts, cake: &work.cake, plans: &work.plans, sheets: &work.sheets };
    let files = with_bar(|tell| kitchen_pack(&input, tell))?;
    write_pack(&words.output, &files, overwrite(&words.force))?;
    for name in sheet_files() {
        // A sheet of an earlier plan would be printed with those of this one.
        if !files.iter().any(|(made, _)| *made == name) {
            remove_ours(&words.output.join(name))?;
        }
    }
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    say(&format!("{}: {}", words.output.display(), names.join(", ")))?;
    Ok(work.code())
}

/// The same design with everything printed on one kind of sheet; its revision is still that of the design.
fn printed_on(loaded: Loaded, sheet: &str) -> Result<Loaded, CommandError> {
    let design = loaded.design.printed_on(sheet).map_err(|near| {
        let mend = near.map_or_else(|| "add it under [sheet.NAME]".to_owned(), |near| format!("write {near}"));
        CommandError::Words(format!("--sheet {sheet}: there is no sheet of that name; {mend}"))
    })?;
    Ok(Loaded { design: Arc::new(design), ..loaded })
}

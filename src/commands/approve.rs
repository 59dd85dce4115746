//! `approve`: who approved which revision, when; a copy of it is kept, so that what changes later can be told.

use jiff::ZonedDateTime;
use jiff::civil::Date;

use super::load::{Loaded, load};
use super::output::say;
use super::work::{code, work};
use super::{CommandError, DesignPath};
use crate::files::{Overwrite, write_new_folder, write_whole};
use crate::proof::approval::{Approval, RECORD, long_date};

#[derive(Debug, clap::Args)]
pub(super) struct Words {
    #[command(flatten)]
    design: DesignPath,
    /// Who approves, as they signed
    #[arg(long, value_name = "NAME")]
    by: String,
    /// The day of the approval, such as 2026-11-28; today when left out
    #[arg(long, value_name = "DATE", value_parser = day)]
    on: Option<Date>,
    /// The revision that the customer names; nothing is written down when the design is another one by now
    #[arg(long, value_name = "REVISION")]
    revision: Option<String>,
}

fn day(word: &str) -> Result<Date, String> {
    word.parse().map_err(|_| "expected a day such as 2026-11-28".to_owned())
}

pub(super) fn run(words: &Words) -> Result<u8, CommandError> {
    let loaded = load(&words.design.path)?;
    if let Some(named) = words.revision.as_deref().map(str::trim) {
        let is_it = named.len() >= 8 && named.is_ascii() && loaded.whole_revision.starts_with(&named.to_lowercase());
        if !is_it {
            return Err(CommandError::Words(format!(
                "--revision {named}: the design is revision {} by now; send the customer its proof, or go back to what they saw",
                loaded.revision
            )));
        }
    }
    // The day on which the person writes it down is the one they mean, by their own calendar.
    let on = words.on.unwrap_or_else(|| ZonedDateTime::now().date());
    let approval = Approval::new(&words.by, on, &loaded.whole_revision)?;
    let record = loaded.record.clone().with(approval.clone())?;
    keep(&loaded, &approval)?;
    write_whole(&loaded.folder().join(RECORD), record.text().as_bytes(), Overwrite::Document)?;
    let (by, on) = (&approval.by, long_date(approval.on));
    say(&format!("{by} approved revision {} on {on}; a copy is in {}", loaded.revision, approval.folder()))?;
    Ok(code(&work(&load(&words.design.path)?)?))
}

/// Keeps a copy of the approved design with its art, unless there is one.
fn keep(loaded: &Loaded, approval: &Approval) -> Result<(), CommandError> {
    let folder = loaded.folder().join(approval.folder());
    if load(&folder).is_ok_and(|kept| kept.whole_revision == approval.revision) {
        return Ok(());
    }
    let files = loaded.files()?;
    let files: Vec<(&str, &[u8])> = files.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice())).collect();
    Ok(write_new_folder(&folder, &files)?)
}

//! `new`: a design folder from a starter cake.

use std::path::PathBuf;

use super::output::say;
use super::{CommandError, FINE};
use crate::design::starters::{find, list};

/// The starter for who names none.
const USUAL: &str = "one-round";

#[derive(Debug, clap::Args)]
pub(super) struct Words {
    /// Folder to make
    #[arg(value_name = "FOLDER", required_unless_present = "list")]
    folder: Option<PathBuf>,
    /// Starter cake to begin with
    #[arg(long, value_name = "NAME", default_value = USUAL)]
    starter: String,
    /// List the starter cakes
    #[arg(long)]
    list: bool,
}

pub(super) fn run(words: &Words) -> Result<u8, CommandError> {
    if words.list {
        for starter in list() {
            say(&format!("{:14}  {}", starter.name, starter.meaning))?;
        }
        return Ok(FINE);
    }
    if let Some(folder) = &words.folder {
        let starter = find(&words.starter).map_err(|near| CommandError::Words(unknown(&words.starter, near)))?;
        starter.copy_to(folder)?;
        say(&format!("{}: a new design from the starter '{}'", folder.display(), words.starter))?;
    }
    Ok(FINE)
}

fn unknown(name: &str, near: Option<&str>) -> String {
    let hint = near.map_or_else(String::new, |near| format!(", did you mean '{near}'"));
    format!("there is no starter cake '{name}'{hint}; `tierproof new --list` names them all")
}

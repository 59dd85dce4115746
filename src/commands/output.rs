//! Printing, and writing a whole folder of finished files.

use std::io::{self, Write};
use std::path::Path;

use serde::Serialize;

use super::CommandError;
use crate::files::{Overwrite, free_to_write, write_whole};

/// Prints lines on standard output. A reader that has gone away (`| head`) is no fault.
pub(super) fn say(text: &str) -> Result<(), CommandError> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.write_all(b"\n")).and_then(|()| out.flush()) {
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        result => Ok(result?),
    }
}

/// Prints one JSON document.
pub(super) fn say_json(document: &impl Serialize) -> Result<(), CommandError> {
    let text = serde_json::to_string_pretty(document).map_err(io::Error::from)?;
    say(&text)
}

/// What may be overwritten.
pub(super) fn overwrite(force: &Force) -> Overwrite {
    if force.force { Overwrite::Forced } else { Overwrite::Ours }
}

/// Overwriting files that this program did not write.
#[derive(Debug, clap::Args)]
pub(super) struct Force {
    /// Overwrite files that this program did not write
    #[arg(long)]
    force: bool,
}

/// Writes all files of a pack into a folder; nothing is written while one of their places is taken.
pub(super) fn write_pack(folder: &Path, files: &[(String, Vec<u8>)], overwrite: Overwrite) -> Result<(), CommandError> {
    for (name, _) in files {
        free_to_write(&folder.join(name), overwrite)?;
    }
    for (name, bytes) in files {
        write_whole(&folder.join(name), bytes, overwrite)?;
    }
    Ok(())
}

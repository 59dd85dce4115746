//! Printing, and writing a whole folder of finished files.

use std::io::{self, Write};
use std::path::Path;

use serde::Serialize;

use super::CommandError;
use crate::files::{Overwrite, Staged, free_to_write, may_be_folder};

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

/// Says before long work whether a pack's files may be written.
pub(super) fn room_for_pack(folder: &Path, names: &[&str], overwrite: Overwrite) -> Result<(), CommandError> {
    may_be_folder(folder)?;
    for name in names {
        free_to_write(&folder.join(name), overwrite)?;
    }
    Ok(())
}

/// Files of a pack that were made together, on their way into a folder.
pub(super) fn staged(folder: &Path, files: &[(String, Vec<u8>)], overwrite: Overwrite) -> Result<Staged, CommandError> {
    let mut staged = Staged::new(folder, overwrite)?;
    for (name, bytes) in files {
        staged.add(name, bytes)?;
    }
    Ok(staged)
}

/// Writes all files of a pack into a folder; nothing is written while one of their places is taken.
pub(super) fn write_pack(folder: &Path, files: &[(String, Vec<u8>)], overwrite: Overwrite) -> Result<(), CommandError> {
    Ok(staged(folder, files, overwrite)?.put()?)
}

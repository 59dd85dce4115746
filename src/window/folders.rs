//! What a wish asks of the disk: a new design, a copy of this one, a folder shown.

use std::path::Path;
use std::process::{Command, Stdio};

use super::open::{FILE, Open};
use super::room::Room;
use crate::art::LARGEST_ART;
use crate::design::starters::find;
use crate::design::write_design;
use crate::files::{Overwrite, inside, read_bounded, write_whole};

impl Room {
    /// Begins a new design from a starter, and opens it.
    pub(super) fn begin(&mut self, starter: &str, folder: &Path) -> Result<(), String> {
        let starter = find(starter).map_err(|_| format!("there is no starter cake “{starter}”"))?;
        starter.copy_to(folder).map_err(|error| error.to_string())?;
        self.open(folder)
    }

    /// Copies the design that is open, with its art, into a new folder, and opens the copy.
    pub(super) fn save_as(&mut self, folder: &Path) -> Result<(), String> {
        let Some(open) = &self.open else { return Ok(()) };
        if folder.join(FILE).exists() {
            return Err(format!("{} holds a design already; choose a new folder", folder.display()));
        }
        open.copy_to(folder)?;
        self.open(folder)
    }
}

impl Open {
    fn copy_to(&self, folder: &Path) -> Result<(), String> {
        let said = |error: &dyn std::fmt::Display| format!("the copy can’t be made: {error}");
        for path in self.bench.design().art_paths() {
            let from = inside(self.folder(), path).map_err(|error| said(&error))?;
            let bytes = read_bounded(&from, LARGEST_ART).map_err(|error| said(&error))?;
            write_whole(&folder.join(path), &bytes, Overwrite::Document).map_err(|error| said(&error))?;
        }
        let text = write_design(self.bench.design(), None);
        write_whole(&folder.join(FILE), text.as_bytes(), Overwrite::Document).map_err(|error| said(&error))
    }
}

/// Shows a folder in the system's own window.
pub(super) fn reveal(folder: &Path) -> Result<(), String> {
    let program = if cfg!(windows) {
        "explorer"
    } else if cfg!(target_os = "macos") {
        "open"
    } else {
        "xdg-open"
    };
    let shown =
        Command::new(program).arg(folder).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn();
    shown.map(drop).map_err(|error| format!("{} can’t be shown ({error})", folder.display()))
}

//! Which designs were open lately: a list of folders in a folder of the program's own, one a line.

use std::path::{Path, PathBuf};

use crate::design::{LARGEST_FILE, read_design};
use crate::files::{Overwrite, read_bounded, write_whole};
use crate::panels::Recent;

/// The list's file.
const FILE: &str = "recent";

/// Most designs that are remembered.
const MOST: usize = 8;

/// Largest list that is read, bytes.
const LARGEST: u64 = 64 << 10;

/// The designs that were open lately, the latest first.
#[derive(Debug, Default)]
pub(super) struct RecentList {
    file: Option<PathBuf>,
    list: Vec<Recent>,
}

impl RecentList {
    /// Reads the list; those that are there no more are left out.
    pub(super) fn read(refuge: Option<&Path>) -> Self {
        let file = refuge.map(|refuge| refuge.join(FILE));
        let text = file.as_ref().and_then(|file| read_bounded(file, LARGEST).ok()).unwrap_or_default();
        let text = String::from_utf8(text).unwrap_or_default();
        let list = text.lines().map(PathBuf::from).filter_map(|file| entry(&file)).take(MOST).collect();
        Self { file, list }
    }

    /// The list.
    pub(super) fn list(&self) -> &[Recent] {
        &self.list
    }

    /// Puts a design at the head of the list.
    pub(super) fn note(&mut self, file: &Path) {
        let Some(entry) = file.canonicalize().ok().and_then(|file| entry(&file)) else { return };
        self.list.retain(|known| known.folder != entry.folder);
        self.list.insert(0, entry);
        self.list.truncate(MOST);
        let lines: Vec<String> = self.list.iter().map(|known| known.folder.display().to_string()).collect();
        if let Some(file) = &self.file {
            // A list that can't be kept is none the next time: no design is lost by it.
            let _ = write_whole(file, format!("{}\n", lines.join("\n")).as_bytes(), Overwrite::Document);
        }
    }
}

/// A design with its title; `None` when it can't be read.
fn entry(path: &Path) -> Option<Recent> {
    let file = if path.is_dir() { path.join(super::open::FILE) } else { path.to_owned() };
    let text = String::from_utf8(read_bounded(&file, LARGEST_FILE).ok()?).ok()?;
    let title = read_design(&text, "").ok()?.title;
    let is_usual = file.file_name().is_some_and(|name| name == super::open::FILE);
    let folder = if is_usual { file.parent()?.to_owned() } else { file };
    Some(Recent { title, folder })
}

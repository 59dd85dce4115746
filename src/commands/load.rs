//! From the path of a design to the design with its art, every problem said at once.

use std::fmt::Display;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use sha2::{Digest, Sha256};

use super::{CommandError, Today};
pub(super) use crate::art::LARGEST_ART;
use crate::art::{Shelf, load_art};
use crate::design::{Design, LARGEST_FILE, art_problems, read_design, revision};
use crate::files::{inside, read_bounded};
use crate::proof::approval::Record;

/// The file that holds a design, in its folder.
pub(super) const FILE: &str = "cake.toml";

/// A design with everything it needs.
#[derive(Debug)]
pub(super) struct Loaded {
    pub design: Arc<Design>,
    pub shelf: Arc<Shelf>,
    /// As it is printed.
    pub revision: String,
    /// All of its digits.
    pub whole_revision: String,
    /// The design's file.
    pub file: PathBuf,
    /// What was approved of it.
    pub record: Record,
}

impl Loaded {
    /// The folder that the design's file lies in.
    pub(super) fn folder(&self) -> &Path {
        folder_of(&self.file)
    }

    /// Every file of the design, the document first, as it was when it was loaded.
    pub(super) fn files(&self) -> Result<Vec<(String, Vec<u8>)>, CommandError> {
        let changed =
            |path: &Path| CommandError::Words(format!("{}: it was changed just now; try again", path.display()));
        let text = read_bounded(&self.file, LARGEST_FILE)?;
        let read = std::str::from_utf8(&text).ok().and_then(|text| read_design(text, "").ok());
        if read.as_ref() != Some(&*self.design) {
            return Err(changed(&self.file));
        }
        let mut files = vec![(FILE.to_owned(), text)];
        for (path, art) in self.shelf.iter() {
            let place = inside(self.folder(), path)?;
            let bytes = read_bounded(&place, LARGEST_ART)?;
            if Sha256::digest(&bytes)[..] != art.digest() {
                return Err(changed(&place));
            }
            files.push((path.to_owned(), bytes));
        }
        Ok(files)
    }
}

/// The folder that a file lies in.
fn folder_of(file: &Path) -> &Path {
    file.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or_else(|| Path::new("."))
}

/// Loads a design from its folder or its file.
pub(super) fn load(path: &Path) -> Result<Loaded, CommandError> {
    let file = if path.is_dir() { path.join(FILE) } else { path.to_owned() };
    let shown = file.display().to_string();
    let bytes = read_bounded(&file, LARGEST_FILE)?;
    let Ok(text) = String::from_utf8(bytes) else {
        let message = format!("{shown}: this file is not text (UTF-8); a design is a text file, save it as one");
        return Err(CommandError::Words(message));
    };
    let design = read_design(&text, &shown)?;
    let (shelf, wrong) = load_art(folder_of(&file), design.art_paths());
    if !wrong.is_empty() {
        let wrong: Vec<(&str, &dyn Display)> =
            wrong.iter().map(|(path, reason)| (path.as_str(), reason as &dyn Display)).collect();
        return Err(art_problems(&shown, &text, &wrong).into());
    }
    let revision = revision(&design, &shelf.digests());
    Ok(Loaded {
        design: Arc::new(design),
        shelf: Arc::new(shelf),
        revision: revision.to_string(),
        whole_revision: revision.in_full(),
        record: Record::beside(folder_of(&file))?,
        file,
    })
}

impl Loaded {
    /// The same design, planned on a day that the person named; its revision is still that of the design.
    pub(super) fn on(self, today: &Today) -> Self {
        let Some(day) = today.today else { return self };
        let mut design = Design::clone(&self.design);
        design.order.planned_on = Some(day);
        Self { design: Arc::new(design), ..self }
    }
}

//! From the path of a design to the design with its art, every problem said at once.

use std::fmt::Display;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::CommandError;
use crate::art::{Art, Shelf};
use crate::design::{Design, LARGEST_FILE, art_problems, read_design, revision};
use crate::files::{inside, read_bounded};

/// The file that holds a design, in its folder.
const FILE: &str = "cake.toml";
/// Largest file of art that is read, bytes.
const LARGEST_ART: u64 = 256 << 20;

/// A design with everything it needs.
#[derive(Debug)]
pub(super) struct Loaded {
    pub design: Arc<Design>,
    pub shelf: Arc<Shelf>,
    pub revision: String,
}

/// Loads a design from its folder or its file.
pub(super) fn load(path: &Path) -> Result<Loaded, CommandError> {
    let file = if path.is_dir() { path.join(FILE) } else { path.to_owned() };
    let folder = file.parent().map_or_else(|| PathBuf::from("."), Path::to_owned);
    let shown = file.display().to_string();
    let bytes = read_bounded(&file, LARGEST_FILE)?;
    let Ok(text) = String::from_utf8(bytes) else {
        let message = format!("{shown}: this file is not text (UTF-8); a design is a text file, save it as one");
        return Err(CommandError::Words(message));
    };
    let design = read_design(&text, &shown)?;
    let shelf = load_art(&design, &folder).map_err(|wrong| {
        let wrong: Vec<(&str, &dyn Display)> =
            wrong.iter().map(|(path, reason)| (path.as_str(), reason as &dyn Display)).collect();
        art_problems(&shown, &text, &wrong)
    })?;
    let digests = shelf.iter().map(|(path, art)| (path.to_owned(), art.digest())).collect();
    let revision = revision(&design, &digests).to_string();
    Ok(Loaded { design: Arc::new(design), shelf: Arc::new(shelf), revision })
}

/// Reads all art; everything that is wrong with any of it, by path.
fn load_art(design: &Design, folder: &Path) -> Result<Shelf, Vec<(String, String)>> {
    let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    let mut shelf = Shelf::default();
    let mut wrong = Vec::new();
    for path in design.art_paths() {
        match read_art(folder, path) {
            Ok(art) => shelf.insert(path, Arc::new(art)),
            Err(reason) => wrong.push((path.to_owned(), reason)),
        }
    }
    if wrong.is_empty() { Ok(shelf) } else { Err(wrong) }
}

fn read_art(folder: &Path, path: &str) -> Result<Art, String> {
    let place = inside(folder, path).map_err(|error| error.to_string())?;
    let bytes = read_bounded(&place, LARGEST_ART).map_err(|error| error.to_string())?;
    Art::read(&bytes, path).map_err(|error| error.to_string())
}

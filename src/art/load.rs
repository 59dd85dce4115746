//! A design's art, read from its folder.

use std::path::Path;
use std::sync::Arc;

use super::{Art, Shelf};
use crate::files::{inside, read_bounded};

/// Largest file of art that is read, bytes.
pub const LARGEST_ART: u64 = 256 << 20;

/// Reads art by its paths in a folder. What can't be read is told by path and is missing on the shelf.
#[must_use]
pub fn load_art<'a>(folder: &Path, paths: impl IntoIterator<Item = &'a str>) -> (Shelf, Vec<(String, String)>) {
    let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    let mut shelf = Shelf::default();
    let mut wrong = Vec::new();
    for path in paths {
        match read_art(folder, path) {
            Ok(art) => shelf.insert(path, Arc::new(art)),
            Err(reason) => wrong.push((path.to_owned(), reason)),
        }
    }
    (shelf, wrong)
}

fn read_art(folder: &Path, path: &str) -> Result<Art, String> {
    let place = inside(folder, path).map_err(|error| error.to_string())?;
    let bytes = read_bounded(&place, LARGEST_ART).map_err(|error| error.to_string())?;
    Art::read(&bytes, path).map_err(|error| error.to_string())
}

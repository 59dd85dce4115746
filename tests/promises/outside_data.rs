//! What the comparisons in `tests/outside` read: our figures beside the shapes they were worked out from.
//!
//! Written into Cargo's folder for tests, under `outside/`; `scripts/outside` runs this first. Places are plain numbers
//! in mm unless a name says otherwise; nothing is rounded.

mod documents;
mod icons;
mod meshes;
mod overlaps;
mod pictures;
mod regions;
mod shapes;
mod sheets;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use glam::DVec2;
use serde_json::{Value, json};
use tierproof::art::{Art, Shelf};
use tierproof::design::{Design, read_design};
use tierproof::files::{Overwrite, write_whole};

/// The folder for a comparison's data, made anew.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("outside").join(name);
    if folder.exists() {
        fs::remove_dir_all(&folder).expect("old data");
    }
    fs::create_dir_all(&folder).expect("folder");
    folder
}

fn save(folder: &Path, name: &str, value: &Value) {
    save_bytes(folder, name, &serde_json::to_vec(value).expect("json"));
}

fn save_bytes(folder: &Path, name: &str, bytes: &[u8]) {
    write_whole(&folder.join(name), bytes, Overwrite::Document).unwrap_or_else(|error| panic!("{error}"));
}

fn ring(points: &[DVec2]) -> Value {
    points.iter().map(|at| json!([at.x, at.y])).collect()
}

/// Every design that comes with the program, by name: the demos, then the starters.
fn designs() -> Vec<(String, PathBuf)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found: Vec<(String, PathBuf)> = ["assets-demo", "assets/starters"]
        .iter()
        .flat_map(|shelf| fs::read_dir(root.join(shelf)).expect("shelf"))
        .map(|entry| entry.expect("entry").path())
        .filter(|path| path.join("cake.toml").exists())
        .map(|path| (path.file_name().expect("name").to_string_lossy().into_owned(), path))
        .collect();
    found.sort();
    found
}

fn text_of(folder: &Path) -> String {
    fs::read_to_string(folder.join("cake.toml")).expect("text")
}

/// A design with all its art.
fn load(folder: &Path) -> (Arc<Design>, Arc<Shelf>) {
    let design = read_design(&text_of(folder), "cake.toml").unwrap_or_else(|problems| panic!("{problems}"));
    let mut shelf = Shelf::default();
    for path in design.art_paths() {
        let bytes = fs::read(folder.join(path)).expect("art");
        shelf.insert(path, Arc::new(Art::read(&bytes, path).expect("readable art")));
    }
    (Arc::new(design), Arc::new(shelf))
}

//! The house test: the source read as text, against the walls it is built within.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// Folders of src/, from the ground up: each may import only from those before it.
const ORDER: [&str; 18] = [
    "measure", "findings", "files", "art", "design", "shapes", "cake", "wraps", "sheets", "kitchen", "checks", "proof",
    "packs", "edits", "panels", "scene", "window", "commands",
];
/// Walls beyond the order: from a folder, never into another.
const APART: [(&str, &str); 5] =
    [("scene", "packs"), ("edits", "packs"), ("scene", "edits"), ("scene", "panels"), ("panels", "packs")];
/// Crates that live in some folders only.
const HOMES: [(&str, &[&str]); 20] = [
    ("toml_edit", &["design"]),
    ("krilla", &["packs"]),
    ("gltf_json", &["packs"]),
    ("base64", &["packs"]),
    ("zip", &["packs"]),
    ("csv", &["measure", "packs"]),
    ("bevy", &["scene", "window"]),
    ("bevy_egui", &["window"]),
    ("wgpu", &["scene"]),
    ("egui", &["panels", "window"]),
    ("egui_file_dialog", &["panels"]),
    ("clap", &["commands"]),
    ("resvg", &["art"]),
    ("clipper2_rust", &["art"]),
    ("image", &["art"]),
    ("harfrust", &["art"]),
    ("skrifa", &["art"]),
    ("unicode_bidi", &["art"]),
    ("earcut", &["shapes"]),
    ("parry3d_f64", &["shapes", "wraps", "edits"]),
];
const MOST_CODE: usize = 400;
const MOST_LINES: usize = 500;

/// A source file: its path below the package, its folder below src/, its text without its test module.
struct Source {
    path: String,
    folder: String,
    code: String,
    lines: usize,
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn files_below(folder: &Path, found: &mut Vec<PathBuf>) {
    let mut entries: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            files_below(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
}

fn sources() -> Vec<Source> {
    let mut found = Vec::new();
    files_below(&root().join("src"), &mut found);
    let read = |path: PathBuf| {
        let text = fs::read_to_string(&path).unwrap();
        let below = path.strip_prefix(root()).unwrap().display().to_string();
        let folder = below.split('/').nth(1).unwrap().trim_end_matches(".rs").to_owned();
        // Tests stand at the end of a file, or in a file of their own.
        let code = text.split("\n#[cfg(test)]\nmod tests {").next().unwrap().to_owned();
        Source { path: below, folder, code, lines: text.lines().count() }
    };
    found.into_iter().map(read).filter(|source| !is_test_file(&source.path)).collect()
}

/// Files that are compiled for tests only.
fn is_test_file(path: &str) -> bool {
    ["tests.rs", "laws.rs", "trial.rs", "_test.rs"].iter().any(|ending| path.ends_with(ending))
}

fn rank(folder: &str) -> Option<usize> {
    ORDER.iter().position(|known| *known == folder)
}

/// Lines of code: neither blank nor comment.
fn code_lines(source: &Source) -> impl Iterator<Item = &str> {
    source.code.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with("//"))
}

#[test]
fn imports_go_one_way() {
    let mut wrong = Vec::new();
    for source in sources() {
        let Some(own) = rank(&source.folder) else { continue };
        for line in code_lines(&source) {
            for named in line.split("crate::").skip(1) {
                let named: String = named.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
                let above = rank(&named).is_some_and(|other| other > own);
                let apart = APART.contains(&(source.folder.as_str(), named.as_str()));
                if above || apart {
                    wrong.push(format!("{}: {line}", source.path));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "imports against the order {ORDER:?}:\n{}", wrong.join("\n"));
}

#[test]
fn foreign_crates_stay_in_their_folders() {
    let mut wrong = Vec::new();
    for source in sources() {
        for line in code_lines(&source) {
            for (name, homes) in HOMES {
                let uses = line.contains(&format!("{name}::")) && !line.contains(&format!("_{name}::"));
                let inner = line.contains(&format!("::{name}::")) || line.contains("crate::");
                if uses && !inner && !homes.contains(&source.folder.as_str()) && source.folder != "main" {
                    wrong.push(format!("{}: {line}", source.path));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "foreign crates outside their folders:\n{}", wrong.join("\n"));
}

#[test]
fn files_stay_short() {
    let long =
        sources().into_iter().filter(|source| code_lines(source).count() > MOST_CODE || source.lines > MOST_LINES);
    let long: Vec<String> = long.map(|source| format!("{}: {} lines", source.path, source.lines)).collect();
    assert!(long.is_empty(), "over {MOST_CODE} lines of code or {MOST_LINES} in all:\n{}", long.join("\n"));
}

#[test]
fn nothing_is_imported_by_the_handful() {
    let mut wrong = Vec::new();
    for source in sources() {
        wrong.extend(
            code_lines(&source).filter(|line| line.contains("::*")).map(|line| format!("{}: {line}", source.path)),
        );
    }
    assert!(wrong.is_empty(), "glob imports:\n{}", wrong.join("\n"));
}

#[test]
fn every_folder_is_on_the_map() {
    let map = fs::read_to_string(root().join("src/lib.rs")).unwrap();
    let developers = fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let folders: BTreeSet<String> =
        sources().into_iter().map(|source| source.folder).filter(|f| rank(f).is_some()).collect();
    for folder in ORDER {
        assert!(folders.contains(folder), "the order names '{folder}', src/ has none");
        assert!(map.contains(&format!("`{folder}`")), "lib.rs does not name '{folder}'");
        assert!(developers.contains(&format!("{folder}/")), "DEVELOPERS.md does not name '{folder}/'");
    }
}

#[test]
fn every_kind_of_piece_has_its_file_at_every_stage() {
    let pieces: Vec<PathBuf> = {
        let mut found = Vec::new();
        files_below(&root().join("src/design/model/pieces"), &mut found);
        found.into_iter().filter(|path| !path.ends_with("mod.rs")).collect()
    };
    assert_eq!(pieces.len(), 9);
    let mut demos = String::new();
    for demo in fs::read_dir(root().join("assets-demo")).unwrap().map(|entry| entry.unwrap().path()) {
        demos += &fs::read_to_string(demo.join("cake.toml")).unwrap_or_default();
    }
    let guide = fs::read_to_string(root().join("docs/design-file.md")).unwrap();
    for path in pieces {
        let kind = path.file_stem().unwrap().to_str().unwrap().to_owned();
        let making = root().join("src/cake/pieces").join(&kind);
        assert!(making.with_extension("rs").exists() || making.is_dir(), "cake/pieces has no '{kind}'");
        assert!(guide.contains(&kind), "docs/design-file.md does not tell of '{kind}'");
        assert!(demos.contains(&format!("kind = \"{kind}\"")), "no demo has a '{kind}'");
    }
}

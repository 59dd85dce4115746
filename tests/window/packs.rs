//! The proof pack as it is called: the same bytes each time, and what is said of input that can't be used.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use tierproof::files::{Overwrite, write_whole};

use super::photograph::no_other_engine;

const PLAIN: &str = "title = \"t\"\nunit = \"in\"\n[[tier]]\nname = \"base\"\nsize = 6\nheight = 4\npaste = \"1/8\"\n";

/// A folder with a design of this text.
fn design(text: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    write_whole(&folder.path().join("cake.toml"), text.as_bytes(), Overwrite::Document).unwrap();
    folder
}

/// `proof` of the design in a folder, into a place in that folder.
fn proof(folder: &Path, out: &str) -> Output {
    let _turn = no_other_engine();
    let words = [Path::new("proof"), folder, Path::new("-o"), &folder.join(out)];
    Command::new(env!("CARGO_BIN_EXE_tierproof")).args(words).output().unwrap()
}

fn errors(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

/// Every file of a pack with its bytes, but the markers.
fn files(pack: &Path) -> Vec<(String, Vec<u8>)> {
    let name = |entry: &fs::DirEntry| entry.file_name().into_string().unwrap();
    let entries = fs::read_dir(pack).unwrap().map(Result::unwrap).filter(|entry| name(entry) != ".tierproof");
    let mut files: Vec<_> = entries.map(|entry| (name(&entry), fs::read(entry.path()).unwrap())).collect();
    files.sort();
    files
}

#[test]
fn the_same_design_gives_the_same_bytes() {
    // A name with characters that no bundled font has: the pack is made, and a finding names them.
    let folder = design(&PLAIN.replace("[[tier]]", "[order]\nfor = \"Café 漢字\"\n[[tier]]"));
    let made = |out: &str| {
        let output = proof(folder.path(), out);
        assert!(output.status.code().is_some_and(|code| code < 2), "{}", errors(&output));
        files(&folder.path().join(out))
    };
    let (one, other) = (made("one"), made("other"));
    let names: Vec<&str> = one.iter().map(|(name, _)| name.as_str()).collect();
    for name in ["proof.pdf", "proof.html", "cake.glb", "hero.png", "measurements.json"] {
        assert!(names.contains(&name), "{names:?}");
    }
    for ((name, one), (same, other)) in one.iter().zip(&other) {
        assert!(name == same && one == other, "{name} differs");
    }
    let facts = &one.iter().find(|(name, _)| name == "measurements.json").unwrap().1;
    let facts = std::str::from_utf8(facts).unwrap();
    assert!(facts.contains("characters-missing") && facts.contains("漢"), "{facts}");
}

#[test]
fn names_that_no_page_holds_are_refused() {
    for (text, phrase) in [("x".repeat(5000), "2000 characters"), ("a\\u0007b".to_owned(), "one line")] {
        let folder = design(&PLAIN.replace("[[tier]]", &format!("[order]\nfor = \"{text}\"\n[[tier]]")));
        let output = proof(folder.path(), "pack");
        assert!(output.status.code() == Some(2) && errors(&output).contains(phrase), "{}", errors(&output));
        assert!(!folder.path().join("pack").exists());
    }
}

#[test]
fn a_folder_that_is_a_file_and_files_of_others_are_left_alone() {
    let folder = design(PLAIN);
    let output = proof(folder.path(), "cake.toml");
    assert!(output.status.code() == Some(2) && errors(&output).contains("this is a file"), "{}", errors(&output));
    let pack = folder.path().join("pack");
    fs::create_dir(&pack).unwrap();
    fs::copy(folder.path().join("cake.toml"), pack.join("proof.pdf")).unwrap();
    let output = proof(folder.path(), "pack");
    assert!(output.status.code() == Some(2) && errors(&output).contains("proof.pdf"), "{}", errors(&output));
    assert_eq!(files(&pack), [("proof.pdf".to_owned(), PLAIN.as_bytes().to_owned())]);
}
